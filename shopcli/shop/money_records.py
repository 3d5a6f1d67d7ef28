"""The tables of money taken and invoices issued."""

from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import seconds


class Payment(SQLModel, table=True):
    """Money taken: a deposit or a payment."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    kind: str
    amount_minor: int
    method: str = ""
    at: int = seconds()
    taken_by: int = Field(foreign_key="person.id")


class Invoice(SQLModel, table=True):
    """An issued invoice: number and figures, fixed for good by triggers."""

    id: int | None = Field(default=None, primary_key=True)
    number: int = Field(unique=True)
    card_id: int = Field(foreign_key="card.id", unique=True)
    issued_at: int = seconds(index=True)
    issued_by: int = Field(foreign_key="person.id")
    net_minor: int
    vat_minor: int
    gross_minor: int
    due_minor: int
    labour_minutes: int = 0
    labour_minor: int = 0
    parts_minor: int = 0
    parts_cost_minor: int = 0
    week: str = Field(default="", index=True)
    body: str
