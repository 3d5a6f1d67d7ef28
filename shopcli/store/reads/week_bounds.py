"""Where a period begins and ends in seconds, and what several reads of the week ask alike."""

from datetime import date, timedelta

from shopcli.shop.hours import midnight
from shopcli.shop.week_period import Opened, OpenedRow, Period, monday_of
from shopcli.store.shop import Shop

REFERENCE = "c.id, c.number, v.registration"
FROM_CARD = "FROM card c JOIN vehicle v ON v.id = c.vehicle_id"


def bounds(shop: Shop, period: Period) -> tuple[int, int]:
    """Return the seconds a period begins and ends, the end not counted."""
    end = start_of(shop, period.until)
    return start_of(shop, period.monday), end if period.upto is None else min(end, period.upto)


def so_far(shop: Shop, period: Period) -> int:
    """Return the second up to which there is something to be read of a period: its end, where it is cut off, or now."""
    return min(bounds(shop, period)[1], shop.at())


def same_part(shop: Shop, period: Period, now: int | None = None) -> Period:
    """Return the period before; of one that runs `now`, in seconds UTC, the same part of it, up to the same weekday and hour.

    A week that began this morning is not to look a hundred per cent worse than a whole one.
    """
    now = shop.at() if now is None else now
    if now >= start_of(shop, period.until):
        return period.before
    then = shop.local(now).replace(tzinfo=None) - timedelta(weeks=period.weeks)
    cut = int(then.replace(tzinfo=shop.settings.tz()).timestamp())
    return Period(period.before.monday, period.weeks, cut)


def start_of(shop: Shop, day: date) -> int:
    """Return the second a day begins in the shop's zone."""
    return midnight(day, shop.settings.tz())


def day_of(shop: Shop, seconds: int) -> date:
    """Return the day of the shop's zone a moment falls on."""
    return shop.local(seconds).date()


def this_week(shop: Shop, weeks: int = 1) -> Period:
    """Return the period of so many weeks that ends with this one."""
    monday = monday_of(day_of(shop, shop.at()))
    return Period(monday - timedelta(weeks=weeks - 1), weeks)


def weeks_sql(period: Period) -> tuple[str, tuple[object, ...]]:
    """Return the condition on a ``week`` column, and its parameters: names of ISO weeks sort as their weeks do."""
    names = period.names
    return "week >= ? AND week <= ?", (names[0], names[-1])


def issued_sql(period: Period) -> tuple[str, tuple[object, ...]]:
    """Return the condition on the ``week`` and ``issued_at`` of a document."""
    where, params = weeks_sql(period)
    return (where, params) if period.upto is None else (f"{where} AND issued_at < ?", (*params, period.upto))


def billed_sql(period: Period) -> tuple[str, tuple[object, ...]]:
    """Return the condition on the ``week`` and ``invoice_id`` of what was kept of an invoice; only the last week is looked into."""
    where, params = weeks_sql(period)
    if period.upto is None:
        return where, params
    later = "SELECT id FROM invoice WHERE week = ? AND issued_at >= ?"
    return f"{where} AND NOT (week = ? AND invoice_id IN ({later}))", (
        *params,
        *[params[-1]] * 2,
        period.upto,
    )


def opened(key: str, title: str, rows: list[OpenedRow]) -> Opened:
    """Return rows of a figure."""
    return Opened(key, title, tuple(rows))
