"""What may be asked of parts, on the shelf and on a card, and of work sent out."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class AddPart(Command):
    """Write down a part the shop keeps; a supplier of another name is written down with it."""

    rule: ClassVar[str] = "stocked:add_part"
    number: str
    name: str
    cost_minor: int
    price_minor: int | None = None
    stock_milli: int = 0
    reorder_milli: int = 0
    surcharge_minor: int = 0
    bin: str = ""
    supplier: str = ""
    vat: str = "standard"
    unit: str = "pc"
    wants_serial: bool = False
    pack_milli: int = 1000


@dataclass(frozen=True, slots=True)
class ChangePart(Command):
    """Change what is known of a stocked part, or count it; fields left None stay."""

    rule: ClassVar[str] = "stocked:change_part"
    part_id: int
    version: int
    name: str | None = None
    bin: str | None = None
    supplier: str | None = None
    cost_minor: int | None = None
    price_minor: int | None = None
    stock_milli: int | None = None
    reorder_milli: int | None = None
    surcharge_minor: int | None = None
    wants_serial: bool | None = None
    pack_milli: int | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class PutPart(Command):
    """Put a part on a card: from stock (`part_id`) or described, bought in, or the customer's own."""

    rule: ClassVar[str] = "parts:put_part"
    card_id: int
    part_id: int | None = None
    description: str = ""
    qty_milli: int = 1000
    cost_minor: int = 0
    price_minor: int | None = None
    task_id: int | None = None
    customers_own: bool = False
    unit: str = "pc"


@dataclass(frozen=True, slots=True)
class MovePart(Command):
    """Move a part on a card: order it, fit it (takes it from stock), return it, do without.

    With `qty_milli` only so many are fitted, and the rest goes on the order list as a line of its own; `reason` says
    why it is done without.
    """

    rule: ClassVar[str] = "parts:move_part"
    card_part_id: int
    state: str
    task_id: int | None = None
    serial: str = ""
    qty_milli: int | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class PartToTask(Command):
    """Give a task a part by its number, as a scanner reads it: one waited for is given to it, else it is put on."""

    rule: ClassVar[str] = "fitting:part_to_task"
    card_id: int
    number: str
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class FitInstead(Command):
    """Fit another part in place of one of the card, with the reason: from stock (`part_id`) or described."""

    rule: ClassVar[str] = "fitting:fit_instead"
    card_part_id: int
    reason: str
    part_id: int | None = None
    description: str = ""
    cost_minor: int = 0
    price_minor: int | None = None
    task_id: int | None = None
    serial: str = ""


@dataclass(frozen=True, slots=True)
class OrderShort(Command):
    """Put every part of a card that is wanted and not on the shelf on the order list; with `task_id` those of one task."""

    rule: ClassVar[str] = "fitting:order_short"
    card_id: int
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class PartArrived(Command):
    """A part on order is here: it is wanted again, and a stocked one is on the shelf."""

    rule: ClassVar[str] = "fitting:part_arrived"
    card_part_id: int


@dataclass(frozen=True, slots=True)
class OldUnitBack(Command):
    """The old unit of an exchange went back: its surcharge is no longer owed. `back` False takes that back."""

    rule: ClassVar[str] = "fitting:old_unit_back"
    card_part_id: int
    back: bool = True


@dataclass(frozen=True, slots=True)
class PricePart(Command):
    """Give a part on a card its price, where stock did not know one."""

    rule: ClassVar[str] = "parts:price_part"
    card_part_id: int
    price_minor: int
    cost_minor: int | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class AddOutwork(Command):
    """Send work out."""

    rule: ClassVar[str] = "outwork:add_outwork"
    card_id: int
    what: str
    who: str
    cost_minor: int = 0
    price_minor: int = 0
    sent: str = ""
    due: str = ""
    ring: str = ""


@dataclass(frozen=True, slots=True)
class SendPlanned(Command):
    """Send out work that was planned by an offer: to whom, when it is due; its price stays as it was offered."""

    rule: ClassVar[str] = "outwork:send_planned"
    outwork_id: int
    who: str
    due: str = ""
    sent: str = ""
    ring: str = ""


@dataclass(frozen=True, slots=True)
class DropPlanned(Command):
    """Do without work that was planned by an offer and never sent; it goes off the bill."""

    rule: ClassVar[str] = "outwork:drop_planned"
    outwork_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class ChangeOutwork(Command):
    """Change what is known of work sent out; fields left None stay."""

    rule: ClassVar[str] = "outwork:change_outwork"
    outwork_id: int
    version: int
    due: str | None = None
    cost_minor: int | None = None
    price_minor: int | None = None
    ring: str | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class OutworkBack(Command):
    """Outwork came back, perhaps at another price."""

    rule: ClassVar[str] = "outwork:outwork_back"
    outwork_id: int
    back: str
    cost_minor: int | None = None
    price_minor: int | None = None
