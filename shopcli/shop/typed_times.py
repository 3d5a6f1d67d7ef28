"""Times of the day as people type them: 8, 805, 8:05, 8.05, 17h30."""

import re
from datetime import date, datetime, time, timedelta, tzinfo

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput
from shopcli.shop.hours import midnight

SHAPE = re.compile(r"(?P<hour>\d{1,2})(?:\s*[:.h]\s*(?P<minute>\d{2})|(?P<close>\d{2}))?", re.ASCII)
HINT = "Write it like 8:05, 805 or 17.30."
LAST_MINUTE, LAST_HOUR = 59, 24


def read_time(text: str, day: date, zone: tzinfo) -> int:
    """Return the moment a typed time of a day means, in seconds UTC.

    Raises
    ------
    BadInput
        When it is no time of a day.

    Examples
    --------
    >>> from datetime import UTC
    >>> read_time("17.30", date(2026, 11, 25), UTC) - read_time("805", date(2026, 11, 25), UTC) == 565 * 60
    True
    """
    found = SHAPE.fullmatch(text.strip())
    if found is None:
        raise BadInput(f"'{clean_line(text)[:20]}' is not a time of the day", hint=HINT)
    hour, minute = int(found["hour"]), int(found["minute"] or found["close"] or 0)
    if minute > LAST_MINUTE or hour > LAST_HOUR or (hour == LAST_HOUR and minute):
        raise BadInput(f"a day has no {hour}:{minute:02d}", hint=HINT)
    if hour == LAST_HOUR:
        return midnight(day + timedelta(days=1), zone)
    return int(datetime.combine(day, time(hour, minute), zone).timestamp())


def read_end(text: str, started: int, day: date, zone: tzinfo) -> int:
    """Return the end of a stretch of time: a time before its start is one of the next day.

    Raises
    ------
    BadInput
        When it is no time of a day.
    """
    end = read_time(text, day, zone)
    return end if end >= started else read_time(text, day + timedelta(days=1), zone)
