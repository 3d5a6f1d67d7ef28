"""Dates as they are said over a counter, read without guessing.

Day before month, as the shop's neighbours write it; a date without its year is the next one there is.
What was understood is shown in full beside what was typed, so that a slip is seen before it is promised.
"""

import re
from datetime import date, timedelta

from shopcli.errors import BadInput
from shopcli.present import DAYS, MONTHS, day, day_long

WAYS = "2026-12-04, 4.12., 4/12, 4 Dec, fri, tomorrow or +3"
FARTHEST_DAYS = 5 * 366
CENTURY = 100
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_FIGURES = re.compile(r"(\d{1,2})\s*[./]\s*(\d{1,2})\s*(?:[./]\s*(\d{4}|\d{2})?)?")
_NAMED = re.compile(r"(\d{1,2})\.?\s*([a-z]{3,9})\.?(?:\s+(\d{4}))?")
_AHEAD = re.compile(r"\+\s*(\d{1,4})\s*(d|days?|w|weeks?)?")
_WORDS = {"today": 0, "tomorrow": 1}


def read_date(text: str, today: date) -> date | None:
    """Return the date meant, or None when nothing is typed.

    Parameters
    ----------
    text : str
        As typed: ``2026-12-04``, ``4.12.``, ``4/12``, ``4 Dec``, ``fri``, ``tomorrow``, ``+3``, ``+2w``.
    today : date
        The day it is said on, in the shop's zone.

    Raises
    ------
    BadInput
        If it is no date, is past, or lies more than five years ahead.

    Examples
    --------
    >>> wednesday = date(2026, 11, 25)
    >>> [str(read_date(t, wednesday)) for t in ("4.12.", "4/1", "fri", "wed", "+3")]
    ['2026-12-04', '2027-01-04', '2026-11-27', '2026-12-02', '2026-11-28']
    """
    said = " ".join(text.casefold().split())
    if not said:
        return None
    meant = _ahead(said, today) or _written(said, today)
    if meant is None:
        raise BadInput(f"'{_short(text)}' is not a date", hint=f"Write it like {WAYS}.")
    if meant < today:
        raise BadInput(f"{day_long(meant)} is past", hint="A promise lies ahead; today counts.")
    if (meant - today).days > FARTHEST_DAYS:
        raise BadInput(f"{day_long(meant)} is years away", hint="Look at the year again.")
    return meant


def _short(text: str) -> str:
    return " ".join(text.split())[:24]


def _ahead(said: str, today: date) -> date | None:
    """Read what is said from today on."""
    if said in _WORDS:
        return today + timedelta(days=_WORDS[said])
    if match := _AHEAD.fullmatch(said):
        weeks = (match[2] or "").startswith("w")
        return today + timedelta(days=int(match[1]) * (7 if weeks else 1))
    if (weekday := _weekday(said)) is not None:
        return today + timedelta(days=(weekday - today.weekday() - 1) % 7 + 1)
    return None


def _written(said: str, today: date) -> date | None:
    """Read what names its day and month."""
    if match := _ISO.fullmatch(said):
        return _on(int(match[3]), int(match[2]), int(match[1]), today)
    if match := _FIGURES.fullmatch(said):
        return _on(int(match[1]), int(match[2]), _year(match[3], today), today)
    if (match := _NAMED.fullmatch(said)) and (month := _month(match[2])):
        return _on(int(match[1]), month, _year(match[3], today), today)
    return None


def _weekday(said: str) -> int | None:
    """Return the number of a weekday, by its name or three letters of it or more."""
    names = [i for i, name in enumerate(DAYS) if len(said) > 2 and name.casefold().startswith(said)]  # noqa: PLR2004
    return names[0] if len(names) == 1 else None


def _month(said: str) -> int | None:
    found = [i for i, name in enumerate(MONTHS, 1) if name.casefold().startswith(said)]
    return found[0] if len(found) == 1 else None


def _year(said: str | None, today: date) -> int | None:
    if said is None:
        return None
    return int(said) if len(said) > 2 else today.year // CENTURY * CENTURY + int(said)  # noqa: PLR2004


def _on(number: int, month: int, year: int | None, today: date) -> date:
    """Return the day; without a year the next there is, which for 29 February may be years away."""
    years = (year,) if year is not None else range(today.year, today.year + 9)
    for one in years:
        try:
            meant = date(one, month, number)
        except (ValueError, OverflowError):
            continue
        if year is not None or meant >= today:
            return meant
    name = MONTHS[month - 1] if 1 <= month <= len(MONTHS) else f"month {month}"
    which = "" if year is None else f" {year}"
    raise BadInput(f"there is no {number} {name}{which}", hint="Day before month.")


def in_words(meant: date, today: date) -> str:
    """Return a date with its weekday and year, and how far away it is.

    Examples
    --------
    >>> in_words(date(2026, 12, 5), date(2026, 11, 25))
    'Sat 5 Dec 2026, in 10 days'
    """
    days = (meant - today).days
    near = {0: "today", 1: "tomorrow"}.get(days, f"in {days} days")
    return f"{day(meant)} {meant.year}, {near}"
