"""The list of whom to ring as it is laid out: a heading a customer, below it why, and what was said last."""

from collections.abc import Iterator, Sequence
from datetime import date

from textual.content import Content
from textual.widgets.option_list import Option

from shopcli.columns import cut, display_width, pad, shown, wrap
from shopcli.present import day
from shopcli.ring_words import NAMES, call_words, why_words
from shopcli.shop.call_views import AUTHORITY, PROMISE, RingView

NAME, INDENT, LINES_MOST = 12, 4, 3
PRESSING = frozenset({AUTHORITY, PROMISE})
NOBODY = "Nobody waits for a word of ours."


def options(rows: Sequence[RingView], today: date, currency: str, width: int) -> Iterator[Option]:
    """Yield the entries; a customer's heading cannot be chosen."""
    heading: tuple[int, bool] | None = None
    for row in rows:
        mine = (row.customer_id, row.later is not None)
        if mine != heading:
            yield Option(_customer(row, width, air=heading is not None), id=f"who-{mine}", disabled=True)
            heading = mine
        yield Option(_row(row, today, currency, width), id=row.key)


def _customer(row: RingView, width: int, *, air: bool) -> Content:
    style = "dim" if row.later is not None else "bold"
    phone = cut(shown(row.phone), width // 2) if row.phone else "no telephone written"
    name = cut(shown(row.customer), max(8, width - display_width(phone) - 2))
    return Content.assemble("\n" if air else "", (f"{name}  {phone}", style))


def _row(row: RingView, today: date, currency: str, width: int) -> Content:
    room = max(20, width - INDENT - NAME)
    where = ", ".join(filter(None, (row.registration, row.card)))
    lines = [(line, "") for line in wrap(f"{why_words(row, today, currency)} ({where})", room)[:LINES_MOST]]
    if row.later is not None:
        lines.append((f"again {day(row.later)}", "bold"))
    call = row.last or row.before
    if call is not None:
        lines += [(line, "dim") for line in wrap(f"last: {call_words(call)}", room)[:LINES_MOST]]
    style = "dim" if row.later else "bold $text-warning" if row.kind in PRESSING else "bold"
    first = Content.assemble(" " * INDENT, (pad(NAMES[row.kind], NAME), style), lines[0])
    return Content("\n").join((first, *(Content.assemble(" " * (INDENT + NAME), line) for line in lines[1:])))
