"""The Monday list in words: what it is, how much of it, and what to do first."""

from shopcli.papers.week.flow import WAIT_WORDS
from shopcli.papers.week.model import Head, Line, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import Seen
from shopcli.shop.week_views import ToDo

DO = {
    "authority": "ring their customers",
    "parts": "ask the suppliers",
    "outwork": "ask where it is",
    "other": "look at the reasons",
    "bay": "take them in hand, or say when",
    "fetching": "ring: the cars are ready",
}


def todo_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return the list."""
    heads = (Head("", "nth"), Head("on Monday", "to_do", right=False, fills=True))
    lines = tuple(
        Line((pen.text(str(nth), one.key), pen.text(todo_words(one, pen), one.key)), strong=nth <= 3)  # noqa: PLR2004
        for nth, one in enumerate(seen.todo, 1)
    )
    return Sheet(
        "todo", "On Monday", heads, lines, empty="Nothing stands out: nobody waits longer than usual."
    )


def cards(count: int) -> str:
    """Return so many cards.

    Examples
    --------
    >>> cards(1), cards(3)
    ('1 card', '3 cards')
    """
    return "1 card" if count == 1 else f"{count} cards"


def todo_words(one: ToDo, pen: Pen) -> str:
    """Return a line of the list in words."""
    longest = "" if one.days is None else f", {one.days} days the longest"
    amount = "" if one.amount is None else f", {pen.money(one.amount).said}"
    if one.kind in WAIT_WORDS:
        waits = "waits" if one.count == 1 else "wait"
        return f"{cards(one.count)} {waits} for {WAIT_WORDS[one.kind]}{longest}{amount}: {DO[one.kind]}."
    return f"{one.name or one.kind}: {one.count}{longest}{amount}."
