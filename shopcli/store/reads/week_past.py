"""What was, for looking ahead: cards closed on each day of the whole weeks before this one, and how many were open."""

from bisect import bisect_right
from datetime import timedelta

from shopcli.shop.week_views import WEEK_DAYS, PastWeeks, Period, monday_of
from shopcli.store.reads.week_bounds import bounds, day_of, start_of
from shopcli.store.reads.week_flow import weeks_before
from shopcli.store.shop import Shop

MOST_WEEKS = 104  # older weeks say little of the shop as it is: common practice, no source
CLOSED = "SELECT closed_at FROM card WHERE closed_at >= ? AND closed_at < ?"
OPENED = "SELECT opened_at FROM card WHERE opened_at >= ? AND opened_at < ? AND state <> 'void'"
OPEN = "SELECT COUNT(*) FROM card WHERE state IN ('booked', 'in hand', 'held', 'checked')"


def past_weeks(shop: Shop, most: int = MOST_WEEKS) -> PastWeeks:
    """Return the whole weeks before this one, as many as the records have, `most` at most."""
    now = shop.at()
    today = day_of(shop, now)
    monday = monday_of(today)
    count = weeks_before(shop, monday, most)
    period = Period(monday - timedelta(weeks=count), count + 1)
    start, end = bounds(shop, period)
    closed, opened = ([0] * (count + 1) * WEEK_DAYS for _ in range(2))
    edges = [start_of(shop, period.monday + timedelta(days=n)) for n in range((count + 1) * WEEK_DAYS + 1)]
    for sql, counts in ((CLOSED, closed), (OPENED, opened)):
        _into(counts, edges, [row[0] for row in shop.fetch(sql, (start, end))])
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


def _into(counts: list[int], edges: list[int], times: list[int]) -> None:
    for time in times:
        counts[bisect_right(edges, time) - 1] += 1
