"""What is to be done on Monday about the cards that stand here: of each card one thing, the one that mends it.

What a card needs is told by how it stands: done, it is handed over; a fault that stops the car is asked about, for nothing goes on
without an answer; so is work past its authority; what is held wants what it is held for; what is begun wants hands. What it is
worth is told by its promise: `RANKS` in `shopcli.shop.week_to_do`. All limits here are common practice, no source.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopcli.shop.week_quality_views import Awaited, OfCard, ToDo
from shopcli.shop.week_to_do import (
    ARRIVED,
    AT_RISK,
    BEGIN,
    BEYOND,
    FINISH,
    GIVEN,
    HAND_OVER,
    HANDS,
    MONEY,
    PASSED,
    READY,
    STOP,
    STUCK,
    Day,
)
from shopcli.shop.week_views import AUTHORITY, DAY_S, FETCHING, OTHER, OUTWORK, PARTS, CardAge

BAY_DAYS = 7  # a booked car may stand a week
IDLE_DAYS = 2  # what nobody was on for so long waits for hands
NEAR_DAYS = 7  # a held car's promise is at risk so many days before
DONE = frozenset({READY, FETCHING})


@dataclass(frozen=True, slots=True)
class Besides:
    """What the records know of the cards here besides how they stand, by card."""

    awaited: Mapping[int, Awaited]
    arrived: Mapping[int, tuple[str, ...]]
    to_bill: Mapping[int, Decimal]
    beyond: Mapping[int, Decimal]


def of_cards(
    cards: Iterable[CardAge], besides: Besides, today: date, monday: date, day: Day
) -> Iterator[ToDo]:
    """Yield a line for each card that wants something on the next working day.

    Parameters
    ----------
    cards : iterable of CardAge
        Those that stand here.
    besides : Besides
        What is known of them besides.
    today, monday : date
        Today, and the next day the shop works.
    day : Day
        What a day is worth.
    """
    for card in cards:
        kind = wanted(card, besides, today)
        rank = _rank(card, kind, besides.awaited.get(card.card_id), today, monday)
        if rank is not None:
            yield _line(card, kind, rank, besides, day)


def wanted(card: CardAge, besides: Besides, today: date) -> str:
    """Return what mends a card: one of the kinds of `ToDo`."""
    if card.state in {"checked", "closed"}:
        return READY if card.state == "checked" else FETCHING
    if card.stop:
        return STOP
    if card.card_id in besides.beyond:
        return BEYOND
    if card.card_id in besides.arrived:
        return ARRIVED
    if card.state == "held":
        return card.waits or OTHER
    if card.state == "booked":
        return BEGIN
    if card.running:
        return FINISH
    begun = today - timedelta(days=card.since_s // DAY_S)
    new = card.last_on is None or card.last_on < begun
    return GIVEN if new and card.waited == AUTHORITY else HANDS


def _rank(card: CardAge, kind: str, awaited: Awaited | None, today: date, monday: date) -> int | None:
    """Return which rank a card's line is of; None where it can be left."""
    promised = card.promised
    if kind in DONE:
        return HAND_OVER if promised and promised <= monday else MONEY
    if promised and promised < today:
        return PASSED
    if promised and (promised <= monday or _will_break(card, kind, awaited, promised, today)):
        return AT_RISK
    if kind == BEYOND:
        return MONEY
    return STUCK if _stuck(card, kind, today) else None


def _will_break(card: CardAge, kind: str, awaited: Awaited | None, promised: date, today: date) -> bool:
    """Return whether a promise is at risk: nothing can be done on the car, and what it waits for has no day before it."""
    if card.state != "held" and kind != STOP:
        return False
    if kind in {PARTS, OUTWORK} and awaited is not None and awaited.due is not None:
        return not today <= awaited.due < promised
    return promised <= today + timedelta(days=NEAR_DAYS)


def _stuck(card: CardAge, kind: str, today: date) -> bool:
    if kind == BEGIN:
        return card.since_s > BAY_DAYS * DAY_S
    if kind == HANDS:
        return _idle(card, today) >= IDLE_DAYS
    return kind != FINISH


def _idle(card: CardAge, today: date) -> int:
    """Return for how many days nobody was on a card that is in hand."""
    since = today - timedelta(days=card.since_s // DAY_S)
    return (today - max(since, card.last_on or since)).days


def _line(card: CardAge, kind: str, rank: int, besides: Besides, day: Day) -> ToDo:
    key, awaited = card.card_id, besides.awaited.get(card.card_id)
    amount = (
        besides.beyond.get(key) if kind == BEYOND else besides.to_bill.get(key) if kind == READY else None
    )
    since = card.since_s // DAY_S
    of = OfCard(
        card_id=key,
        number=card.number,
        registration=card.registration,
        car=card.car,
        customer=card.customer,
        phone=card.phone,
        promised=card.promised,
        since=since,
        what=_what(card, kind, besides, awaited),
        late=rank == PASSED,
        pressing=rank in {HAND_OVER, AT_RISK},
        awaited=awaited if kind in {PARTS, OUTWORK} else None,
        limit=card.authority if kind == BEYOND else None,
    )
    return ToDo(
        kind,
        f"card:{key}",
        1,
        card.since_s / DAY_S + day.of_money(amount or Decimal(0)),
        days=since,
        amount=amount,
        rank=rank,
        due=None if rank == MONEY else card.promised,
        card=of,
    )


def _what(card: CardAge, kind: str, besides: Besides, awaited: Awaited | None) -> str:
    if kind == STOP:
        return card.stop
    if kind == ARRIVED:
        return ", ".join(besides.arrived[card.card_id])
    if kind in {PARTS, OUTWORK} and awaited is not None:
        return awaited.what
    return card.held_for or card.title
