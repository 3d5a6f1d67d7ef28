"""The tables of buying: orders with their lines, and what went back to a supplier with a credit to come."""

from typing import Any, ClassVar

from sqlmodel import Field

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class PurchaseOrder(Versioned, table=True):
    """An order to one supplier."""

    __tablename__: ClassVar[Any] = "purchase_order"
    id: int | None = Field(default=None, primary_key=True)
    number: str = Field(unique=True)
    supplier_id: int = Field(foreign_key="supplier.id", index=True)
    state: str = Field(index=True)
    note: str = ""
    made_by: int = Field(foreign_key="person.id")
    made_at: int = seconds()
    sent_by: int | None = Field(default=None, foreign_key="person.id")
    sent_at: int | None = seconds(nullable=True)
    cancelled_for: str = ""


class OrderLine(Versioned, table=True):
    """A part of an order. `in_milli` came so far; `closed_for` says why the rest is not coming."""

    __tablename__: ClassVar[Any] = "order_line"
    id: int | None = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="purchase_order.id", index=True)
    part_id: int | None = Field(default=None, foreign_key="part.id", index=True)
    number: str = ""
    description: str
    qty_milli: int
    unit: str = "pc"
    cost_minor: int = 0
    due: str = ""
    in_milli: int = 0
    closed_for: str = ""


class SentBack(Versioned, table=True):
    """A part or the old unit of an exchange that went back to a supplier, and the credit expected and given for it."""

    __tablename__: ClassVar[Any] = "sent_back"
    id: int | None = Field(default=None, primary_key=True)
    kind: str
    supplier_id: int | None = Field(default=None, foreign_key="supplier.id")
    part_id: int | None = Field(default=None, foreign_key="part.id", index=True)
    card_part_id: int | None = Field(default=None, foreign_key="card_part.id", index=True)
    description: str
    qty_milli: int = 1000
    unit: str = "pc"
    credit_minor: int = 0
    reason: str = ""
    sent_by: int = Field(foreign_key="person.id")
    at: int = seconds()
    credited_minor: int | None = None
    credited_by: int | None = Field(default=None, foreign_key="person.id")
    credited_at: int | None = seconds(nullable=True)


lock_versions(PurchaseOrder, OrderLine, SentBack)
