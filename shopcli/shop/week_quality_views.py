"""What the owner sees of what goes wrong, of the weeks that were, and of what to do on Monday."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.week_period import Period


@dataclass(frozen=True, slots=True)
class Comeback:
    """A card opened on a vehicle for a system that an earlier card was closed for not long before.

    That is within 90 days, and within 3,000 miles where both odometers are known: whichever passes first ends it.
    """

    card_id: int
    number: str
    registration: str
    system: str
    title: str
    opened: date
    before_id: int
    before: str
    before_title: str
    days: int
    miles: int | None


@dataclass(frozen=True, slots=True)
class Noticed:
    """Something of the records worth a look: a reading left out of its limits, a check waived, a number confirmed, a tool."""

    card_id: int | None
    card: str
    registration: str
    what: str
    detail: str
    person: str
    on: date | None


@dataclass(frozen=True, slots=True)
class QualityView:
    """What the shop keeps getting wrong. `finished` is how many cards were closed in the period.

    Comebacks are those opened in the period; readings are of cards closed in it; `tools` are past their calibration now.
    Keys: ``comebacks``, ``limits``, ``waived``, ``practice``, ``tools``.
    """

    period: Period
    finished: int
    comebacks: tuple[Comeback, ...]
    limits: tuple[Noticed, ...]
    waived: tuple[Noticed, ...]
    practice: tuple[Noticed, ...]
    tools: tuple[Noticed, ...]


@dataclass(frozen=True, slots=True)
class PastWeeks:
    """The whole weeks before this one, oldest first: cards closed on each day, Monday first, and how many were open.

    `stood` were open at the start of each. `queue` are the cards open at the start of this week, `gone` were closed
    since, on each day up to today. `monday` is that of this week: the day the queue is counted from. Key: ``queue``.
    """

    monday: date
    today: date
    past: tuple[tuple[int, ...], ...]
    stood: tuple[int, ...]
    queue: int
    gone: tuple[int, ...]
    open_now: int


@dataclass(frozen=True, slots=True)
class ToDo:
    """A line of the Monday list. `kind` says which rule made it, `key` opens its rows; what it does not speak of is None.

    Kinds are those of `WAITS`, and ``late`` (promises passed), ``unpaid`` (long overdue), ``listed`` (the job `name` takes
    `factor` times what it is listed at, by `count` cases), ``loses`` (the job's margin is `amount`), ``comebacks`` (for the
    system `name`), ``tools`` (past calibration), ``unclocked`` (`name` clocked `factor` of the paid time of last week).

    `weight` is what it was ordered by: a day one car waits is worth one, and so is what such a day costs the shop.
    """

    kind: str
    key: str
    count: int
    weight: float
    days: int | None = None
    amount: Decimal | None = None
    name: str = ""
    factor: float | None = None
