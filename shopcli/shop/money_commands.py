"""What may be asked of money."""

from dataclasses import dataclass, field
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class TakePayment(Command):
    """Take money: ``deposit`` while the card is open, ``payment`` after."""

    rule: ClassVar[str] = "payments:take_payment"
    card_id: int
    amount_minor: int
    kind: str = "deposit"
    method: str = "cash"
    extra: tuple[str, ...] = field(default=())
