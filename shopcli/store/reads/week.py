"""The weeks of the shop: ISO weeks in its own zone, so that midnight, Sunday night and the clock changes fall where people live."""

from datetime import date, datetime, time, timedelta
from decimal import Decimal

from shopcli.shop.amounts import from_minor
from shopcli.shop.views import WeekRow
from shopcli.store.shop import Shop

OPENED = "SELECT COUNT(*) FROM card WHERE opened_at >= ? AND opened_at < ? AND state <> 'void'"
CLOSED = "SELECT COUNT(*) FROM card WHERE closed_at >= ? AND closed_at < ?"
IN_SHOP = "SELECT COUNT(*) FROM card WHERE opened_at < ? AND (closed_at IS NULL OR closed_at >= ?) AND state <> 'void'"
# A clock entry counts in each week by the part of it that lies there.
CLOCKED = """
SELECT COALESCE(SUM(CASE WHEN COALESCE(ended_at, ?) < ? THEN COALESCE(ended_at, ?) ELSE ? END
                  - CASE WHEN started_at > ? THEN started_at ELSE ? END), 0)
FROM clock_entry WHERE started_at < ? AND COALESCE(ended_at, ?) > ?"""
SOLD = "SELECT COALESCE(SUM(labour_minutes), 0), COALESCE(SUM(net_minor), 0) FROM invoice WHERE issued_at >= ? AND issued_at < ?"


def monday_of(day: date) -> date:
    """Return the Monday of a day's ISO week.

    Examples
    --------
    >>> monday_of(date(2026, 11, 25))
    datetime.date(2026, 11, 23)
    """
    return day - timedelta(days=day.weekday())


def week_name(monday: date) -> str:
    """Return an ISO week's name.

    Examples
    --------
    >>> week_name(date(2026, 12, 28))
    '2026-W53'
    """
    year, week, _day = monday.isocalendar()
    return f"{year}-W{week:02d}"


def midnight(shop: Shop, day: date) -> int:
    """Return the second a day begins in the shop's zone."""
    return int(datetime.combine(day, time(), shop.settings.tz()).timestamp())


def week(shop: Shop, monday: date) -> WeekRow:
    """Return the figures of one week; a running clock counts up to now."""
    start, end = midnight(shop, monday), midnight(shop, monday + timedelta(days=7))
    now = shop.at()
    clocked = shop.fetch(CLOCKED, (now, end, now, end, start, start, end, now, start))[0][0]
    sold_minutes, net = shop.fetch(SOLD, (start, end))[0]
    return WeekRow(
        week=week_name(monday),
        monday=monday,
        opened=shop.fetch(OPENED, (start, end))[0][0],
        closed=shop.fetch(CLOSED, (start, end))[0][0],
        in_shop=shop.fetch(IN_SHOP, (end, end))[0][0],
        clocked_seconds=int(clocked),
        sold_hours=Decimal(int(sold_minutes)) / 60,
        invoiced=from_minor(int(net)),
    )


def weeks(shop: Shop, count: int = 13, until: date | None = None) -> tuple[WeekRow, ...]:
    """Return the last `count` weeks, oldest first, up to the week of `until` (today)."""
    last = monday_of(until or shop.local(shop.at()).date())
    return tuple(week(shop, last - timedelta(days=7 * back)) for back in range(count - 1, -1, -1))
