"""The hours somebody is paid for: the shop's own hours on the days it is open, less unpaid breaks and absences."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache

from shopcli.shop.hours import DAY_MINUTES, midnight
from shopcli.shop.settings import Settings
from shopcli.shop.workdays import closed_days


@dataclass(frozen=True, slots=True)
class Away:
    """Days somebody was not here, both counted; `minutes` of each, None for whole days."""

    first: date
    last: date
    minutes: int | None = None


@dataclass(frozen=True, slots=True)
class Paid:
    """A day or more of somebody: the shop's hours, what of them they were away, [s]."""

    open_s: int = 0
    absent_s: int = 0

    @property
    def paid_s(self) -> int:
        """What is paid, [s]."""
        return self.open_s - self.absent_s

    def __add__(self, other: "Paid") -> "Paid":
        return Paid(self.open_s + other.open_s, self.absent_s + other.absent_s)


def day_seconds(settings: Settings, day: date, upto: int | None = None) -> int:
    """Return how long the shop is open for pay on a weekday of its hours, holidays not looked at, [s].

    A shift over the change of the clocks is as long as it is, not as long as the clock on the wall says. Of a day that still runs
    `upto`, seconds UTC, says how far; nobody knows when the unpaid break is taken, so it is spread over the day.
    """
    span = settings.hours[day.weekday()]
    if span is None:
        return 0
    zone = settings.tz()
    opens = int(datetime.combine(day, time(span[0] // 60, span[0] % 60), zone).timestamp())
    shuts = (
        midnight(day + timedelta(days=1), zone)
        if span[1] == DAY_MINUTES
        else int(datetime.combine(day, time(span[1] // 60, span[1] % 60), zone).timestamp())
    )
    whole = max(0, shuts - opens - settings.unpaid_break_minutes * 60)
    if upto is None or upto >= shuts:
        return whole
    return round(whole * max(0, upto - opens) / (shuts - opens))


class PaidDays:
    """What somebody is paid for, day by day, up to a moment; each day is reckoned once, whoever is asked about."""

    def __init__(self, settings: Settings, upto: int | None = None) -> None:
        self._shut: Callable[[int], Callable[[date], bool]] = cache(
            lambda year: closed_days(settings, date(year, 1, 1))
        )
        self._open = cache(lambda day: 0 if self._shut(day.year)(day) else day_seconds(settings, day, upto))
        self._whole = cache(lambda day: day_seconds(settings, day))
        self._present = cache(lambda day: Paid(self._open(day)))

    def on(self, day: date, away: Sequence[Away] = ()) -> Paid:
        """Return a day of somebody who is away as told."""
        if not away:
            return self._present(day)
        whole, absent = self._open(day), 0
        for one in away if whole else ():
            if one.first <= day <= one.last:
                absent += whole if one.minutes is None else one.minutes * 60 * whole // self._whole(day)
        return Paid(whole, min(whole, absent))

    def between(self, first: date, last: date, away: Iterable[Away] = ()) -> Mapping[date, Paid]:
        """Return each day from one to another, both counted, that has something in it."""
        kept = tuple(away)
        days = (first + timedelta(days=n) for n in range((last - first).days + 1))
        found = {day: self.on(day, kept) for day in days}
        return {day: paid for day, paid in found.items() if paid.open_s}
