"""What the counter needs to know of a closed card."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.balance import Balance
from shopcli.shop.views import CardView, PaymentView


@dataclass(frozen=True, slots=True)
class Handing:
    """A closed card as the counter needs it: its invoice, its account, what was paid, and the card itself."""

    view: CardView
    invoice: str
    due_by: date | None
    account: Balance
    payments: tuple[PaymentView, ...]


@dataclass(frozen=True, slots=True)
class MoneyNow:
    """What a card comes to at the moment money is taken on it; `invoice` is empty while it has none."""

    view: CardView
    invoice: str
    with_vat: Decimal
    paid: Decimal
    due: Decimal


@dataclass(frozen=True, slots=True)
class ClosedRow:
    """A closed card as it is found: its customer and car, its invoice, what is due, and whether it was fetched."""

    id: int
    number: str
    customer: str
    phone: str
    registration: str
    vehicle: str
    title: str
    closed: date
    invoice: str
    due: Decimal
    handed: date | None
