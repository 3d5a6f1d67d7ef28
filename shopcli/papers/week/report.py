"""The report of a week, whole: every page who asks may see, from what was read."""

from shopcli.papers.week.ahead import ahead_page
from shopcli.papers.week.flow import flow_page
from shopcli.papers.week.front import front_page
from shopcli.papers.week.hours import hours_page
from shopcli.papers.week.model import Page, Report
from shopcli.papers.week.money import money_page
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.quality import quality_page
from shopcli.papers.week.seen import Seen
from shopcli.papers.week.times import times_page
from shopcli.present import day

# The order of the pages, and of the keys that open them.
ORDER = ("front", "flow", "hours", "money", "times", "quality", "ahead")


def report_of(seen: Seen, pen: Pen) -> Report:
    """Return the report."""
    pages = [page for page in _pages(seen, pen) if page is not None]
    return Report(
        shop=seen.shop,
        period=seen.period,
        made=f"{day(seen.made.date())} {seen.made:%H:%M}",
        dated=seen.made.date(),
        pages=tuple(pages),
        todo=pages[0].sheets[0].lines,
    )


def _pages(seen: Seen, pen: Pen) -> tuple[Page | None, ...]:
    return (
        front_page(seen, pen),
        flow_page(seen, pen),
        hours_page(seen, seen.hours, seen.hours_before, pen) if seen.hours else None,
        money_page(seen, seen.money, seen.money_before, pen) if seen.money else None,
        times_page(seen, pen) if seen.hours else None,
        quality_page(seen.quality, pen) if seen.quality else None,
        ahead_page(seen, pen),
    )


def period_words(report: Report) -> str:
    """Return the period in words: a week, or from one to another.

    Examples
    --------
    >>> from datetime import date
    >>> from shopcli.shop.week_views import Period
    >>> period_words(Report("", Period(date(2026, 11, 23)), "", date(2026, 11, 27), ()))
    '2026-W48'
    """
    names = report.period.names
    return names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}"
