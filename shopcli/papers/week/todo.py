"""The Monday list in words: what it is, how much of it, and what to do first."""

from collections.abc import Callable, Mapping
from datetime import timedelta

from shopcli.papers.week.flow import WAIT_WORDS
from shopcli.papers.week.model import Head, Line, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import TREND, Seen
from shopcli.shop.week_to_do import CAME_BACK, LATE, LISTED, LOSES, TOOLS, UNCLOCKED, UNPAID
from shopcli.shop.week_views import FETCHING, Period, ToDo, monday_of

TOP = 3
DO = {
    "authority": "ring and ask",
    "parts": "ask the suppliers",
    "outwork": "ask when it comes back",
    "other": "look at the reasons",
    "bay": "take them in hand, or say when",
    FETCHING: "ring and say so",
}
OWNERS = frozenset({UNPAID, LISTED, LOSES, UNCLOCKED})
"""Lines of the list that speak of money or of somebody's hours: for the owner's eyes."""


def todo_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return the list."""
    heads = (Head("", "nth"), Head("worst first", "to_do", right=False, fills=True))
    lines = tuple(
        Line(
            (pen.text(str(nth)), pen.text(todo_words(one, pen), one.key)),
            strong=nth <= TOP,
            period=_period(seen, one),
        )
        for nth, one in enumerate(seen.todo, 1)
    )
    return Sheet(
        "todo", "On Monday", heads, lines, empty="Nothing stands out: nobody waits longer than usual."
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
    """Return a line of the list in words."""
    return WORDS.get(one.kind, _waits)(one, pen)


def _longest(one: ToDo) -> str:
    if one.days is None:
        return ""
    if one.count == 1:
        return f", for {many(one.days, 'day')}"
    return f", {many(one.days, 'day')} the longest"


def _waits(one: ToDo, _pen: Pen) -> str:
    word = "waits" if one.count == 1 else "wait"
    what = "to be fetched" if one.kind == FETCHING else f"for {WAIT_WORDS.get(one.kind, one.kind)}"
    return f"{many(one.count, 'card')} {word} {what}{_longest(one)}: {DO.get(one.kind, 'look at them')}."


def _late(one: ToDo, _pen: Pen) -> str:
    return f"{many(one.count, 'card')} past the day promised{_longest(one)}: ring and name another day."


def _unpaid(one: ToDo, pen: Pen) -> str:
    amount = pen.money(one.amount).said
    return f"{many(one.count, 'invoice')} long overdue, {amount} in all{_longest(one)}: ask for the money."


def _listed(one: ToDo, pen: Pen) -> str:
    way = "longer" if (one.factor or 0) > 1 else "shorter"
    return f"'{one.name}' takes {pen.times(one.factor).said} times what is listed ({one.count} cases): list it {way}."


def _loses(one: ToDo, pen: Pen) -> str:
    return f"'{one.name}' lost {pen.money(abs(one.amount or 0)).said} on {many(one.count, 'card')} in 13 weeks: price it anew."  # type: ignore[arg-type]


def _came_back(one: ToDo, _pen: Pen) -> str:
    return f"{many(one.count, 'car')} came back for the {one.name} in 13 weeks: look at what was done."


def _tools(one: ToDo, _pen: Pen) -> str:
    return f"{many(one.count, 'tool')} past calibration{_longest(one)}: have them calibrated."


def _unclocked(one: ToDo, pen: Pen) -> str:
    return f"{one.name} clocked {pen.part(one.factor).said} of the hours paid last week: ask why."


WORDS: Mapping[str, Callable[[ToDo, Pen], str]] = {
    LATE: _late,
    UNPAID: _unpaid,
    LISTED: _listed,
    LOSES: _loses,
    CAME_BACK: _came_back,
    TOOLS: _tools,
    UNCLOCKED: _unclocked,
}
