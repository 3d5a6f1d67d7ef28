"""The table of calls: who was reached about what, what was said, and when to ring again. Rows are written once."""

from typing import Any, ClassVar

from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import seconds


class CallNote(SQLModel, table=True):
    """A call to a customer. `about` is the key of what it was about, `reached` is empty when nobody was.

    `next_on` is the day to ring again; empty means that nothing more is to be said about it.
    """

    __tablename__: ClassVar[Any] = "call_note"
    id: int | None = Field(default=None, primary_key=True)
    customer_id: int = Field(foreign_key="customer.id", index=True)
    card_id: int | None = Field(default=None, foreign_key="card.id", index=True)
    about: str = Field(index=True)
    reached: str = ""
    said: str = ""
    next_on: str = ""
    at: int = seconds()
    noted_by: int = Field(foreign_key="person.id")
