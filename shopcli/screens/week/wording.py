"""The weeks as a table, in whatever width there is."""

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from shopcli.columns import cut, pad
from shopcli.marks import NOTHING
from shopcli.present import MONTHS, h_mm, money
from shopcli.shop.views import WeekRow
from shopcli.shop.week_sums import WeekSums, sold_percent, together

HEADS = ("week", "Monday", "opened", "closed", "in shop", "clocked h", "sold h", "sold %", "invoiced")
WIDTHS = (8, 10, 6, 6, 7, 9, 6, 6, 11)
WORDS_LEFT = 2
GAPS_MOST = 6


@dataclass(frozen=True, slots=True)
class Weeks:
    """Some weeks, oldest first, and the name of the one we are in."""

    rows: tuple[WeekRow, ...]
    this: str


def _cells(row: WeekRow, currency: str, *, now: bool) -> tuple[str, ...]:
    monday = f"{row.monday.day} {MONTHS[row.monday.month - 1][:3]}"
    return (
        row.week,
        f"{monday} now" if now else monday,
        *(str(n) if n else NOTHING for n in (row.opened, row.closed, row.in_shop)),
        *_hours_and_money(row, currency),
    )


def _hours_and_money(of: WeekRow | WeekSums, currency: str) -> tuple[str, ...]:
    percent = sold_percent(of.sold_hours, of.clocked_seconds)
    return (
        h_mm(of.clocked_seconds) if of.clocked_seconds else NOTHING,
        h_mm(int(of.sold_hours * 3600)) if of.sold_hours else NOTHING,
        NOTHING if percent is None else f"{percent} %",
        money(of.invoiced, currency) if of.invoiced else NOTHING,
    )


def _sums(rows: Sequence[WeekRow], currency: str) -> tuple[str, ...]:
    every = together(rows)
    counted = (str(every.opened), str(every.closed))
    return (f"{len(rows)} weeks", "", *counted, "", *_hours_and_money(every, currency))


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
