"""The Monday list in words: the one act that mends it with whom to ring, and below it why it stands where it does."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from shopcli.papers.week.model import Head, Line, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import TREND, Seen
from shopcli.shop import week_to_do as rules
from shopcli.shop.week_quality_views import OfCard
from shopcli.shop.week_to_do import CAME_BACK, LISTED, LOSES, UNCLOCKED, UNPAID
from shopcli.shop.week_views import (
    AUTHORITY,
    FETCHING,
    OTHER,
    OUTWORK,
    PARTS,
    Period,
    ToDo,
    monday_of,
)

TOP = 3
READING = "Reading the records …"
NOTHING_TO_DO = "Nothing stands out: nothing is promised, nobody waits longer than usual."
BEYOND_WORDS = "past what was authorised"
OWNERS = frozenset({UNPAID, LISTED, LOSES, UNCLOCKED})
"""Lines of the list that speak of money or of somebody's hours: for the owner's eyes."""


def for_others(lines: Iterable[ToDo]) -> tuple[ToDo, ...]:
    """Return the lines as everybody but the owner sees them: no money, nobody's hours."""
    return tuple(replace(one, amount=None) for one in lines if one.kind not in OWNERS)


ORDER = "First what was promised and is due, then money that lies about, what stands still, what goes wrong again and again."


def todo_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return the list."""
    heads = (Head("", "nth"), Head("what to do first", "to_do", right=False, fills=True, wraps=True))
    lines = tuple(
        Line(
            (pen.text(str(nth)), pen.text(todo_words(one, pen), one.key)),
            strong=nth <= TOP,
            note=why_words(one, pen),
            period=_period(seen, one),
        )
        for nth, one in enumerate(seen.todo, 1)
    )
    return Sheet(
        "todo",
        "On Monday",
        heads,
        lines,
        (ORDER,) if lines else (),
        empty=NOTHING_TO_DO if seen.whole else READING,
    )


def _period(seen: Seen, one: ToDo) -> Period | None:
    """Return the weeks a line speaks of where these are not the period's."""
    this = Period(monday_of(seen.today))
    if one.kind in {LOSES, CAME_BACK}:
        return Period(this.until - timedelta(weeks=TREND), TREND)
    return this.before if one.kind == UNCLOCKED else None


def many(count: int, one: str, more: str = "") -> str:
    """Return so many of something.

    Examples
    --------
    >>> many(1, "card"), many(3, "card"), many(2, "has", "have")
    ('1 card', '3 cards', '2 have')
    """
    return f"{count} {one if count == 1 else more or one + 's'}"


def todo_words(one: ToDo, pen: Pen) -> str:
    """Return what to do."""
    if one.card is not None and one.kind in OF_CARD:
        return OF_CARD[one.kind](one.card)
    return WORDS[one.kind](one, pen)


def why_words(one: ToDo, pen: Pen) -> str:
    """Return why: the promise, for how long, how much; and how many like it are not shown."""
    words = [*_promise_words(one, pen), *_since_words(one), *_sum_words(one, pen)]
    text = "; ".join(words)
    said = f"{text[:1].upper()}{text[1:]}." if text else ""
    return " ".join(filter(None, (said, _more(one))))


def _more(one: ToDo) -> str:
    if not one.more:
        return ""
    if one.kind == UNPAID:
        return f"{many(one.more, 'bill')} of others besides."
    return f"{many(one.more, 'less pressing one', 'less pressing ones')} like these besides."


# A card ---------------------------------------------------------------------------------------------------


def car_of(card: OfCard) -> str:
    """Return a car by its plate, with what it is and its card."""
    return f"{card.registration} ({', '.join(filter(None, (card.car, card.number)))})"


def ring(name: str, phone: str) -> str:
    """Return whom to ring, with the number.

    Examples
    --------
    >>> ring("Ada", "01632 960001"), ring("Ada", ""), ring("", "")
    ('Ring Ada, 01632 960001', 'Ring Ada (no number is written down)', 'Ring whoever it comes from')
    """
    if not name:
        return "Ring whoever it comes from"
    return f"Ring {name}, {phone}" if phone else f"Ring {name} (no number is written down)"


def _tell(card: OfCard) -> str:
    """Return who has to be told another day, where the promise was broken and the act is not a word to them already."""
    if not card.late:
        return ""
    words = ring(card.customer, card.phone)
    return f"; {words[:1].lower()}{words[1:]}, and name another day"


def _customer(card: OfCard, words: str) -> str:
    return f"{ring(card.customer, card.phone)}: {words}"


def _supplier(card: OfCard) -> str:
    awaited = card.awaited
    if awaited is None:
        return f"Find out what {car_of(card)} waits for and ask for it: {card.what}{_tell(card)}."
    asked = f"{ring(awaited.who, awaited.phone)}: does it come in time?"
    return f"{asked} {awaited.what}, for {car_of(card)}{_tell(card)}."


OF_CARD: Mapping[str, Callable[[OfCard], str]] = {
    rules.READY: lambda c: _customer(c, f"{car_of(c)} is ready. Bill it and hand it over."),
    FETCHING: lambda c: _customer(c, f"{car_of(c)} is done and billed, and waits to be fetched."),
    rules.STOP: lambda c: _customer(c, f"ask what is to be done on {car_of(c)}: {c.what}."),
    rules.BEYOND: lambda c: _customer(c, f"{car_of(c)} is {BEYOND_WORDS}; ask before more is done."),
    AUTHORITY: lambda c: _customer(c, f"ask for the go-ahead for {car_of(c)}: {c.what}."),
    PARTS: _supplier,
    OUTWORK: _supplier,
    rules.ARRIVED: lambda c: f"Go on with {car_of(c)}: its parts are here, {c.what}{_tell(c)}.",
    OTHER: lambda c: f"Look at what holds {car_of(c)}: {c.what}{_tell(c)}.",
    rules.GIVEN: lambda c: f"Put somebody on {car_of(c)}: authority is given, nobody is on it{_tell(c)}.",
    rules.HANDS: lambda c: f"Put somebody on {car_of(c)}: it is begun and nobody is on it{_tell(c)}.",
    rules.BEGIN: lambda c: (
        f"Begin {car_of(c)}{_tell(c)}."
        if c.late or c.pressing
        else _customer(c, f"say when {car_of(c)} is begun.")
    ),
    rules.FINISH: lambda c: f"See that {car_of(c)} is finished{_tell(c)}.",
}


def _promise_words(one: ToDo, pen: Pen) -> list[str]:
    card = one.card
    if card is None or card.promised is None:
        return []
    words = "the promise was" if card.late else "promised for"
    found = [f"{words} {pen.day_of(card.promised)}"]
    if card.awaited is not None and card.awaited.due is not None:
        found.append(f"due to come {pen.day_of(card.awaited.due)}")
    return found


def _since_words(one: ToDo) -> list[str]:
    if one.kind == UNPAID:
        return [f"{many(one.days or 0, 'day')} past due, the oldest"]
    if one.kind not in OF_CARD or not one.days:
        return []
    word = {rules.READY: "ready", FETCHING: "ready", rules.BEGIN: "booked"}.get(one.kind, "stands so")
    return [f"{word} for {many(one.days, 'day')}"]


def _sum_words(one: ToDo, pen: Pen) -> list[str]:
    if one.amount is None or one.kind not in {rules.READY, rules.BEYOND}:
        return []
    if one.kind == rules.READY:
        return [f"{pen.money(one.amount).said} to be billed, {pen.without_tax}"]
    return [
        f"it has come to {of_authority(one.amount, one.card.limit if one.card is not None else None, pen)}"
    ]


def of_authority(amount: Decimal, limit: Decimal | None, pen: Pen) -> str:
    """Return what a card has come to of what was authorised."""
    return f"{pen.money(amount).said} of {pen.money(limit).said}, {pen.with_tax}"


# What is no card ------------------------------------------------------------------------------------------


def _unpaid(one: ToDo, pen: Pen) -> str:
    owes = one.card
    if owes is None:
        return f"Ask for {pen.money(one.amount).said} that is long overdue."
    bills = f"{owes.what} bills" if owes.what not in {"", "1"} else f"bill {owes.number}"
    return f"{ring(owes.customer, owes.phone)}: ask for {pen.money(one.amount).said}, {bills} long overdue."


def _back(one: ToDo, _pen: Pen) -> str:
    card = one.card
    if card is None:
        return f"Look at what came back for the {one.name}."
    return (
        f"Look yourself at {card.registration} ({card.number}): it came back for the {one.name}, "
        f"{many(one.days or 0, 'day')} after {card.what}."
    )


def _listed(one: ToDo, pen: Pen) -> str:
    way = "longer" if (one.factor or 0) > 1 else "shorter"
    return f"'{one.name}' takes {pen.times(one.factor).said} times what is listed ({one.count} cases): list it {way}."


def _loses(one: ToDo, pen: Pen) -> str:
    return f"'{one.name}' lost {pen.money(abs(one.amount or 0)).said} on {many(one.count, 'card')} in 13 weeks: price it anew."  # type: ignore[arg-type]


def _came_back(one: ToDo, _pen: Pen) -> str:
    return f"{many(one.count, 'car')} came back for the {one.name} in 13 weeks: look at what was done."


def _tools(one: ToDo, _pen: Pen) -> str:
    late = (
        ""
        if one.days is None
        else f", {many(one.days, 'day')} past it" + (", the oldest" if one.count > 1 else "")
    )
    return f"Send for calibration: {one.name}{late}. Nothing is tightened or judged by {'it' if one.count == 1 else 'them'} until then."


def _unclocked(one: ToDo, pen: Pen) -> str:
    return (
        f"Ask {one.name} about last week: {pen.part(one.factor).said} of the hours paid were clocked on cars."
    )


WORDS: Mapping[str, Callable[[ToDo, Pen], str]] = {
    UNPAID: _unpaid,
    rules.BACK: _back,
    LISTED: _listed,
    LOSES: _loses,
    CAME_BACK: _came_back,
    rules.TOOLS: _tools,
    UNCLOCKED: _unclocked,
}
