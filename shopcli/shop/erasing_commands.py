"""What may be asked about a customer's own data."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class EraseCustomer(Command):
    """Erase a customer's name, address and words for good, with the reason; invoices stay whole."""

    rule: ClassVar[str] = "erasing:erase_customer"
    wipes: ClassVar[bool] = True
    customer_id: int
    reason: str
