"""What the owner sees of money in the weeks, and of what jobs took against what they are listed at."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.week_period import Period


@dataclass(frozen=True, slots=True)
class MoneyWeek:
    """What was invoiced in a week. `net` is of invoices with `discount` taken off; `credited` the net of credit notes.

    Keys: ``invoiced:WEEK``, ``credited:WEEK``, ``discount:WEEK``.
    """

    week: str
    monday: date
    net: Decimal
    labour: Decimal
    parts: Decimal
    parts_cost: Decimal
    discount: Decimal
    credited: Decimal


@dataclass(frozen=True, slots=True)
class AgeBand:
    """Invoices unpaid for so many days past their due day, VAT included. Key: ``unpaid:NAME``."""

    name: str
    count: int
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Earning:
    """What a template earned on the invoices of the period: labour sold, the hours it took, what these cost.

    `cost` and `margin` are None while the settings do not say what an hour costs. Key: ``earned:template:NAME``.
    """

    template: str
    title: str
    system: str
    cards: int
    clocked_s: int
    sold_s: int
    labour: Decimal
    cost: Decimal | None
    margin: Decimal | None


@dataclass(frozen=True, slots=True)
class MoneyView:
    """Money of the period, and, as they stand now: work unbilled, invoices unpaid, the stock, exchange surcharges.

    `labour_cost` is the hours paid at what an hour costs the shop (settings: `hour_cost_minor`), None while nobody said so.
    `unbilled` is what the open cards would be billed for now, before discounts; `surcharges` what suppliers still owe
    for old units, fitted exchanges whose old unit did not go back included.

    Keys: ``invoiced``, ``credited``, ``discount``, ``unbilled``, ``unpaid``, ``stock``, ``surcharges``.
    """

    period: Period
    weeks: tuple[MoneyWeek, ...]
    net: Decimal
    labour: Decimal
    parts: Decimal
    parts_cost: Decimal
    discount: Decimal
    credited: Decimal
    labour_cost: Decimal | None
    earnings: tuple[Earning, ...]
    unbilled_cards: int
    unbilled: Decimal
    unpaid: tuple[AgeBand, ...]
    stock: Decimal
    surcharge_count: int
    surcharges: Decimal

    @property
    def parts_margin(self) -> Decimal:
        """What the parts brought over what they cost."""
        return self.parts - self.parts_cost

    @property
    def labour_margin(self) -> Decimal | None:
        """What the labour brought over what the paid hours cost."""
        return None if self.labour_cost is None else self.labour - self.labour_cost


@dataclass(frozen=True, slots=True)
class Case:
    """A template's tasks on one closed card: minutes they are listed at today, seconds clocked."""

    card_id: int
    card: str
    registration: str
    week: str
    sheet: str
    listed_min: float
    clocked_s: int

    @property
    def ratio(self) -> float:
        """Clocked over listed time, [-]."""
        return self.clocked_s / 60 / self.listed_min


@dataclass(frozen=True, slots=True)
class Actuals:
    """A template and what it took on closed cards; `per_mille` is the shop's own factor that stands, 1000 for none.

    Key: ``actuals:template:NAME``.
    """

    template: str
    title: str
    system: str
    per_mille: int
    cases: tuple[Case, ...]
