"""The first page: what to do on Monday, and the week in a dozen figures beside the period before."""

from dataclasses import dataclass

from shopcli.papers.week.against import against_words, before_name, now_name, runs
from shopcli.papers.week.ahead import dated
from shopcli.papers.week.flow import flow_chart
from shopcli.papers.week.model import Cell, Head, Line, Page, Sheet, Value
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.quality import came_back
from shopcli.papers.week.seen import Seen
from shopcli.papers.week.todo import todo_sheet

FRONT = "front"


@dataclass(frozen=True, slots=True)
class Figure:
    """A line of the first page: now, before, and by week."""

    name: str
    now: Cell
    before: Cell
    trend: tuple[float, ...] = ()


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
        Head("the period", "figure", right=False, fills=True),
        Head(now_name(seen), "value"),
        Head(before_name(seen), "before"),
        Head("change", "change"),
        Head("13 weeks", "weeks", right=False, least=13),
    )
    rows = [*_flow(seen, pen), *_hours(seen, pen), *_money(seen, pen), *_rest(seen, pen)]
    lines = tuple(Line(_cells(row, pen)) for row in rows)
    return Sheet("figures", "In figures", heads, lines, against_words(seen))


def _cells(row: Figure, pen: Pen) -> tuple[Cell, ...]:
    now, before = _number(row.now.value), _number(row.before.value)
    change = pen.change(now, before) if now is not None and before is not None else ""
    spark = pen.spark(row.trend)
    return (Cell(row.name, row.name, row.now.key), row.now, row.before, pen.text(change), pen.text(spark))


def _number(value: Value) -> float | None:
    return None if value is None or isinstance(value, str) or hasattr(value, "year") else float(value)  # type: ignore[arg-type]


def _flow(seen: Seen, pen: Pen) -> list[Figure]:
    now, was, weeks = seen.flow, seen.flow_before, seen.trend.flow

    def counted(name: str, field: str) -> Figure:
        trend = tuple(float(getattr(week, field)) for week in weeks)
        return Figure(name, pen.count(getattr(now, field), field), pen.count(getattr(was, field)), trend)

    return [
        counted("cards handed over", "left"),
        counted("cards closed", "closed"),
        counted("cards opened", "opened"),
        Figure(
            "in the shop now" if runs(seen) else "in the shop at its end",
            pen.count(
                weeks[-1].in_shop if weeks else now.in_shop,
                f"in-shop:{weeks[-1].week}" if weeks else "in-shop",
            ),
            pen.count(was.weeks[-1].in_shop if was.weeks else 0),
            tuple(float(w.in_shop) for w in weeks),
        ),
        Figure("half went out within, days", pen.days(now.median_days, "stays"), pen.days(was.median_days)),
    ]


def _hours(seen: Seen, pen: Pen) -> list[Figure]:
    if seen.hours is None or seen.hours_before is None:
        return []
    now, was, weeks = seen.hours.total, seen.hours_before.total, seen.trend.hours

    def part(name: str, field: str, key: str) -> Figure:
        trend = tuple(getattr(week, field) or 0 for week in weeks)
        return Figure(name, pen.part(getattr(now, field), key), pen.part(getattr(was, field)), trend)

    return [
        Figure(
            "hours clocked on cards",
            pen.hours(now.clocked_s, "clocked"),
            pen.hours(was.clocked_s),
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
            tuple(float(w.net) for w in weeks),
        ),
        Figure(
            "margin of parts",
            pen.money(now.parts_margin, "invoiced"),
            pen.money(was.parts_margin),
            tuple(float(w.parts - w.parts_cost) for w in weeks),
        ),
    ]
    if now.labour_margin is not None:
        found.append(
            Figure("margin of labour", pen.money(now.labour_margin, "invoiced"), pen.money(was.labour_margin))
        )
    return found


def _rest(seen: Seen, pen: Pen) -> list[Figure]:
    found = []
    if seen.quality is not None and seen.quality_before is not None:
        (now, due), (was, due_then) = (came_back(view) for view in (seen.quality, seen.quality_before))
        found += [
            Figure("cars that came back", pen.count(now, "comebacks"), pen.count(was)),
            Figure("  of these planned service", pen.count(due, "comebacks"), pen.count(due_then)),
        ]
    found.append(Figure("last car booked in done by", dated(seen.ahead, seen.ahead.sure, pen), pen.text("")))
    return found
