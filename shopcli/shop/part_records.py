"""The tables of parts, on the shelf and on a card, and of work sent out."""

from typing import Any, ClassVar

from sqlmodel import Field

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class Part(Versioned, table=True):
    """A part the shop keeps or buys.

    `supplier` is the name of the supplier `supplier_id` points at, kept in step; `stock_milli` the sum of the part's
    movements. It is ordered again at `reorder_milli`, in whole packs of `pack_milli`.
    """

    id: int | None = Field(default=None, primary_key=True)
    number: str = Field(unique=True)
    name: str = Field(index=True)
    bin: str = ""
    supplier: str = ""
    unit: str = "pc"
    stock_milli: int = 0
    reorder_milli: int = 0
    cost_minor: int = 0
    price_minor: int = 0
    surcharge_minor: int = 0
    vat: str = "standard"
    wants_serial: bool = False
    supplier_id: int | None = Field(default=None, foreign_key="supplier.id", index=True)
    pack_milli: int = 1000


class CardPart(Versioned, table=True):
    """A part on a card, from wanted to fitted; `order_line_id` is the order it waits for, or came with."""

    __tablename__: ClassVar[Any] = "card_part"
    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int | None = Field(default=None, foreign_key="task.id")
    part_id: int | None = Field(default=None, foreign_key="part.id")
    description: str
    qty_milli: int = 1000
    unit: str = "pc"
    cost_minor: int = 0
    price_minor: int = 0
    surcharge_minor: int = 0
    vat: str = "standard"
    customers_own: bool = False
    optional: bool = False
    serial: str = ""
    state: str
    fitted_by: int | None = Field(default=None, foreign_key="person.id")
    fitted_at: int | None = seconds(nullable=True)
    instead_of: int | None = Field(default=None, foreign_key="card_part.id")
    reason: str = ""
    old_unit_back_at: int | None = seconds(nullable=True)
    old_unit_back_by: int | None = Field(default=None, foreign_key="person.id")
    order_line_id: int | None = Field(default=None, foreign_key="order_line.id", index=True)
    arrived_at: int | None = seconds(nullable=True)


class Outwork(Versioned, table=True):
    """Work sent out: machining, plating, rewinding; `ring` is whom to ring about it."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    what: str
    who: str
    cost_minor: int = 0
    price_minor: int = 0
    vat: str = "standard"
    sent: str = ""
    due: str = ""
    back: str = ""
    ring: str = ""


lock_versions(Part, CardPart, Outwork)
