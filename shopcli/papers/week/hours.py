"""The page of the hours: paid, clocked and sold, by week, person, system and job, and what no card knows of."""

from collections.abc import Iterable

from shopcli.papers.charts import Bars, Series
from shopcli.papers.week.against import against_words, before_name, now_name
from shopcli.papers.week.flow import week_name_short
from shopcli.papers.week.model import Head, Laid, Line, Page, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import Seen
from shopcli.shop.week_views import HoursLine, HoursView

PARTS_OF_HOURS = (
    "Clocked of paid: hours on cards, of the hours paid. Sold of clocked: hours billed, of those on cards. Sold of paid: hours billed, "
    "of the hours paid."
)
RATIOS = (
    "Paid: the shop's hours up to now, less absences, of everybody paid by them. Clocked: time on cards. Sold: labour on invoices.",
    PARTS_OF_HOURS,
)
HOUR_S = 3600
PARTS = (
    Head("paid", "paid_s"),
    Head("clocked", "clocked_s"),
    Head("sold", "sold_s"),
    Head("clocked of paid", "clocked_of_paid", short="clk/paid"),
    Head("sold of clocked", "sold_of_clocked", short="sold/clk"),
    Head("sold of paid", "sold_of_paid", short="sold/paid"),
)


def hours_page(seen: Seen, view: HoursView, before: HoursView | None, pen: Pen) -> Page:
    """Return the page."""
    return Page("hours", "Hours", lambda: _laid(seen, view, before, pen))


def _laid(seen: Seen, view: HoursView, before: HoursView | None, pen: Pen) -> Laid:
    total = total_sheet(seen, view, before, pen)
    sheets = (
        total,
        by(view.people, "person", "people", "By person", pen),
        unclocked_sheet(view, pen),
        by(view.systems, "system", "systems", "By system", pen),
        by(view.templates, "template", "templates", "By job", pen),
        by(seen.trend.hours, "week", "hours-weeks", "By week", pen, chart=hours_chart(seen.trend.hours)),
    )
    return sheets, hours_chart(seen.trend.hours)


def hours_chart(weeks: tuple[HoursLine, ...]) -> Bars:
    """Return hours clocked and sold by week."""
    rows = (("hours clocked", [w.clocked_s for w in weeks]), ("hours sold", [w.sold_s for w in weeks]))
    return Bars(
        "Hours by week",
        tuple(week_name_short(w.name) for w in weeks),
        tuple(
            Series(name, tuple(s / HOUR_S for s in row), tuple(str(round(s / HOUR_S)) for s in row))
            for name, row in rows
        ),
    )


def line_of(of: HoursLine, kind: str, pen: Pen, *, strong: bool = False) -> Line:
    """Return a line of hours; `kind` is empty for all together."""
    behind = f":{kind}:{of.key}" if kind else ""
    cells = (
        pen.text(of.name),
        pen.hours(of.paid_s, f"paid{behind}" if of.paid_s is not None else ""),
        pen.hours(of.clocked_s, f"clocked{behind}"),
        pen.hours(of.sold_s, f"sold{behind}"),
        pen.part(of.clocked_of_paid),
        pen.part(of.sold_of_clocked),
        pen.part(of.sold_of_paid),
    )
    return Line(cells, strong=strong)


def total_sheet(seen: Seen, view: HoursView, before: HoursView | None, pen: Pen) -> Sheet:
    """Return the hours of all, the ratios defined, and those of the period before."""
    heads = (Head("all together", "period", right=False, fills=True), *PARTS)
    lines = [Line((pen.text(now_name(seen)), *line_of(view.total, "", pen).cells[1:]))]
    if before is not None:
        cells = line_of(before.total, "", pen).cells
        lines.append(Line((pen.text(before_name(seen)), *(type(c)(c.said, c.value) for c in cells[1:]))))
    words = (*against_words(seen), *RATIOS)
    if view.running_s:
        words = (*words, f"{pen.hours(view.running_s).said} of it is on clocks that still run.")
    return Sheet("hours", "Paid, clocked, sold", heads, tuple(lines), words)


def by(
    of: Iterable[HoursLine], kind: str, name: str, title: str, pen: Pen, chart: Bars | None = None
) -> Sheet:
    """Return the hours by something, most clocked first but for weeks and people."""
    rows = list(of)
    if kind in {"system", "template"}:
        rows.sort(key=lambda one: (-one.clocked_s, one.name))
    paid = any(one.paid_s is not None for one in rows)
    heads = (Head(title.removeprefix("By "), kind, right=False, fills=True), *PARTS)
    lines = [line_of(one, kind, pen) for one in rows]
    if not paid:
        shown = (0, 2, 3, 5)
        heads = tuple(heads[i] for i in shown)
        lines = [Line(tuple(line.cells[i] for i in shown)) for line in lines]
    return Sheet(name, title, heads, tuple(lines), chart=chart, on_paper=15)


def unclocked_sheet(view: HoursView, pen: Pen) -> Sheet:
    """Return where the paid time went that no card knows of."""
    heads = (
        Head("person", "person", right=False, fills=True),
        Head("shop open", "open_s"),
        Head("away", "absent_s"),
        Head("paid", "paid_s"),
        Head("clocked", "clocked_s"),
        Head("breaks", "break_s"),
        Head("unclocked", "rest_s"),
    )
    lines = tuple(
        Line(
            (
                pen.text(u.name),
                pen.hours(u.open_s),
                pen.hours(u.absent_s),
                pen.hours(u.paid_s),
                pen.hours(u.clocked_s, f"clocked:person:{u.person_id}"),
                pen.hours(u.break_s),
                pen.hours(u.rest_s, f"unclocked:person:{u.person_id}"),
            )
        )
        for u in view.unclocked
    )
    words = ("Unclocked: paid, and neither on a card nor on a break.",)
    return Sheet("unclocked", "Paid hours clocked on no card", heads, lines, words)
