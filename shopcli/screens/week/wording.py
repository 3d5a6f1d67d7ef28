"""The weeks as a table, in whatever width there is."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from textual.content import Content

from shopcli.columns import cut, pad
from shopcli.marks import NOTHING
from shopcli.present import MONTHS, h_mm, money
from shopcli.shop.views import WeekRow

HEADS = ("week", "Monday", "opened", "closed", "in shop", "clocked h", "sold h", "sold %", "invoiced")
WIDTHS = (8, 10, 6, 6, 7, 9, 6, 6, 11)
WORDS_LEFT = 2
GAPS_MOST = 6


@dataclass(frozen=True, slots=True)
class Weeks:
    """Some weeks, oldest first, and the name of the one we are in."""

    rows: tuple[WeekRow, ...]
    this: str


def share(sold_hours: Decimal, clocked_seconds: int) -> str:
    """Return hours sold of hours clocked.

    Examples
    --------
    >>> share(Decimal("1.5"), 7200), share(Decimal(1), 0)
    ('75 %', '-')
    """
    if not clocked_seconds:
        return NOTHING
    part = sold_hours * 3600 * 100 / clocked_seconds
    return f"{part.quantize(Decimal(1), ROUND_HALF_UP)} %"


def _cells(row: WeekRow, currency: str, *, now: bool) -> tuple[str, ...]:
    monday = f"{row.monday.day} {MONTHS[row.monday.month - 1][:3]}"
    return (
        row.week,
        f"{monday} now" if now else monday,
        *(str(n) if n else NOTHING for n in (row.opened, row.closed, row.in_shop)),
        *_hours_and_money(row.clocked_seconds, row.sold_hours, row.invoiced, currency),
    )


def _hours_and_money(clocked: int, sold: Decimal, invoiced: Decimal, currency: str) -> tuple[str, ...]:
    return (
        h_mm(clocked) if clocked else NOTHING,
        h_mm(int(sold * 3600)) if sold else NOTHING,
        share(sold, clocked),
        money(invoiced, currency) if invoiced else NOTHING,
    )


def _sums(rows: Sequence[WeekRow], currency: str) -> tuple[str, ...]:
    clocked, sold = sum(r.clocked_seconds for r in rows), sum((r.sold_hours for r in rows), Decimal(0))
    return (
        f"{len(rows)} weeks",
        "",
        str(sum(r.opened for r in rows)),
        str(sum(r.closed for r in rows)),
        "",
        *_hours_and_money(clocked, sold, sum((r.invoiced for r in rows), Decimal(0)), currency),
    )


def table(weeks: Weeks, currency: str, width: int) -> Content:
    """Return the table: heads, a line for each week, the sums."""
    between = min(GAPS_MOST, max(1, (width - sum(WIDTHS)) // (len(WIDTHS) - 1)))
    lines = [Content.styled(_line(HEADS, between), "$text-muted")]
    for row in weeks.rows:
        now = row.week == weeks.this
        text = _line(_cells(row, currency, now=now), between)
        lines.append(Content.styled(text, "bold") if now else Content(text))
    lines.append(Content.styled(_line(_sums(weeks.rows, currency), between), "bold"))
    return Content("\n").join(lines)


def _line(cells: Sequence[str], between: int) -> str:
    columns = enumerate(zip(cells, WIDTHS, strict=True))
    parts = [pad(cut(cell, width), width, right=i >= WORDS_LEFT) for i, (cell, width) in columns]
    return (" " * between).join(parts)
