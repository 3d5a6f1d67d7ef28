"""What is still to be done on every open card, as the records say: the queue a promise date is read from.

The order is the desk's: what somebody is at, then by promise, then by the day the card was opened. A held card is
in nobody's way and has no date; one that waits for parts or outwork begins when they are due.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from shopcli.shop.fetching import Fetch
from shopcli.shop.own_times_now import LISTED_NOW

CARDS = """
SELECT c.id, c.number, v.registration, k.name, k.phone, v.sheet, c.state, c.held_for, c.promised, c.opened_at, c.hands
FROM card c JOIN vehicle v ON v.id = c.vehicle_id JOIN customer k ON k.id = c.customer_id
WHERE c.state IN ('booked', 'in hand', 'held') ORDER BY c.opened_at, c.id"""
TASKS = f"""
SELECT t.card_id, t.key, t.template, {LISTED_NOW}, t.waits,
       (SELECT COALESCE(SUM(COALESCE(x.ended_at, ?) - x.started_at), 0) FROM clock_entry x WHERE x.task_id = t.id),
       (SELECT COUNT(*) FROM clock_entry x WHERE x.task_id = t.id AND x.ended_at IS NULL),
       CASE WHEN EXISTS (SELECT 1 FROM task w WHERE w.card_id = t.card_id AND w.state = 'open' AND w.waits > 0)
            THEN t.frozen ELSE '' END
FROM task t WHERE t.card_id IN (SELECT id FROM card WHERE state IN ('booked', 'in hand', 'held'))
AND t.state = 'open' ORDER BY t.card_id, t.position"""
ON_ORDER = """
SELECT l.card_id, l.description, COALESCE((
    SELECT MIN(o.due) FROM order_line o JOIN purchase_order p ON p.id = o.order_id
    WHERE (o.id = l.order_line_id OR (l.order_line_id IS NULL AND o.part_id = l.part_id))
    AND o.due <> '' AND o.closed_for = '' AND o.in_milli < o.qty_milli
    AND p.state IN ('sent', 'part in')), '')
FROM card_part l JOIN card c ON c.id = l.card_id
WHERE l.state = 'on order' AND NOT l.optional AND c.state IN ('booked', 'in hand', 'held') ORDER BY l.id"""
OUT = """
SELECT o.card_id, o.what, o.due FROM outwork o JOIN card c ON c.id = o.card_id
WHERE o.back = '' AND c.state IN ('booked', 'in hand', 'held') ORDER BY o.id"""


@dataclass(frozen=True, slots=True)
class JobLeft:
    """What is left of one job on a card: listed minutes of its open tasks, and what was clocked on these, [min]."""

    template: str
    listed_min: float
    clocked_min: float


@dataclass(frozen=True, slots=True)
class CardLeft:
    """A card in the queue. `chain` is the longest run of tasks that wait for one another: (hands-on, wait after), [min].

    `due` is the last day something it waits for is due, `unknown` what it waits for without a day.
    """

    id: int
    number: str
    registration: str
    customer: str
    phone: str
    sheet: str
    state: str
    held_for: str
    promised: date | None
    opened_at: int
    hands: int | None
    running: bool = False
    jobs: tuple[JobLeft, ...] = ()
    chain: tuple[tuple[float, float], ...] = ()
    due: date | None = None
    unknown: tuple[str, ...] = ()

    @property
    def listed_min(self) -> float:
        """Listed hands-on time left, [min]."""
        return sum(j.listed_min for j in self.jobs)


@dataclass(slots=True)
class _Gathered:
    jobs: dict[str, list[float]] = field(default_factory=dict)
    tasks: list[tuple[str, float, float, tuple[str, ...]]] = field(default_factory=list)
    running: bool = False
    dues: list[date] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)


def cards_left(fetch: Fetch, at: int) -> tuple[CardLeft, ...]:
    """Return every open card that is not checked, in the order the desk takes them.

    Parameters
    ----------
    fetch : callable
        Reads rows by SQL text with ``?`` parameters.
    at : int
        Now, in seconds UTC: a running clock counts up to it, [s]
    """
    found: dict[int, _Gathered] = {}
    for card_id, key, template, minutes, waits, seconds, running, frozen in fetch(TASKS, (at,)):
        card = found.setdefault(card_id, _Gathered())
        job = card.jobs.setdefault(template, [0.0, 0.0])
        job[0] += float(minutes)
        job[1] += int(seconds) / 60
        card.running = card.running or bool(running)
        if frozen:
            card.tasks.append((key, float(minutes), float(waits), tuple(json.loads(frozen).get("after", ()))))
    for sql in (ON_ORDER, OUT):
        for card_id, what, due in fetch(sql):
            card = found.setdefault(card_id, _Gathered())
            if due:
                card.dues.append(date.fromisoformat(due))
            else:
                card.unknown.append(what)
    rows = [_card(row, found.get(row[0], _Gathered())) for row in fetch(CARDS)]
    return tuple(sorted(rows, key=lambda c: (not c.running, c.promised or date.max, c.opened_at, c.id)))


def _card(row: tuple[Any, ...], found: _Gathered) -> CardLeft:
    key, number, registration, customer, phone, sheet, state, held_for, promised, opened_at, hands = row
    return CardLeft(
        id=key,
        number=number,
        registration=registration,
        customer=customer,
        phone=phone,
        sheet=sheet,
        state=state,
        held_for=held_for,
        promised=date.fromisoformat(promised) if promised else None,
        opened_at=opened_at,
        hands=hands,
        running=found.running,
        jobs=tuple(JobLeft(name, *times) for name, times in found.jobs.items()),
        chain=tuple(longest_chain(found.tasks)),
        due=max(found.dues, default=None),
        unknown=tuple(found.unknown),
    )


def longest_chain(
    tasks: Iterable[tuple[str, float, float, tuple[str, ...]]],
) -> list[tuple[float, float]]:
    """Return the run of tasks that takes longest from beginning to end, as (hands-on, wait after it) each, [min].

    Parameters
    ----------
    tasks : iterable of (key, minutes, waits, after)
        Each after those it waits for; what is not among them is over.

    Examples
    --------
    >>> drain, fill, points = ("drain", 5, 20, ()), ("fill", 10, 0, ("drain",)), ("points", 30, 0, ())
    >>> longest_chain([drain, fill, points]), longest_chain([drain, points])
    ([(5, 20), (10, 0)], [(30, 0)])
    """
    best: dict[str, tuple[float, str | None]] = {}
    steps: dict[str, tuple[float, float]] = {}
    for key, minutes, waits, after in tasks:
        before = max((k for k in after if k in best), key=lambda k: best[k][0], default=None)
        best[key] = (minutes + waits + (best[before][0] if before else 0), before)
        steps[key] = (minutes, waits)
    last = max(best, key=lambda k: best[k][0], default=None)
    found = []
    while last is not None:
        found.append(steps[last])
        last = best[last][1]
    return found[::-1]
