"""Which days the shop works, and how minutes of work become a date: hours, public holidays, days of its own."""

from bisect import bisect_left
from collections.abc import Callable, Iterable
from datetime import UTC, date, datetime, timedelta

from shopcli.errors import BadInput
from shopcli.shop.hours import FARTHEST_DAYS, day_span
from shopcli.shop.settings import Settings

NO_HOLIDAYS = "none"


class Workdays:
    """The days ahead and the minutes of work in them, for one pair of hands.

    Parameters
    ----------
    settings : Settings
        Hours, holidays, days of its own, which share of the open hours is work on cars.
    at : int
        Now, in seconds UTC, [s]

    Raises
    ------
    BadInput
        When the settings name holidays nobody knows.
    """

    def __init__(self, settings: Settings, at: int) -> None:
        local = datetime.fromtimestamp(at, UTC).astimezone(settings.tz())
        self.today = local.date()
        shut = closed_days(settings, self.today)
        since_midnight = local.hour * 60 + local.minute
        self._days: list[date] = []
        self._until: list[float] = []
        whole = 0.0
        for ahead in range(FARTHEST_DAYS + 1):
            day = self.today + timedelta(days=ahead)
            span = None if shut(day) else settings.hours[day.weekday()]
            if span is None:
                continue
            opens = max(span[0], since_midnight) if ahead == 0 else span[0]
            whole += max(0, span[1] - opens) * settings.work_share / 100
            self._days.append(day)
            self._until.append(whole)

    def day_of(self, minutes: float) -> date | None:
        """Return the day on which so many minutes of work are done; None beyond a year."""
        place = bisect_left(self._until, minutes - 1e-9)
        return self._days[place] if place < len(self._days) else None

    def minutes_before(self, day: date) -> float:
        """Return the minutes of work before a day begins; that of the last known day where it lies beyond."""
        place = bisect_left(self._days, day)
        return self._until[place - 1] if place else 0.0

    def minutes_through(self, day: date) -> float:
        """Return the minutes of work up to the end of a day."""
        return self.minutes_before(day + timedelta(days=1))


def open_share(settings: Settings) -> float:
    """Return which part of a week the shop is open, 0 to 1."""
    return sum(span[1] - span[0] for span in settings.hours if span) / (7 * 24 * 60)


def closed_days(settings: Settings, today: date) -> Callable[[date], bool]:
    """Return the question whether the shop is shut on a day, holidays and its own closed days together."""
    own = frozenset(_own_days(settings.closed_days))
    public = public_holidays(settings.holidays, (today.year, today.year + 1))
    return lambda day: day in own or day in public


def public_holidays(code: str, years: Iterable[int]) -> frozenset[date]:
    """Return the public holidays of a country or a part of it, like ``GB-ENG`` or ``DE``; ``none`` has none.

    Raises
    ------
    BadInput
        When no such country or part is known.

    Examples
    --------
    >>> date(2026, 12, 25) in public_holidays("GB-ENG", (2026,)), public_holidays("none", (2026,))
    (True, frozenset())
    """
    if code.casefold() in {NO_HOLIDAYS, ""}:
        return frozenset()
    import holidays

    country, _, part = code.strip().upper().partition("-")
    try:
        known = holidays.country_holidays(country, subdiv=part or None, years=tuple(years))
    except NotImplementedError as error:
        raise BadInput(
            f"settings: holidays is '{code}'; no such country or part of one is known",
            hint='Write it like holidays = "GB-ENG", by ISO 3166, or "none".',
        ) from error
    return frozenset(known)


def _own_days(texts: Iterable[str]) -> Iterable[date]:
    for text in texts:
        first, last = day_span(text)
        for ahead in range((last - first).days + 1):
            yield first + timedelta(days=ahead)
