"""What the owner's week is made of: periods, flow, hours, money, estimates, quality, what was, what to do on Monday.

Every figure carries, or belongs to, a key by which `shopcli.store.reads.week_rows.rows_of` opens the rows it is made of.
Days and weeks are those of the shop's zone, weeks are ISO weeks. Durations are whole seconds, sums Decimals of the
shop's currency without VAT unless it is said otherwise.

Read by ``flow(shop, period)``, ``hours(shop, period)``, ``money(shop, period)``, ``quality(shop, period)`` in
`shopcli.store.reads.week_flow`, ``week_hours``, ``week_money``, ``week_quality``; ``actuals(shop)`` in ``week_actuals``,
``past_weeks(shop)`` in ``week_past``, ``to_do(shop)`` in ``week_to_do``, ``rows_of(shop, period, key)`` in ``week_rows``.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.week_money_views import (
    Actuals,
    AgeBand,
    Case,
    Earning,
    MoneyView,
    MoneyWeek,
)
from shopcli.shop.week_period import (
    DAY_S,
    WEEK_DAYS,
    Opened,
    OpenedRow,
    Period,
    monday_of,
    week_name,
)
from shopcli.shop.week_quality_views import (
    Comeback,
    Noticed,
    PastWeeks,
    QualityView,
    ToDo,
)

__all__ = [
    "AUTHORITY",
    "BAY",
    "DAY_S",
    "FETCHING",
    "OTHER",
    "OUTWORK",
    "PARTS",
    "WAITS",
    "WEEK_DAYS",
    "Actuals",
    "AgeBand",
    "CardAge",
    "Case",
    "Comeback",
    "Earning",
    "FlowView",
    "HoursLine",
    "HoursView",
    "MoneyView",
    "MoneyWeek",
    "Noticed",
    "Opened",
    "OpenedRow",
    "PastWeeks",
    "Period",
    "QualityView",
    "Spent",
    "ToDo",
    "Unclocked",
    "Waiting",
    "WeekFlow",
    "monday_of",
    "week_name",
]

# Where a card waits. `in hand` and `checked` are no waits but stand beside them in what time was spent on.
BAY, PARTS, AUTHORITY, OUTWORK, OTHER, FETCHING = "bay", "parts", "authority", "outwork", "other", "fetching"
WAITS = (BAY, PARTS, AUTHORITY, OUTWORK, OTHER, FETCHING)


@dataclass(frozen=True, slots=True)
class WeekFlow:
    """One week of cards. `closed` had their work finished, `left` were handed over, `in_shop` stood here at its end.

    Keys: ``opened:WEEK``, ``closed:WEEK``, ``left:WEEK``, ``in-shop:WEEK``.
    """

    week: str
    monday: date
    opened: int
    closed: int
    left: int
    in_shop: int


@dataclass(frozen=True, slots=True)
class Spent:
    """Time a card spent in a state; `waits` is one of `WAITS` or empty, `why` the reason written when it was held."""

    state: str
    waits: str
    why: str
    seconds: int


@dataclass(frozen=True, slots=True)
class CardAge:
    """A card that stands here now: since when in all, since when as it stands, and the time it spent in each state.

    A closed one stands here until it is handed over. `stop` is the worst fault seen on it, of those that stop the car, to which
    the customer has not answered; `running` says whether a clock runs on it, `last_on` when it was last clocked on,
    `waited` what it waited for before it came to stand as it does. `beyond` says that its work is past its authority, `due` the
    day what it waits for is due to come.
    """

    card_id: int
    number: str
    registration: str
    customer: str
    title: str
    state: str
    held_for: str
    waits: str
    promised: date | None
    opened: date
    age_s: int
    since_s: int
    spent: tuple[Spent, ...]
    phone: str = ""
    car: str = ""
    stop: str = ""
    authority: Decimal | None = None
    running: bool = False
    last_on: date | None = None
    waited: str = ""
    beyond: bool = False
    due: date | None = None


@dataclass(frozen=True, slots=True)
class Waiting:
    """Where cards wait. `cards` and `seconds` are of the period; `now` wait so now, the longest for `longest_s`.

    Key: ``waits:WHY`` opens the stretches of the period, ``waiting:WHY`` the cards that wait so now.
    """

    why: str
    cards: int
    seconds: int
    now: int
    longest_s: int


@dataclass(frozen=True, slots=True)
class FlowView:
    """Cards through the shop.

    `stays` were handed over in the period; median, 85 % and mean are from intake to hand-over, None without any. `counted` is the mean of the cards standing here over the period up to now, `per_week`
    how many were handed over a week of it: with `mean_days` they are what Little's law is held against.

    Keys: ``opened``, ``closed``, ``left``, ``stays``; ``in-shop`` for those here now, ``card:ID`` for one card's stays.
    """

    period: Period
    weeks: tuple[WeekFlow, ...]
    opened: int
    closed: int
    left: int
    in_shop: int
    stays: int
    median_days: float | None
    most_days: float | None
    mean_days: float | None
    counted: float
    per_week: float
    cards: tuple[CardAge, ...]
    waiting: tuple[Waiting, ...]


@dataclass(frozen=True, slots=True)
class HoursLine:
    """Hours of a week, a person, a template, a system, or of all. `paid_s` is None where nobody is paid by it.

    `paid_s` are the shop's hours less absences of everybody paid by them; `clocked_s` what was clocked on cards, a
    running clock up to now; `sold_s` the labour on invoices issued in the period, shared among who clocked on the card
    in proportion to their time.

    Keys: ``paid:KIND:KEY``, ``clocked:KIND:KEY``, ``sold:KIND:KEY`` with KIND week, person, template or system;
    ``paid``, ``clocked`` and ``sold`` alone for all.
    """

    key: str
    name: str
    paid_s: int | None
    clocked_s: int
    sold_s: int

    @property
    def clocked_of_paid(self) -> float | None:
        """How much of the paid time was clocked on cards, [-]."""
        return self.clocked_s / self.paid_s if self.paid_s else None

    @property
    def sold_of_clocked(self) -> float | None:
        """How much of the clocked time was sold, [-]."""
        return self.sold_s / self.clocked_s if self.clocked_s else None

    @property
    def sold_of_paid(self) -> float | None:
        """How much of the paid time was sold: the product of the other two, [-]."""
        return self.sold_s / self.paid_s if self.paid_s else None


@dataclass(frozen=True, slots=True)
class Unclocked:
    """Where somebody's paid time went that no card knows of: paid = clocked within it + breaks + `rest_s`.

    `rest_s` is below zero for who clocked more than they are paid for. Key: ``unclocked:person:ID``, day by day.
    """

    person_id: int
    name: str
    open_s: int
    absent_s: int
    paid_s: int
    clocked_s: int
    break_s: int
    rest_s: int


@dataclass(frozen=True, slots=True)
class HoursView:
    """Hours paid, clocked and sold. `running_s` is what of the clocked is of clocks that still run."""

    period: Period
    total: HoursLine
    weeks: tuple[HoursLine, ...]
    people: tuple[HoursLine, ...]
    templates: tuple[HoursLine, ...]
    systems: tuple[HoursLine, ...]
    unclocked: tuple[Unclocked, ...]
    running_s: int
