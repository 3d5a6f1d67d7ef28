"""What may be asked of money: what else goes on a bill, what is taken off it, credit notes, payments."""

from dataclasses import dataclass, field
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class AddToBill(Command):
    """Put a sundry or a fee passed on on a card's bill; `vat` is the shop's name of a rate."""

    rule: ClassVar[str] = "bill_items:add_to_bill"
    card_id: int
    kind: str
    description: str
    price_minor: int
    qty_milli: int = 1000
    vat: str = ""


@dataclass(frozen=True, slots=True)
class TakeOffBill(Command):
    """Take a sundry or a fee off a card's bill again."""

    rule: ClassVar[str] = "bill_items:take_off_bill"
    item_id: int


@dataclass(frozen=True, slots=True)
class GiveDiscount(Command):
    """Take something off a line of a card's bill, or off the whole where `line` is empty; `charge` puts it on.

    Either `amount_minor` or `rate_hundredths` (hundredths of a per cent).
    """

    rule: ClassVar[str] = "bill_items:give_discount"
    card_id: int
    reason: str
    line: str = ""
    amount_minor: int | None = None
    rate_hundredths: int | None = None
    charge: bool = False


@dataclass(frozen=True, slots=True)
class DropDiscount(Command):
    """Take a discount back while the card is open."""

    rule: ClassVar[str] = "bill_items:drop_discount"
    discount_id: int


@dataclass(frozen=True, slots=True)
class TakePayment(Command):
    """Take money: ``deposit`` while the card is open, ``payment`` after.

    A payment of more than is due says what becomes of what is `over`: ``change`` given back, or ``kept``.
    """

    rule: ClassVar[str] = "payments:take_payment"
    card_id: int
    amount_minor: int
    kind: str = "deposit"
    method: str = "cash"
    extra: tuple[str, ...] = field(default=())
    over: str = ""


@dataclass(frozen=True, slots=True)
class Refund(Command):
    """Give money back that is in the customer's favour."""

    rule: ClassVar[str] = "payments:refund"
    card_id: int
    amount_minor: int
    reason: str
    method: str = "cash"


@dataclass(frozen=True, slots=True)
class ReversePayment(Command):
    """Answer a payment entered wrongly by its opposite."""

    rule: ClassVar[str] = "payments:reverse_payment"
    payment_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class CreditInvoice(Command):
    """Write a credit note for a card's invoice.

    `lines` are (line id, quantity in thousandths, 0 for all that is left of it). Without lines and without an
    amount everything left is credited; `amount_minor` credits a sum before tax at the rate called `vat`.
    """

    rule: ClassVar[str] = "credits:credit_invoice"
    card_id: int
    reason: str
    lines: tuple[tuple[str, int], ...] = ()
    amount_minor: int = 0
    vat: str = ""
