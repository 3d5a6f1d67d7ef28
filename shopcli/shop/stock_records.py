"""The tables of the shelf: who parts are bought from, every movement of the stock, every change of a price."""

from typing import Any, ClassVar

from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class Supplier(Versioned, table=True):
    """Somebody parts are bought from or work is sent to; `usual_days` from the order to the goods, 0 unknown."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True, index=True)
    phone: str = ""
    email: str = ""
    account: str = ""
    note: str = ""
    usual_days: int = 0


class StockMove(SQLModel, table=True):
    """A part came or went: a signed quantity, why, for which card or order line. Append only; the sum is the stock."""

    __tablename__: ClassVar[Any] = "stock_move"
    id: int | None = Field(default=None, primary_key=True)
    part_id: int = Field(foreign_key="part.id", index=True)
    qty_milli: int
    why: str
    card_id: int | None = Field(default=None, foreign_key="card.id", index=True)
    order_line_id: int | None = Field(default=None, foreign_key="order_line.id")
    note: str = ""
    moved_by: int | None = Field(default=None, foreign_key="person.id")
    at: int = seconds(index=True)


class PriceChange(SQLModel, table=True):
    """What a part cost and was sold for from a moment on, why and who said so. Append only."""

    __tablename__: ClassVar[Any] = "price_change"
    id: int | None = Field(default=None, primary_key=True)
    part_id: int = Field(foreign_key="part.id", index=True)
    cost_minor: int
    price_minor: int
    why: str
    order_line_id: int | None = Field(default=None, foreign_key="order_line.id")
    changed_by: int | None = Field(default=None, foreign_key="person.id")
    at: int = seconds()


lock_versions(Supplier)
