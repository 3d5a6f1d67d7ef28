"""The first page: what to do on Monday, and the week in a dozen figures beside the period before."""

from dataclasses import dataclass, replace

from shopcli.marks import NOTHING
from shopcli.papers.week.against import against_words, before_name, now_name, runs
from shopcli.papers.week.ahead import dated
from shopcli.papers.week.flow import flow_chart
from shopcli.papers.week.hours import PARTS_OF_HOURS
from shopcli.papers.week.model import Cell, Head, Line, Page, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.quality import BACK, came_back, plates
from shopcli.papers.week.seen import Seen
from shopcli.papers.week.todo import todo_sheet
from shopcli.shop.week_views import FlowView

FRONT = "front"
NONE, NOT_YET = "none", "…"
NAME_LEAST = 25  # no name of a figure is cut; where room is short the small pictures go


@dataclass(frozen=True, slots=True)
class Figure:
    """A line of the first page: now, before, how it changed, by week; `note` names what it counts."""

    name: str
    now: Cell
    before: Cell
    change: str = ""
    trend: tuple[float, ...] = ()
    note: str = ""


def front_page(seen: Seen, pen: Pen) -> Page:
    """Return the page."""
    return Page(
        FRONT,
        "Week",
        lambda: ((todo_sheet(seen, pen), figures_sheet(seen, pen)), flow_chart(seen.trend.flow)),
    )


def figures_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return the figures of the period."""
    heads = (
        Head("the period", "figure", right=False, fills=True, least=NAME_LEAST),
        Head(now_name(seen), "value"),
        Head(before_name(seen), "before"),
        Head("change", "change"),
        Head("13 weeks", "weeks", right=False, least=13, spare=True),
    )
    rows = [*_flow(seen, pen), *_hours(seen, pen), *_money(seen, pen), *_rest(seen, pen)]
    lines = tuple(Line(_cells(row, pen), note=row.note) for row in rows)
    words = (*against_words(seen), *((PARTS_OF_HOURS,) if seen.hours else ()))
    return Sheet("figures", "In figures", heads, lines, words)


def _cells(row: Figure, pen: Pen) -> tuple[Cell, ...]:
    name, spark = Cell(row.name, row.name, row.now.key), pen.spark(row.trend)
    return (name, _none(row.now), _none(row.before), pen.text(row.change), pen.text(spark))


def _none(cell: Cell) -> Cell:
    """Return a figure that is nothing as a word: a dash reads as if it were not known."""
    return replace(cell, said=NONE) if cell.value == 0 and cell.said == NOTHING else cell


def _flow(seen: Seen, pen: Pen) -> list[Figure]:
    now, was, weeks = seen.flow, seen.flow_before, seen.trend.flow

    def counted(name: str, field: str) -> Figure:
        trend = tuple(float(getattr(week, field)) for week in weeks)
        there, then = getattr(now, field), getattr(was, field)
        return Figure(name, pen.count(there, field), pen.count(then), pen.change(there, then), trend)

    here = weeks[-1].in_shop if weeks else now.in_shop
    here_then = was.weeks[-1].in_shop if was.weeks else 0
    return [
        counted("cards handed over", "left"),
        Figure(
            "half stayed at most, days",
            _stayed(now, pen, "stays"),
            _stayed(was, pen),
            pen.change(now.median_days, was.median_days),
        ),
        counted("cards closed", "closed"),
        counted("cards opened", "opened"),
        Figure(
            "in the shop now" if runs(seen) else "in the shop at its end",
            pen.count(here, f"in-shop:{weeks[-1].week}" if weeks else "in-shop"),
            pen.count(here_then),
            pen.change(here, here_then),
            tuple(float(w.in_shop) for w in weeks),
        ),
    ]


def _stayed(view: FlowView, pen: Pen, key: str = "") -> Cell:
    """Return within how many days half of those handed over went out."""
    return pen.days(view.median_days, key) if view.median_days is not None else Cell(NONE, None, key)


def _hours(seen: Seen, pen: Pen) -> list[Figure]:
    if seen.hours is None or seen.hours_before is None:
        return []
    now, was, weeks = seen.hours.total, seen.hours_before.total, seen.trend.hours

    def part(name: str, field: str, key: str) -> Figure:
        trend = tuple(getattr(week, field) or 0 for week in weeks)
        there, then = getattr(now, field), getattr(was, field)
        return Figure(name, pen.part(there, key), pen.part(then), pen.points(there, then), trend)

    return [
        Figure(
            "hours clocked on cards",
            pen.hours(now.clocked_s, "clocked"),
            pen.hours(was.clocked_s),
            pen.change(now.clocked_s, was.clocked_s),
            tuple(float(w.clocked_s) for w in weeks),
        ),
        part("clocked of paid", "clocked_of_paid", "paid"),
        part("sold of clocked", "sold_of_clocked", "sold"),
        part("sold of paid", "sold_of_paid", "sold"),
    ]


def _money(seen: Seen, pen: Pen) -> list[Figure]:
    if seen.money is None or seen.money_before is None:
        return []
    now, was, weeks = seen.money, seen.money_before, seen.trend.money
    found = [
        Figure(
            f"invoiced, {pen.without_tax}",
            pen.money(now.net, "invoiced"),
            pen.money(was.net),
            pen.change(now.net, was.net),
            tuple(float(w.net) for w in weeks),
        ),
        Figure(
            "margin of parts",
            pen.money(now.parts_margin, "invoiced"),
            pen.money(was.parts_margin),
            pen.better(now.parts_margin, was.parts_margin),
            tuple(float(w.parts - w.parts_cost) for w in weeks),
        ),
    ]
    if now.labour_margin is not None:
        found.append(
            Figure(
                "margin of labour",
                pen.money(now.labour_margin, "invoiced"),
                pen.money(was.labour_margin),
                pen.better(now.labour_margin, was.labour_margin),
            )
        )
    return found


def _rest(seen: Seen, pen: Pen) -> list[Figure]:
    found = []
    if seen.quality is not None and seen.quality_before is not None:
        for name, now, was in zip(BACK, came_back(seen.quality), came_back(seen.quality_before), strict=True):
            there, then = len(now), len(was)
            found.append(
                Figure(
                    name,
                    pen.count(there, "comebacks"),
                    pen.count(then),
                    pen.change(there, then),
                    note=plates(now),
                )
            )
    last = dated(seen.ahead, seen.ahead.usual, pen) if seen.whole else pen.text(NOT_YET)
    found.append(Figure("last car likely done by", last, pen.text("")))
    return found
