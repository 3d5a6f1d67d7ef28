"""Whole ISO weeks of the shop, and the rows a figure about them opens to."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import lru_cache

DAY_S = 24 * 3600
WEEK_DAYS = 7


@dataclass(frozen=True, slots=True)
class Period:
    """Whole ISO weeks: the first one's Monday and how many they are.

    `upto` cuts it off at a moment of its last week, seconds UTC: what a period that still runs is held against.
    """

    monday: date
    weeks: int = 1
    upto: int | None = None

    @property
    def until(self) -> date:
        """The Monday after its last day."""
        return self.monday + timedelta(weeks=self.weeks)

    @property
    def last(self) -> date:
        """Its last day, a Sunday."""
        return self.until - timedelta(days=1)

    @property
    def before(self) -> "Period":
        """As many weeks before it."""
        return Period(self.monday - timedelta(weeks=self.weeks), self.weeks)

    @property
    def mondays(self) -> tuple[date, ...]:
        """The Monday of each week, oldest first."""
        return _mondays(self.monday, self.weeks)

    @property
    def names(self) -> tuple[str, ...]:
        """The name of each week, like 2026-W48, oldest first."""
        return _names(self.monday, self.weeks)


@lru_cache(maxsize=64)
def _mondays(monday: date, weeks: int) -> tuple[date, ...]:
    return tuple(monday + timedelta(weeks=n) for n in range(weeks))


@lru_cache(maxsize=64)
def _names(monday: date, weeks: int) -> tuple[str, ...]:
    return tuple(week_name(one) for one in _mondays(monday, weeks))


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


@dataclass(frozen=True, slots=True)
class OpenedRow:
    """A row a figure is made of. `count`, `seconds` and `amount` are its part of the figure, as far as it has such."""

    card_id: int | None
    card: str
    registration: str
    what: str
    detail: str
    on: date | None
    count: int = 1
    seconds: int | None = None
    amount: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Opened:
    """The rows of a figure; their parts come to the figure."""

    key: str
    title: str
    rows: tuple[OpenedRow, ...]

    @property
    def count(self) -> int:
        """How many they count."""
        return sum(row.count for row in self.rows)

    @property
    def seconds(self) -> int:
        """The time they come to, [s]."""
        return sum(row.seconds or 0 for row in self.rows)

    @property
    def amount(self) -> Decimal:
        """The sum they come to."""
        return sum((row.amount or Decimal(0) for row in self.rows), Decimal(0))
