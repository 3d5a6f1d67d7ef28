"""Reading the story of the invented shop: who did what on which card, in a line each.

The files under ``sample_data`` are meant to be read and changed by people: tables for what the shop has,
and for every card a few lines of the form ``-12 09:10 Tom works``. A line that cannot be read is named.
"""

import csv
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime, time
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from shopcli.errors import BadInput
from shopcli.store.demo_days import Days

MARK = "demo-"  # operation ids of its first and last acts begin so; a demo is known by them
_LINE = re.compile(
    r"(?:(?P<day>-\d+) (?P<clock>\d\d:\d\d)|now-(?P<ago>\d+)) (?P<who>\S+) (?P<verb>\w+)(?: (?P<rest>.+))?"
)
_CARD_KEYS = frozenset(
    [
        "car",
        "jobs",
        "opened",
        "words",
        "title",
        "odometer",
        "authority",
        "authority_by",
        "promised",
        "left_with",
        "pace",
        "quick",
        "readings",
        "notes",
        "optional",
        "told",
    ]
)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the story: when, who, what, and the rest of the sentence."""

    at: datetime
    who: str
    verb: str
    rest: str
    text: str

    @property
    def parts(self) -> tuple[str, ...]:
        """The rest, cut at its bars."""
        return tuple(part.strip() for part in self.rest.split("|")) if self.rest else ()

    def part(self, index: int) -> str:
        """Return one part, empty when it is not there."""
        return self.parts[index] if index < len(self.parts) else ""


@dataclass(frozen=True, slots=True)
class Told:
    """A card as the story tells it.

    `pace` stretches the expected minutes, `quick` names tasks that leave nothing to wait for, `readings` are
    typed instead of what the player would type, `notes` are written when a task is done, `optional` names the
    optional parts that were fitted.
    """

    car: str
    jobs: tuple[str, ...]
    lines: tuple[Line, ...]
    words: str = ""
    title: str = ""
    odometer: int | None = None
    authority_minor: int | None = None
    authority_by: str = ""
    promised: str = ""
    left_with: str = ""
    pace: float = 1.0
    quick: tuple[str, ...] = ()
    readings: Mapping[str, str] = field(default_factory=dict)
    notes: Mapping[str, str] = field(default_factory=dict)
    optional: tuple[str, ...] = ()


def table(file: Path) -> tuple[dict[str, str], ...]:
    """Return the rows of a CSV file by the names in its first line."""
    with file.open(encoding="utf-8", newline="") as text:
        return tuple(dict(row) for row in csv.DictReader(text))


def minor(text: str) -> int:
    """Return an amount in whole minor units.

    Raises
    ------
    BadInput
        When it is no amount.

    Examples
    --------
    >>> minor("12.50")
    1250
    """
    return _whole(text, 100)


def milli(text: str) -> int:
    """Return a quantity in thousandths."""
    return _whole(text, 1000)


def _whole(text: str, times: int) -> int:
    try:
        scaled = Decimal(text.strip()) * times
    except InvalidOperation as error:
        raise BadInput(f"sample data: '{text}' is not a figure", hint="Write it like 12.50.") from error
    if scaled != scaled.to_integral_value():
        raise BadInput(f"sample data: '{text}' has too many decimals", hint="Write it like 12.50.")
    return int(scaled)


def read_line(text: str, days: Days) -> Line:
    """Return a line of the story.

    Raises
    ------
    BadInput
        When it does not say when, who and what.

    Examples
    --------
    >>> from datetime import UTC
    >>> from zoneinfo import ZoneInfo
    >>> days = Days(datetime(2026, 11, 25, 10, 15, tzinfo=UTC), ZoneInfo("Europe/London"))
    >>> line = read_line("-2 09:10 Tom finds soon | engine bay | hose perished", days)
    >>> line.at.isoformat(), line.verb, line.parts
    ('2026-11-23T09:10:00+00:00', 'finds', ('soon', 'engine bay', 'hose perished'))
    """
    found = _LINE.fullmatch(text)
    if found is None:
        raise BadInput(f"story: '{text}' cannot be read", hint="Write it like: -12 09:10 Tom works")
    if found["ago"]:
        at = days.ago(int(found["ago"]))
    else:
        at = days.at(int(found["day"]), time.fromisoformat(found["clock"]))
    return Line(at, found["who"], found["verb"], found["rest"] or "", text)


def read_story(file: Path, days: Days) -> tuple[Told, ...]:
    """Return every card of the story, as its file tells them.

    Raises
    ------
    BadInput
        When a card or a line of it cannot be read.
    """
    story = tomllib.loads(file.read_text(encoding="utf-8"))
    return tuple(_told(card, days) for card in story["card"])


def _told(card: dict[str, Any], days: Days) -> Told:
    unknown = sorted(set(card) - _CARD_KEYS)
    if unknown or not {"car", "opened"} <= set(card):
        raise BadInput(
            f"story: a card of {card.get('car', 'no car')} has {', '.join(unknown) or 'no opening'}",
            hint="A card has a car and when it was opened; known: " + ", ".join(sorted(_CARD_KEYS)) + ".",
        )
    authority = card.get("authority", "")
    return Told(
        car=card["car"],
        jobs=tuple(card.get("jobs", ())),
        lines=tuple(_lines(card, days)),
        words=card.get("words", ""),
        title=card.get("title", ""),
        odometer=card.get("odometer"),
        authority_minor=minor(authority) if authority else None,
        authority_by=card.get("authority_by", ""),
        promised=days.day(card["promised"]).isoformat() if "promised" in card else "",
        left_with=card.get("left_with", ""),
        pace=float(card.get("pace", 1.0)),
        quick=tuple(card.get("quick", ())),
        readings=dict(card.get("readings", {})),
        notes=dict(card.get("notes", {})),
        optional=tuple(card.get("optional", ())),
    )


def _lines(card: dict[str, Any], days: Days) -> Iterator[Line]:
    yield read_line(f"{card['opened']} opens", days)
    for text in card.get("told", "").splitlines():
        if text.strip():
            yield read_line(text.strip(), days)
