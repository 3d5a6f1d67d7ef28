"""Where a period begins and ends in seconds, and what several reads of the week ask alike."""

from datetime import date, timedelta

from shopcli.shop.hours import midnight
from shopcli.shop.week_period import Opened, OpenedRow, Period, monday_of
from shopcli.store.shop import Shop

REFERENCE = "c.id, c.number, v.registration"
FROM_CARD = "FROM card c JOIN vehicle v ON v.id = c.vehicle_id"


def bounds(shop: Shop, period: Period) -> tuple[int, int]:
    """Return the seconds a period begins and ends, the end not counted."""
    return start_of(shop, period.monday), start_of(shop, period.until)


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


def opened(key: str, title: str, rows: list[OpenedRow]) -> Opened:
    """Return rows of a figure."""
    return Opened(key, title, tuple(rows))
