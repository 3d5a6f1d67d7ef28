"""The shop's hours, and time by the day: midnight and the clock changes fall where people live.

Hours never cut anything off; they only say when to ask whether a clock was forgotten.
"""

from collections.abc import Mapping
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from shopcli.errors import BadInput
from shopcli.tuples import NamedTuple

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
Hours = tuple[tuple[int, int] | None, ...]
"""From and to in minutes after midnight for each weekday, Monday first; None where the shop is shut."""
USUAL: Hours = (*((480, 1050),) * 5, None, None)
DAY_MINUTES = 24 * 60
FARTHEST_DAYS = 366


def _minutes(text: str) -> int:
    hour, colon, minute = text.strip().partition(":")
    if not (colon and hour.isdecimal() and minute.isdecimal()):
        raise ValueError(text)
    total = int(hour) * 60 + int(minute)
    if int(minute) > 59 or total > DAY_MINUTES:  # noqa: PLR2004 - minutes of an hour
        raise ValueError(text)
    return total


def read_hours(table: object) -> Hours:
    """Return the hours written in the settings, like ``monday = "08:00-17:30"``; a day left out is shut.

    Raises
    ------
    BadInput
        On another day's name, or a time that is none.

    Examples
    --------
    >>> read_hours({"monday": "08:00-17:30", "saturday": "9:00-12:00"})[5]
    (540, 720)
    """
    hint = 'Write [hours] and below it monday = "08:00-17:30"; a day left out is shut.'
    if not isinstance(table, Mapping):
        raise BadInput("settings: hours wants a table", hint=hint)
    strange = [str(day) for day in table if day not in WEEKDAYS]
    if strange:
        raise BadInput(f"settings: hours: '{strange[0]}' is not a day of the week", hint=hint)
    return tuple(_span(day, table.get(day, ""), hint) for day in WEEKDAYS)


def _span(day: str, text: object, hint: str) -> tuple[int, int] | None:
    if text == "":
        return None
    start, _, end = str(text).partition("-")
    try:
        opens, shuts = _minutes(start), _minutes(end)
    except ValueError as error:
        raise BadInput(f"settings: hours: {day} is '{text}'", hint=hint) from error
    if opens >= shuts:
        raise BadInput(f"settings: hours: {day} ends before it begins", hint=hint)
    return opens, shuts


def day_span(text: str) -> tuple[date, date]:
    """Return first and last of ``2026-12-24`` or ``2026-12-24/2027-01-02``.

    Raises
    ------
    BadInput
        When it is neither, or runs backwards or over more than a year.

    Examples
    --------
    >>> day_span("2026-12-24/2027-01-02")[1]
    datetime.date(2027, 1, 2)
    """
    first, _, last = text.partition("/")
    try:
        begins = date.fromisoformat(first.strip())
        ends = date.fromisoformat(last.strip()) if last else begins
    except ValueError:
        begins, ends = date.max, date.min
    if not 0 <= (ends - begins).days <= FARTHEST_DAYS:
        raise BadInput(
            f"settings: closed_days has '{text[:40]}'",
            hint='Write days like "2026-12-24" or "2026-12-24/2027-01-02".',
        )
    return begins, ends


def midnight(day: date, zone: tzinfo) -> int:
    """Return the second a day begins."""
    return int(datetime.combine(day, time(), zone).timestamp())


def local_day(seconds: int, zone: tzinfo) -> date:
    """Return the day a moment falls on."""
    return datetime.fromtimestamp(seconds, UTC).astimezone(zone).date()


def shuts_at(day: date, hours: Hours, zone: tzinfo) -> int | None:
    """Return the second the shop shuts on a day, None on a day it does not open."""
    span = hours[day.weekday()]
    if span is None:
        return None
    if span[1] == DAY_MINUTES:
        return midnight(day + timedelta(days=1), zone)
    return int(datetime.combine(day, time(span[1] // 60, span[1] % 60), zone).timestamp())


class Over(NamedTuple):
    """Why a clock may have been forgotten, and the end that lies nearest: the shop's, or midnight."""

    until: int
    why: str


def ran_over(
    started: int, upto: int, stood_by: int | None, hours: Hours, grace_minutes: int, zone: tzinfo
) -> Over | None:
    """Return why time from `started` to `upto` wants to be asked about; None when nothing is strange about it.

    Parameters
    ----------
    started, upto : int
        Seconds UTC; `upto` is the end, or now while the clock runs.
    stood_by : int or None
        Up to when the person said already that it was work.
    hours : Hours
        When the shop is open.
    grace_minutes : int
        How far past the shop's end nobody asks, [min]
    zone : tzinfo
        Where the shop is.

    Examples
    --------
    >>> nine = 1_764_061_200  # Tuesday 25 November 2025, 9:00 UTC
    >>> ran_over(nine, nine + 8 * 3600, None, USUAL, 15, UTC)
    >>> ran_over(nine, nine + 9 * 3600, None, USUAL, 15, UTC).why
    'the shop shut at 17:30'
    """
    begin = max(started, stood_by if stood_by is not None else started)
    day = local_day(begin, zone)
    shuts = shuts_at(day, hours, zone)
    if shuts is not None and begin < shuts:
        local = datetime.fromtimestamp(shuts, UTC).astimezone(zone)
        return Over(shuts, f"the shop shut at {local:%H:%M}") if upto > shuts + grace_minutes * 60 else None
    night = midnight(day + timedelta(days=1), zone)
    return Over(night, "it ran past midnight") if upto > night else None


def by_day(started: int, ended: int, zone: tzinfo) -> dict[date, int]:
    """Return how many seconds of a stretch of time fall on each day.

    Examples
    --------
    >>> by_day(1_764_111_600 - 600, 1_764_115_200 + 60, UTC)
    {datetime.date(2025, 11, 25): 4200, datetime.date(2025, 11, 26): 60}
    """
    found: dict[date, int] = {}
    while started < ended:
        day = local_day(started, zone)
        night = min(ended, midnight(day + timedelta(days=1), zone))
        found[day] = found.get(day, 0) + night - started
        started = night
    return found
