"""A price with its range, a promise date and an authority in words: for the screens and the command line alike."""

from collections.abc import Iterable
from datetime import date

from shopcli.columns import shown
from shopcli.orderwords import pairs_of_hands
from shopcli.present import day, hours, money, qty
from shopcli.shop.amounts import from_minor
from shopcli.shop.authority import AuthorityView
from shopcli.shop.money import Line as BillLine
from shopcli.shop.price_views import PriceView, PromiseView, Slip
from shopcli.shop.taxwords import with_tax, without_tax
from shopcli.store.reads.ahead import CardAhead
from shopcli.store.reads.made_offers import OfferView
from shopcli.where_words import Block, Line

MOST_SLIPS = 6
SOME = 50  # of 100: a date fewer keep is no promise
SURE_OF = 85
CERTAIN = 99  # of 100: nobody at a counter says more


def span(usual_min: float, most_min: float) -> str:
    """Write an expected time with its range.

    Examples
    --------
    >>> span(62, 102)
    '1 h 02, at most 1 h 42'
    """
    return f"{hours(round(usual_min) * 60)}, at most {hours(round(most_min) * 60)}"


def hours_words(view: PriceView) -> str:
    """Write the hours expected as every screen has them, and what is likely by the shop's past where that is another."""
    expected = f"work {hours(view.expected_min * 60)} expected"
    if view.usual_min == view.expected_min:
        return expected
    return f"{expected}, likely {hours(view.usual_min * 60)} here"


def foot_words(view: PriceView) -> str:
    """Write hours and price of jobs in one line."""
    usual, most = money(view.usual.with_vat, view.currency), money(view.most.with_vat, view.currency)
    return f"{hours_words(view)}: about {usual}, at most {most} {with_tax(view.tax_word)}"


def short_words(view: PriceView, limit_minor: int) -> str:
    """Write what jobs usually come to where that is more than a limit, [minor units]; else nothing."""
    if from_minor(limit_minor) >= view.usual.with_vat:
        return ""
    return f"the jobs come to about {money(view.usual.with_vat, view.currency)} {with_tax(view.tax_word)}"


def price_blocks(view: PriceView) -> tuple[Block, ...]:
    """Return what jobs would cost, line by line, and what that does not know."""
    jobs: list[Line] = []
    for job in view.jobs:
        jobs.append((shown(f"{job.title}: {span(job.usual_min, job.most_min)}"), ""))
        jobs.append((shown(job.says), "quiet"))
    parts = tuple((shown(_priced(line, view)), "") for line in view.lines if line.kind != "labour")
    found = [Block("Price", _sums(view)), Block("Hours of work", tuple(jobs))]
    if parts:
        found.append(Block("Parts and the like", parts, side=True))
    if view.notes:
        found.append(
            Block("Not in it", tuple((shown(f"! {note}"), "open") for note in view.notes), side=True)
        )
    return tuple(found)


def _sums(view: PriceView) -> tuple[Line, ...]:
    usual, most = money(view.usual.with_vat, view.currency), money(view.most.with_vat, view.currency)
    return (
        (f"about {usual}, at most {most} {with_tax(view.tax_word)}", "next"),
        ("four in five such jobs stay below the most", "quiet"),
        (f"{hours_words(view)}, at most {hours(view.most_min * 60)}", ""),
    )


def _priced(line: BillLine, view: PriceView) -> str:
    what = f"{line.description}, {qty(line.qty)} {line.unit}"
    return f"{what}: {money(line.net, view.currency)} {without_tax(view.tax_word)}"


def promise_blocks(view: PromiseView) -> tuple[Block, ...]:
    """Return when it could be ready, what that rests on, and who would slip."""
    cards = f"{view.cards} {'card' if view.cards == 1 else 'cards'} before it"
    keep = (
        kept(SURE_OF) if view.sure == view.usual else f"the first is {kept(SURE_OF)}, the second {kept(SOME)}"
    )
    ready: list[Line] = [
        (_days(view.sure, view.usual, view.today), "next"),
        (f"{keep}; {cards}, {pairs_of_hands(view.hands)}", "quiet"),
    ]
    if view.waits:
        ready = [
            (shown(f"! no day is sure: {view.waits}"), "bad"),
            (f"if it went on now: {ready[0][0]}", ""),
            ready[1],
        ]
    if view.wanted is not None and view.chance is not None:
        kind = "bad" if view.chance < SOME else "open" if view.chance < SURE_OF else ""
        ready.append((f"by {a_day(view.wanted, view.today)}: {kept(view.chance)}", kind))
        ready += _slipping(view.wanted_slips, view.today, "that day makes late")
    squeezed: list[Line] = [
        (_days(view.squeezed_sure, view.squeezed_usual, view.today), ""),
        *(_slipping(view.slips, view.today, "it makes late") or [("nobody's promise slips", "quiet")]),
    ]
    found = [Block("Ready", tuple(ready)), Block("Put before all others", tuple(squeezed))]
    if view.late:
        found.append(Block("Late as it is", tuple(_slipping(view.late, view.today, "")), side=True))
    if view.notes:
        found.append(Block("Mind", tuple((shown(f"! {n}"), "open") for n in view.notes), side=True))
    return tuple(found)


def kept(of_100: int) -> str:
    """Say how likely a date is kept, by how many of a hundred such queues keep it.

    Examples
    --------
    >>> kept(100), kept(85), kept(0)
    ('as good as certain', 'kept 85 times in 100', 'out of reach')
    """
    if of_100 >= CERTAIN:
        return "as good as certain"
    return f"kept {of_100} times in 100" if of_100 else "out of reach"


def _days(sure: date | None, usual: date | None, today: date) -> str:
    luck = f", with luck {a_day(usual, today)}" if usual != sure else ""
    return f"sure by {a_day(sure, today)}{luck}"


def a_day(d: date | None, today: date) -> str:
    """Write a day ahead, with its year where that is another.

    Examples
    --------
    >>> a_day(date(2027, 1, 4), date(2026, 11, 25)), a_day(None, date(2026, 11, 25))
    ('Mon 4 Jan 2027', 'no day within a year')
    """
    if d is None or d == date.max:
        return "no day within a year"
    return day(d) if d.year == today.year else f"{day(d)} {d.year}"


def _slipping(slips: Iterable[Slip], today: date, what: str) -> list[Line]:
    all_of_them = list(slips)
    lines: list[Line] = [
        (shown(f"! {f'{what}: ' if what else ''}{slip_words(slip, today)}"), "bad")
        for slip in all_of_them[:MOST_SLIPS]
    ]
    rest = len(all_of_them) - len(lines)
    return [*lines, (f"and {rest} more", "bad")] if rest > 0 else lines


def slip_words(slip: Slip, today: date) -> str:
    """Say which card slips: whose, from which promise to which sure date."""
    who = ", ".join(filter(None, (slip.customer, slip.phone)))
    return (
        f"{slip.number} {slip.registration} ({who}), promised {a_day(slip.promised, today)},"
        f" sure by {a_day(slip.after, today)}"
    )


def authority_words(view: AuthorityView, currency: str) -> str:
    """Say how a card stands to what was allowed; empty while it stays within."""
    if view.authority is None or not view.level:
        return ""
    limit = money(view.authority, currency)
    if view.level == "passed":
        return f"past the authority: {money(view.spent, currency)} spent of {limit}"
    if view.level == "will pass":
        return f"heading past the authority: about {money(view.usual, currency)} of {limit}"
    return f"may pass the authority: up to {money(view.most, currency)} of {limit}"


LOUD = {"passed": "bad", "will pass": "bad", "may pass": "open", "": ""}


def money_block(view: AuthorityView | None, currency: str) -> Block:
    """Return what a card has cost, where it is heading, and how far it may go."""
    if view is None:
        return Block("Money", (("Nothing is to be done on it any more.", "quiet"),))
    usual, most = money(view.usual, currency), money(view.most, currency)
    heading = f"at the end about {usual}, at most {most} {with_tax(view.tax_word)}"
    lines: list[Line] = [(heading, "next"), (f"{money(view.spent, currency)} is on the bill now", "")]
    if view.surcharges:
        lines.append(
            (f"{money(view.surcharges, currency)} for exchange units besides, until the old ones go back", "")
        )
    if view.authority is None:
        return Block("Money", (*lines, ("no limit is written", "quiet")))
    by = ", ".join(filter(None, (f" by {view.by}" if view.by else "", view.how)))
    lines.append((shown(f"{money(view.authority, currency)} was allowed{by}"), ""))
    if words := authority_words(view, currency):
        lines.append((f"! {words}", LOUD[view.level]))
    return Block("Money", tuple(lines))


def offer_words(view: OfferView, today: date, currency: str) -> Line:
    """Say an offer in a line, and how it stands."""
    sums = f"{money(view.usual, currency)} to {money(view.most, currency)}"
    state = view.state(today)
    if state == "open":
        return shown(f"{view.number}: {sums}, holds until {a_day(view.valid_until, today)}"), ""
    if state == "run out":
        return shown(f"{view.number}: {sums}, ran out {a_day(view.valid_until, today)}"), "quiet"
    amount = f" up to {money(view.amount, currency)}" if view.amount is not None else ""
    said = f"{state}{amount} by {view.said_by}, {view.how}, {a_day(view.answered, today)}"
    return shown(f"{view.number}: {sums}, {said}{f': {view.reason}' if view.reason else ''}"), "quiet"


def card_blocks(seen: CardAhead, today: date, currency: str) -> tuple[Block, ...]:
    """Return what is to come of a card: money, promise, offers."""
    ready = promise_blocks(seen.promise) if seen.promise is not None else ()
    offers = tuple(offer_words(o, today, currency) for o in seen.offers)
    return (
        money_block(seen.money, currency),
        *ready,
        Block("Offers", offers or (("No offer was made.", "quiet"),), side=True),
    )


def as_text(blocks: Iterable[Block]) -> str:
    """Return blocks as plain text."""
    lines: list[str] = []
    for block in blocks:
        lines += [*([""] if lines else []), block.title, *(f"  {text}" for text, _kind in block.lines)]
    return "\n".join(lines) + "\n"
