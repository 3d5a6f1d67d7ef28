"""What was, for looking ahead: cards closed on each day of the whole weeks before this one, and how many were open."""

from bisect import bisect_left
from datetime import timedelta
from itertools import pairwise

from shopcli.shop.week_views import WEEK_DAYS, PastWeeks, Period, monday_of
from shopcli.store.reads.week_bounds import bounds, day_of, start_of
from shopcli.store.reads.week_flow import CLOSED, OPENED, weeks_before
from shopcli.store.shop import Shop

MOST_WEEKS = 104  # older weeks say little of the shop as it is: common practice, no source
OPEN = "SELECT COUNT(*) FROM card WHERE state IN ('booked', 'in hand', 'held', 'checked')"


def past_weeks(shop: Shop, most: int = MOST_WEEKS) -> PastWeeks:
    """Return the whole weeks before this one, as many as the records have, `most` at most."""
    now = shop.at()
    today = day_of(shop, now)
    monday = monday_of(today)
    count = weeks_before(shop, monday, most)
    period = Period(monday - timedelta(weeks=count), count + 1)
    start, end = bounds(shop, period)
    edges = [start_of(shop, period.monday + timedelta(days=n)) for n in range((count + 1) * WEEK_DAYS + 1)]
    closed, opened = (
        _by_day([row[0] for row in shop.fetch(sql, (start, end))], edges) for sql in (CLOSED, OPENED)
    )
    open_now = int(shop.fetch(OPEN)[0][0])
    there = open_now + sum(closed) - sum(opened)
    past, stood = [], []
    for week in range(count + 1):
        days = slice(week * WEEK_DAYS, (week + 1) * WEEK_DAYS)
        past.append(tuple(closed[days]))
        stood.append(there)
        there += sum(opened[days]) - sum(closed[days])
    gone = past[-1][: (today - monday).days + 1]
    return PastWeeks(monday, today, tuple(past[:-1]), tuple(stood[:-1]), stood[-1], gone, open_now)


def _by_day(times: list[int], edges: list[int]) -> list[int]:
    """Return how many of the times, earliest first, lie between each edge and the next."""
    return [till - since for since, till in pairwise(bisect_left(times, edge) for edge in edges)]
