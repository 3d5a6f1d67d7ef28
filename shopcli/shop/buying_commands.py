"""What may be asked of orders: draft one from what is needed, change its lines, send it, take goods in, give it up."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class DraftOrder(Command):
    """Put what is to be ordered from a supplier on their drafted order, a new one where there is none.

    `only` names needs by their key (``part:5``, ``line:12``) and may name such as no supplier is known for; left
    empty it is everything that is to be ordered from this supplier.
    """

    rule: ClassVar[str] = "buying:draft_order"
    supplier_id: int
    only: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class AddToOrder(Command):
    """Put a stocked part on the drafted order of a supplier, though nothing asks for it."""

    rule: ClassVar[str] = "buying:add_to_order"
    supplier_id: int
    part_id: int
    qty_milli: int


@dataclass(frozen=True, slots=True)
class ChangeOrderLine(Command):
    """Change quantity, expected cost or due date of an order's line; the quantity only while it is drafted.

    A quantity of 0 takes the line off the draft. Fields left None stay.
    """

    rule: ClassVar[str] = "buying:change_order_line"
    order_line_id: int
    version: int
    qty_milli: int | None = None
    cost_minor: int | None = None
    due: str | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class SendOrder(Command):
    """An order went to its supplier; lines without a due date get one from the supplier's usual days."""

    rule: ClassVar[str] = "buying:send_order"
    order_id: int


@dataclass(frozen=True, slots=True)
class CancelOrder(Command):
    """Give an order up, with the reason; of one that is partly in, what is still to come."""

    rule: ClassVar[str] = "buying:cancel_order"
    order_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class GoodsIn(Command):
    """Goods came in against a line. More than was ordered is taken only where `over` says that it is meant.

    `cost_minor` is what one cost, where it was another than expected.
    """

    rule: ClassVar[str] = "goods_in:goods_in"
    order_line_id: int
    qty_milli: int
    cost_minor: int | None = None
    over: bool = False


@dataclass(frozen=True, slots=True)
class NotComing(Command):
    """The rest of an order's line is not coming, with the reason: what waits for it is to be ordered again."""

    rule: ClassVar[str] = "goods_in:not_coming"
    order_line_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class SendBack(Command):
    """Send a part from the shelf back to a supplier, with the reason and the credit expected for all of it."""

    rule: ClassVar[str] = "sending_back:send_back"
    part_id: int
    qty_milli: int
    reason: str
    credit_minor: int = 0
    supplier_id: int | None = None


@dataclass(frozen=True, slots=True)
class SendOldUnit(Command):
    """Send the old unit of an exchange, which is here, to the supplier: the surcharge comes back as a credit."""

    rule: ClassVar[str] = "sending_back:send_old_unit"
    card_part_id: int
    supplier_id: int | None = None


@dataclass(frozen=True, slots=True)
class CreditCame(Command):
    """The supplier's credit for what went back came, perhaps another sum than was expected."""

    rule: ClassVar[str] = "sending_back:credit_came"
    sent_back_id: int
    credit_minor: int
