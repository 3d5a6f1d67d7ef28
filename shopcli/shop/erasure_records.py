"""The tables of what was erased of customers, fixed for good: which rows lost words, when, by whom and why."""

from typing import Any, ClassVar

from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import seconds


class Erasure(SQLModel, table=True):
    """A customer's name and address were erased; nothing of what stood there is kept."""

    id: int | None = Field(default=None, primary_key=True)
    customer_id: int = Field(foreign_key="customer.id", index=True)
    at: int = seconds()
    erased_by: int = Field(foreign_key="person.id")
    reason: str


class ErasedRow(SQLModel, table=True):
    """A row of a fixed table that lost words: `told` says, as JSON, what stands in its columns of words since.

    The guard of the table lets exactly this change through, and no other.
    """

    __tablename__: ClassVar[Any] = "erased_row"
    id: int | None = Field(default=None, primary_key=True)
    erasure_id: int = Field(foreign_key="erasure.id")
    in_table: str
    row_id: int = Field(index=True)
    told: str
