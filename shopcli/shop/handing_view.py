"""What the counter needs to know of a closed card."""

from dataclasses import dataclass
from datetime import date

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
