"""What the owner sees of what goes wrong, of the weeks that were, and of what to do on Monday."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.week_period import Period


@dataclass(frozen=True, slots=True)
class Comeback:
    """A card opened on a vehicle for a system that an earlier card was closed for not long before.

    That is within 90 days, and within 3,000 miles where both odometers are known: whichever passes first ends it.
    It is `planned` where the system is seen to because a service was due, and not because something was wrong.
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
    planned: bool = False


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
class Awaited:
    """What a card waits for from outside: what, from whom, whom to ring, and the day it is due where one was named."""

    what: str
    who: str
    phone: str
    due: date | None


@dataclass(frozen=True, slots=True)
class OfCard:
    """The card a line of the Monday list is about, with all that is needed to mend it: which car, whose, whom to ring.

    `what` is what it is about in the words written down; `late` says whether the promise was broken, `pressing` whether it is
    about to be. `since` are whole days it stands as it does.
    """

    card_id: int
    number: str
    registration: str
    car: str
    customer: str
    phone: str
    promised: date | None
    since: int
    what: str = ""
    late: bool = False
    pressing: bool = False
    awaited: Awaited | None = None
    limit: Decimal | None = None


@dataclass(frozen=True, slots=True)
class ToDo:
    """A line of the Monday list. `kind` says which rule made it, `key` opens its rows; what it does not speak of is None.

    Of a card: ``ready`` (to be handed over and billed), ``fetching`` (billed, to be fetched), ``stop`` (a fault that stops the
    car, the customer has not answered), ``beyond`` (the work is past the authority, `amount` is what it came to), ``authority``,
    ``parts``, ``arrived`` (its parts are here), ``outwork``, ``other`` (held, as it waits), ``given`` (authority was given), ``hands`` (nobody is on it),
    ``begin`` (booked), ``finish``.
    Else ``unpaid`` (long overdue), ``listed`` (the job `name` takes `factor` times what it is listed at, by `count` cases),
    ``loses`` (the job's margin is `amount`), ``back`` (a car that came back this week, not for a planned service), ``comebacks`` (for the system `name`), ``tools``
    (past calibration), ``unclocked`` (`name` clocked `factor` of the paid time of last week).

    `rank` and `due` come before `weight`: a day one car waits weighs one, and so does what such a day costs the shop. `more` is how
    many lines like it were left out.
    """

    kind: str
    key: str
    count: int
    weight: float
    days: int | None = None
    amount: Decimal | None = None
    name: str = ""
    factor: float | None = None
    rank: int = 0
    due: date | None = None
    card: OfCard | None = None
    more: int = 0
