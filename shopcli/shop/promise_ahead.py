"""A promise date one can keep: the queue played many times over, with what is not known of each job.

The same draws serve every question about one queue, so that a card never slips merely by chance.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from random import Random

from shopcli.shop.price_views import PromiseView, Slip
from shopcli.shop.queue_now import CardLeft, JobLeft
from shopcli.shop.settings import Settings
from shopcli.shop.workdays import Workdays, open_share
from shopcli.workings.estimates import SEED, Drawn, Estimator, at
from shopcli.workings.queueing import Queued, finishes

# So often a queue is drawn; a long one less often, so that nobody waits for its date.
DRAWS, FEWEST, CARD_DRAWS = 400, 100, 24_000
USUAL, SURE = 0.5, 0.85
A_LITTLE_MIN = 2.0  # what is begun is not over before somebody says so
LONG_WAIT_MIN = 240  # a wait as long as this goes on when the shop is shut
NEW = 0  # stands where a card not opened yet would have its number


@dataclass(frozen=True, slots=True)
class Played:
    """When each card is over: its sure and usual day, and in each draw, [min of work from now]."""

    days: Workdays
    over: dict[int, list[float]]

    def day(self, card_id: int, part: float) -> date | None:
        """Return the day that part of the queues keep."""
        return self.days.day_of(at(self.over[card_id], part))

    def chance(self, card_id: int, day: date) -> int:
        """Return how many in 100 are over by the end of a day."""
        limit = self.days.minutes_through(day)
        values = self.over[card_id]
        return round(100 * sum(v <= limit for v in values) / len(values))


class Queue:
    """The open cards and what is not known of them, drawn once.

    Parameters
    ----------
    cards : sequence of CardLeft
        In the order the desk takes them; held ones stand aside.
    estimator : Estimator
        The shop's past.
    settings : Settings
        Hours, holidays, usual hands.
    at_s : int
        Now, in seconds UTC, [s]
    people : int
        How many work on cars.
    """

    def __init__(
        self, cards: Sequence[CardLeft], estimator: Estimator, settings: Settings, at_s: int, people: int
    ) -> None:
        self.cards = tuple(c for c in cards if c.state != "held" or c.due is not None)
        self.aside = tuple(c for c in cards if c.state == "held" and c.due is None)
        self.days = Workdays(settings, at_s)
        self.people = max(1, people)
        self._settings = settings
        self._rng = Random(SEED)  # noqa: S311 - the same answer every time is wanted
        self.draws = max(FEWEST, min(DRAWS, CARD_DRAWS // max(1, len(cards))))
        self._shops = [estimator.draw(self._rng) for _ in range(self.draws)]
        self._queued = {card.id: self._drawn(card) for card in self.cards}

    def add(self, card: CardLeft) -> None:
        """Draw a card that is not open yet."""
        self._queued[card.id] = self._drawn(card)

    def played(self, cards: Iterable[CardLeft]) -> Played:
        """Play the queue in that order."""
        order = list(cards)
        over = finishes([self._queued[c.id] for c in order], self.people, self.draws)
        return Played(self.days, {c.id: sorted(values) for c, values in zip(order, over, strict=True)})

    def _drawn(self, card: CardLeft) -> Queued:
        share = self._settings.work_share / 100
        least = sum(minutes + self._waits(waits) * share for minutes, waits in card.chain)
        ready = self.days.minutes_before(card.due) if card.due and card.due > self.days.today else 0.0
        hands = card.hands or self._settings.hands
        return Queued([_needs(drawn, card) for drawn in self._shops], hands, ready, least)

    def _waits(self, minutes: float) -> float:
        return minutes * open_share(self._settings) if minutes >= LONG_WAIT_MIN else minutes


def _needs(drawn: Drawn, card: CardLeft) -> float:
    return sum(_left(job, drawn.ratio(job.template, card.sheet)) for job in card.jobs if job.listed_min)


def _left(job: JobLeft, ratio: float) -> float:
    return max(A_LITTLE_MIN, job.listed_min * ratio - job.clocked_min)


def promise(queue: Queue, new: CardLeft, at_s: int, wanted: date | None = None) -> PromiseView:
    """Return when a card that is not open yet, or one that is, could be ready.

    Parameters
    ----------
    queue : Queue
        The open cards.
    new : CardLeft
        What is asked about: one of the open cards, which stands where the desk has it, or one to be put last.
    at_s : int
        Now, in seconds UTC, [s]
    wanted : date, optional
        A date to be looked at: it stands where that promise puts it.
    """
    others = [c for c in queue.cards if c.id != new.id]
    stands = new in queue.cards
    if not stands:
        queue.add(new)
    as_is = queue.played(queue.cards if stands else others)
    last = as_is if stands else queue.played([*others, new])
    first = queue.played([new, *others])
    promised = replace(new, promised=wanted) if wanted else None
    asked = queue.played(_in_place(others, promised)) if promised else None
    return PromiseView(
        at=at_s,
        today=queue.days.today,
        usual=last.day(new.id, USUAL),
        sure=last.day(new.id, SURE),
        squeezed_usual=first.day(new.id, USUAL),
        squeezed_sure=first.day(new.id, SURE),
        slips=slips(others, as_is, first),
        late=late(others, as_is),
        cards=queue.cards.index(new) if stands else len(others),
        hands=queue.people,
        wanted=wanted,
        chance=asked.chance(new.id, wanted) if asked and wanted else None,
        wanted_slips=slips(others, as_is, asked) if asked else (),
        notes=tuple(_notes(queue, others, new)),
        waits=_waits(new),
    )


def _in_place(others: Sequence[CardLeft], new: CardLeft) -> list[CardLeft]:
    """Return the queue with a promised card behind those promised for the same day or before."""
    wanted = new.promised or date.max
    before = [c for c in others if c.running or (c.promised or date.max) <= wanted]
    return [*before, new, *(c for c in others if c not in before)]


def slips(cards: Iterable[CardLeft], before: Played, after: Played) -> tuple[Slip, ...]:
    """Return the cards whose sure date moves past their promise."""
    return tuple(
        _slip(card, was, then)
        for card, was, then in _sure(cards, before, after)
        if was <= (card.promised or date.max) < then
    )


def late(cards: Iterable[CardLeft], now: Played) -> tuple[Slip, ...]:
    """Return the cards whose sure date is past their promise as it is."""
    return tuple(
        _slip(card, was, was) for card, was, _ in _sure(cards, now, now) if was > (card.promised or date.max)
    )


def _sure(cards: Iterable[CardLeft], before: Played, after: Played) -> Iterable[tuple[CardLeft, date, date]]:
    for card in cards:
        if card.promised is not None:
            was, then = before.day(card.id, SURE), after.day(card.id, SURE)
            yield card, was or date.max, then or date.max


def _slip(card: CardLeft, was: date, then: date) -> Slip:
    promised = card.promised or date.max
    return Slip(card.id, card.number, card.registration, card.customer, card.phone, promised, was, then)


def _notes(queue: Queue, others: Iterable[CardLeft], new: CardLeft) -> Iterable[str]:
    held = ", ".join(c.number for c in queue.aside if c.id != new.id)
    if held:
        yield f"Held and not counted: {held}."
    unknown = ", ".join(c.number for c in others if c.unknown)
    if unknown:
        yield f"Waits for parts or outwork without a due date, counted as if they were here: {unknown}."


def _waits(card: CardLeft) -> str:
    """Return why no day is sure; what is held for goods that are due begins when they come."""
    if card.unknown:
        return f"not here, and without a due date: {', '.join(card.unknown)}"
    if card.state == "held" and card.due is None:
        return f"it is held: {card.held_for}"
    return ""
