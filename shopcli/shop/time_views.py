"""What is seen of people's time: a day with its stretches, who stands where now, what wants to be asked about."""

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class StretchView:
    """A stretch of somebody's day: ``work`` on a task or a ``break`` from it. Without `ended` it goes on.

    `seconds` is what of it lies on the day shown; `settled` says that its card is closed and it stands for good.
    """

    kind: str
    id: int
    task_id: int
    task: str
    card_id: int
    card: str
    registration: str
    started: datetime
    ended: datetime | None
    seconds: int
    corrected: str
    settled: bool


@dataclass(frozen=True, slots=True)
class DayView:
    """Somebody's day: in order of time, with the sums of work and of breaks."""

    person_id: int
    person: str
    day: date
    stretches: tuple[StretchView, ...]
    worked_seconds: int
    break_seconds: int
    opens: datetime | None
    shuts: datetime | None


@dataclass(frozen=True, slots=True)
class AskedView:
    """A clock to be asked about: it ran past the shop's end or past midnight. Without `ended` it still runs."""

    entry_id: int
    person_id: int
    task: str
    card: str
    started: datetime
    ended: datetime | None
    until: datetime
    why: str


@dataclass(frozen=True, slots=True)
class StandingView:
    """Where somebody stands now: on a task, on a ``break`` from it, or nowhere (empty `card`); whether they have a PIN."""

    person_id: int
    person: str
    role: str
    units: str
    state: str
    card_id: int | None
    card: str
    task_id: int | None
    task: str
    since: datetime | None
    has_pin: bool = False
