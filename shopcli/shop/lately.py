"""What is seen of the journal: one's last acts with what taking them back would do, and where a card stands."""

from dataclasses import dataclass
from datetime import date, datetime

from shopcli.shop.command import Command
from shopcli.shop.known import FindingView, OwedView
from shopcli.shop.time_views import StandingView
from shopcli.shop.views import PartLineView, TagView


@dataclass(frozen=True, slots=True)
class LastAct:
    """An act of somebody's today. `effects` is what taking it back does; `cannot` why it is final, `instead` what to do.

    `task_id` is the task the act was about, where it was one.
    """

    id: int
    act: str
    short: str
    at: datetime
    said: tuple[str, ...]
    effects: tuple[str, ...]
    cannot: str
    instead: str
    task_id: int | None


@dataclass(frozen=True, slots=True)
class AgainView:
    """An act that was taken back and can be done again: what is asked, what was answered to it, when it was done."""

    command: Command
    said: tuple[str, ...]
    at: datetime


@dataclass(frozen=True, slots=True)
class LatelyView:
    """An act on a card: who, when, what kind (``work``, ``parts``, ``card``, ``number``), in words."""

    at: datetime
    person: str
    kind: str
    words: str


@dataclass(frozen=True, slots=True)
class WaitView:
    """Something that goes on by itself after a done task: draining, soaking, charging."""

    task: str
    until: datetime


@dataclass(frozen=True, slots=True)
class NextView:
    """The next thing to do. `barred_by` names the tags in its way."""

    task_id: int
    task: str
    place: str
    minutes: int
    barred_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WhereView:
    """Where a card stands, for somebody who comes back to it.

    `mine` is their own last act on it, `meanwhile` what others did since; `parts` are those the work still waits for,
    be they here or not; `stops` was seen and forbids driving.
    """

    card_id: int
    card: str
    registration: str
    vehicle: str
    title: str
    state: str
    held_for: str
    now: datetime
    promised: date | None
    distance_unit: str
    in_hand: tuple[StandingView, ...]
    mine: LatelyView | None
    last: tuple[LatelyView, ...]
    meanwhile: tuple[LatelyView, ...]
    tags: tuple[TagView, ...]
    stops: tuple[FindingView, ...]
    owed: tuple[OwedView, ...]
    waits: tuple[WaitView, ...]
    parts: tuple[PartLineView, ...]
    outwork: tuple[str, ...]
    settled: int
    tasks: int
    next: NextView | None
