"""What the tables of the week hold, reckoned from the records: pure, so that keeping and checking share it.

Hours of an entry by the days of the shop's zone; what an invoice sold, by task and person; what was taken off it; where a card
stood and what it waited for.
"""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, tzinfo
from decimal import Decimal
from typing import Any, NamedTuple

from shopcli.shop.hours import by_day
from shopcli.shop.week_period import week_name
from shopcli.shop.week_views import AUTHORITY, BAY, FETCHING, OTHER, OUTWORK, PARTS

# A card is held with a reason in somebody's own words; these tell of them what it waits for.
TOLD_BY = (
    (OUTWORK, r"\b(outwork|sent out|machin\w*|plat(er|ers|ing)|rewind\w*|rebor\w*|regrind\w*|away for)\b"),
    (AUTHORITY, r"\b(authori\w+|go-ahead|permission|approv\w+|ring\w*|customer)\b"),
    (PARTS, r"\b(on its way|parts?|spares?|deliver\w*|order\w*|stock|supplier)\b"),
)
GONE = ""  # the state of a card that stands here no more


class Entry(NamedTuple):
    """A clock entry that ended, with the template of its task."""

    id: int
    person_id: int
    card_id: int
    task_id: int
    template: str
    started_at: int
    ended_at: int


class DayRow(NamedTuple):
    """A row of `day_hours`."""

    entry_id: int
    day: str
    week: str
    person_id: int
    card_id: int
    task_id: int
    template: str
    seconds: int


def days_of(entry: Entry, zone: tzinfo) -> list[DayRow]:
    """Return what of an entry lies on each day, split at the midnights of the zone."""
    found = by_day(entry.started_at, entry.ended_at, zone)
    return [
        DayRow(entry.id, day.isoformat(), week_name(day), *entry[1:5], seconds)
        for day, seconds in found.items()
    ]


def shared(whole: int, parts: Mapping[int, int]) -> dict[int, int]:
    """Share a whole number in proportion; what is left over goes one each to the largest remainders.

    Examples
    --------
    >>> shared(100, {1: 1, 2: 1, 3: 1}), shared(7, {5: 0})
    ({1: 34, 2: 33, 3: 33}, {5: 7})
    """
    weights = dict(parts) if any(parts.values()) else dict.fromkeys(parts, 1)
    every, sign = sum(weights.values()), -1 if whole < 0 else 1
    found = {key: abs(whole) * part // every for key, part in weights.items()}
    left = abs(whole) - sum(found.values())
    order = sorted(weights, key=lambda key: (-(abs(whole) * weights[key] % every), key))
    for key in order[:left]:
        found[key] += 1
    return {key: sign * value for key, value in found.items()}


class JobRow(NamedTuple):
    """A row of `job_times`."""

    card_id: int
    template: str
    closed_at: int
    listed_milli: int
    seconds: int


def jobs_of(card_id: int, closed_at: int, tasks: Iterable[tuple[str, int, int, int]]) -> list[JobRow]:
    """Return what the jobs of a closed card took.

    Parameters
    ----------
    card_id, closed_at : int
        The card, and when it was closed, seconds UTC.
    tasks : iterable of (str, int, int, int)
        Template, listed minutes, the shop's own factor in them in thousandths, and seconds clocked, of each done task.
    """
    found: dict[str, list[int]] = {}
    for template, minutes, per_mille, clocked in tasks:
        job = found.setdefault(template, [0, 0])
        job[0] += round(minutes * 1_000_000 / per_mille)
        job[1] += clocked
    return [JobRow(card_id, name, closed_at, listed, clocked) for name, (listed, clocked) in found.items()]


class SoldRow(NamedTuple):
    """What an invoice sold of one task's work of one person, [s] and minor units."""

    task_id: int
    person_id: int
    seconds: int
    minor: int


def sold_of(body: Mapping[str, Any], clocked: Iterable[tuple[int, int, int]]) -> list[SoldRow]:
    """Return the labour an invoice sold, by task and person.

    Parameters
    ----------
    body : mapping
        The invoice's body; its labour lines are named after their tasks.
    clocked : iterable of (int, int, int)
        Task, person, seconds on the card.
    """
    people: dict[int, dict[int, int]] = {}
    for task_id, person_id, seconds in clocked:
        there = people.setdefault(task_id, {})
        there[person_id] = there.get(person_id, 0) + seconds
    found = []
    for line in body.get("lines", ()):
        task_id = int(line["id"][1:]) if line["kind"] == "labour" and line["id"][1:].isdigit() else 0
        if task_id not in people:
            continue
        hours = Decimal(line["qty"]) * (3600 if line["unit"] == "h" else 60)
        seconds = shared(round(hours), people[task_id])
        minor = shared(_minor(line["net"]), people[task_id])
        found += [SoldRow(task_id, who, seconds[who], minor[who]) for who in people[task_id]]
    return found


def off_of(body: Mapping[str, Any]) -> int:
    """Return what was taken off a bill, lines and foot, less what was put on it, minor units."""
    # Bills of the first versions know of neither.
    lines, foot = body.get("lines", ()), body.get("allowances", ())
    on_lines = sum(_minor(x.get("allowance", "0")) - _minor(x.get("charge", "0")) for x in lines)
    return on_lines + sum(-_minor(a["amount"]) if a["charge"] else _minor(a["amount"]) for a in foot)


def _minor(text: str) -> int:
    return int(Decimal(text).scaleb(2))


@dataclass(frozen=True, slots=True)
class Stand:
    """How a card stands: its state, what it waits for, the reason written. Without a state it stands here no more."""

    state: str
    waits: str = ""
    why: str = ""


def stand_of(state: str, held_for: str, for_parts: object, handed_at: int | None) -> Stand:
    """Return how a card stands.

    Examples
    --------
    >>> stand_of("held", "head away for a skim", False, None).waits, stand_of("booked", "", False, None).waits
    ('outwork', 'bay')
    >>> stand_of("closed", "", False, 1)
    Stand(state='', waits='', why='')
    """
    if state == "void" or handed_at is not None:
        return Stand(GONE)
    if state == "held":
        return Stand(state, PARTS if for_parts else told_by(held_for), held_for)
    return Stand(state, {"booked": BAY, "closed": FETCHING}.get(state, ""))


def told_by(reason: str) -> str:
    """Return what a card waits for by the words of the reason it is held for.

    Examples
    --------
    >>> told_by("Customer to say"), told_by("gasket on order"), told_by("no room")
    ('authority', 'parts', 'other')
    """
    text = reason.casefold()
    return next((waits for waits, words in TOLD_BY if re.search(words, text)), OTHER)


class Stay(NamedTuple):
    """A row of `card_stay` but for its card."""

    nth: int
    stand: Stand
    started_at: int
    ended_at: int | None


def stays_of(events: Sequence[tuple[int, Stand]]) -> list[Stay]:
    """Return the stays of a card from when it came to stand in which way, in order; the clock never runs backwards."""
    found: list[Stay] = []
    for at, stand in events:
        found = moved(found, at, stand)
    return found


def moved(stays: list[Stay], at: int, stand: Stand) -> list[Stay]:
    """Return the stays with one more turn of things; what stands as before goes on."""
    last = stays[-1] if stays else None
    if last and last.ended_at is None:
        if last.stand == stand:
            return stays
        at = max(at, last.started_at)
        stays = [*stays[:-1], last._replace(ended_at=at)]
    if not stand.state:
        return stays
    return [*stays, Stay(len(stays), stand, at, None)]


def day_of(text: str) -> date:
    """Return an ISO day."""
    return date.fromisoformat(text)


def read_body(text: str) -> Mapping[str, Any]:
    """Return the body of an invoice as it was written."""
    found: Mapping[str, Any] = json.loads(text)
    return found
