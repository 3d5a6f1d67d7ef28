"""The tables of parts, on the shelf and on a card, and of work sent out."""

from typing import Any, ClassVar

from sqlmodel import Field

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class Part(Versioned, table=True):
    """A part the shop keeps or buys."""

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


class CardPart(Versioned, table=True):
    """A part on a card, from wanted to fitted."""

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


class Outwork(Versioned, table=True):
    """Work sent out: machining, plating, rewinding."""

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


lock_versions(Part, CardPart, Outwork)
