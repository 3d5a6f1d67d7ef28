"""The calendar of the invented shop: days counted in working days from the day it is opened.

The story never names a date, so the demo is always of this morning. Days count Monday to Friday; hours are
the shop's own, in its own zone, so that a change of the clocks falls where people live.
"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

OPENS, SHUTS = time(8, 0), time(17, 30)
LUNCH, AFTER_LUNCH = time(12, 30), time(13, 0)
_SATURDAY = 5
_ONE = timedelta(days=1)


class Days:
    """Turns ``-12 09:10`` and ``now-25`` into instants.

    Parameters
    ----------
    now : datetime
        The time the demo is opened, aware.
    zone : ZoneInfo
        The shop's zone.

    Examples
    --------
    >>> days = Days(datetime(2026, 11, 29, 9, 0, tzinfo=UTC), ZoneInfo("Europe/London"))  # a Sunday
    >>> days.day(-1), days.day(1)
    (datetime.date(2026, 11, 27), datetime.date(2026, 11, 30))
    """

    def __init__(self, now: datetime, zone: ZoneInfo) -> None:
        self.now = now.astimezone(UTC).replace(microsecond=0)
        self.zone = zone
        self.today = now.astimezone(zone).date()

    def day(self, count: int) -> date:
        """Return the working day so many before (minus) or after the day of opening; 0 is that day itself."""
        day, step = self.today, _ONE if count > 0 else -_ONE
        for _ in range(abs(count)):
            day += step
            while day.weekday() >= _SATURDAY:
                day += step
        return day

    def at(self, count: int, clock: time) -> datetime:
        """Return the instant the shop's clock shows `clock` on that working day."""
        return datetime.combine(self.day(count), clock, self.zone).astimezone(UTC)

    def ago(self, minutes: int) -> datetime:
        """Return the instant so many minutes before opening, not before that day began."""
        midnight = datetime.combine(self.today, time(), self.zone).astimezone(UTC)
        return max(midnight, self.now - timedelta(minutes=minutes))

    def same_day(self, at: datetime, clock: time) -> datetime:
        """Return the instant the shop's clock shows `clock` on the local day of `at`."""
        return datetime.combine(at.astimezone(self.zone).date(), clock, self.zone).astimezone(UTC)

    def walk(self, start: datetime, minutes: int) -> datetime:
        """Return when work of so many minutes begun at `start` ends, with the shop's lunch left out."""
        end = start + timedelta(minutes=minutes)
        lunch, after = self.same_day(start, LUNCH), self.same_day(start, AFTER_LUNCH)
        if lunch <= start < after:
            return end + (after - start)
        return end + (after - lunch) if start < lunch < end else end

    def begin(self, at: datetime) -> datetime:
        """Return `at`, or the end of lunch when it falls into it."""
        lunch, after = self.same_day(at, LUNCH), self.same_day(at, AFTER_LUNCH)
        return after if lunch <= at < after else at
