"""What may be asked of the shelf and of suppliers: count parts, write a supplier down, change what is known of one."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class CountStock(Command):
    """Parts were counted: pairs of a part's id and how many lie there, in thousandths."""

    rule: ClassVar[str] = "stock:count_stock"
    counted: tuple[tuple[int, int], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class CorrectStock(Command):
    """A part was lost, broken or found: a signed quantity in thousandths, with the reason."""

    rule: ClassVar[str] = "stock:correct_stock"
    part_id: int
    qty_milli: int
    reason: str


@dataclass(frozen=True, slots=True)
class AddSupplier(Command):
    """Write down somebody parts are bought from; `usual_days` are days the shop is open, 0 unknown."""

    rule: ClassVar[str] = "suppliers:add_supplier"
    name: str
    phone: str = ""
    email: str = ""
    account: str = ""
    note: str = ""
    usual_days: int = 0


@dataclass(frozen=True, slots=True)
class ChangeSupplier(Command):
    """Change what is known of a supplier; fields left None stay. Parts follow another name."""

    rule: ClassVar[str] = "suppliers:change_supplier"
    supplier_id: int
    version: int
    name: str | None = None
    phone: str | None = None
    email: str | None = None
    account: str | None = None
    note: str | None = None
    usual_days: int | None = None
    seen: Seen = ()
