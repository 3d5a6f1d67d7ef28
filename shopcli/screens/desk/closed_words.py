"""How a closed card that was found is laid out: two lines, the same at every width."""

from textual.content import Content

from shopcli.columns import cut, display_width
from shopcli.handing_words import left_short
from shopcli.present import day
from shopcli.screens.desk.wording import GAP, INDENT, Piece
from shopcli.shop.handing_view import ClosedRow

NAME_MOST, FEWEST = 30, 6


def heading() -> Content:
    """Return the heading of the closed cards."""
    return Content.assemble(
        ("Closed cards, the newest first", "bold"), f"{GAP}Enter: money, papers, hand-over; F4 summary"
    )


def closed_lines(row: ClosedRow, width: int, currency: str) -> Content:
    """Return a closed card: number, day, car and customer; below what was done, what is due, whether it is fetched."""
    left = width - INDENT
    heads = [
        row.number,
        f"closed {day(row.closed)} {row.closed.year}",
        row.registration,
        row.customer,
        row.phone,
    ]
    first: list[Piece] = []
    for text in filter(None, heads):
        room = left - sum(display_width(t) for t, _ in first) - len(GAP)
        if room > FEWEST:
            first += [(cut(text, min(room, NAME_MOST)), "bold"), (GAP, "")]
    gone = f"fetched {day(row.handed)}" if row.handed is not None else "not fetched yet"
    state = f"{left_short(row.due, currency)}, {gone}"
    indent = " " * (INDENT + len(GAP))
    title = cut(
        f"{row.title} ({row.vehicle})" if row.vehicle else row.title, max(FEWEST, left - len(state) - 4)
    )
    below: list[Piece] = [(f"\n{indent}", ""), (title, ""), (GAP, "")]
    return Content.assemble(" " * INDENT, *first, *below, (state, "$text-warning" if row.due > 0 else "dim"))
