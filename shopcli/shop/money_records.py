"""The tables of money: what else goes on a bill, what is taken off it, invoices, credit notes and payments."""

from typing import Any, ClassVar

from sqlalchemy import Index
from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class BillItem(Versioned, table=True):
    """Something on a card's bill that is neither work, nor a part, nor outwork: a sundry or a fee passed on."""

    __tablename__: ClassVar[Any] = "bill_item"
    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    kind: str
    description: str
    qty_milli: int = 1000
    price_minor: int = 0
    vat: str = "standard"
    added_by: int = Field(foreign_key="person.id")
    added_at: int = seconds()
    removed_at: int | None = seconds(nullable=True)


class Discount(Versioned, table=True):
    """Something taken off one line of a card's bill, or off the whole where `line` is empty; or, `charge`, put on.

    Either an amount or hundredths of a per cent.
    """

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    line: str = ""
    charge: bool = False
    amount_minor: int | None = None
    rate_hundredths: int | None = None
    reason: str
    given_by: int = Field(foreign_key="person.id")
    given_at: int = seconds()
    removed_at: int | None = seconds(nullable=True)


class Payment(SQLModel, table=True):
    """Money taken or given back: a deposit, a payment, a refund or the reversal of another row; fixed by triggers."""

    __table_args__: ClassVar[Any] = (Index("ix_payment_owed", "card_id", "amount_minor"),)

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    kind: str
    amount_minor: int
    method: str = ""
    at: int = seconds()
    taken_by: int = Field(foreign_key="person.id")
    reason: str = Field(default="", sa_column_kwargs={"server_default": ""})
    reverses: int | None = Field(default=None, foreign_key="payment.id", unique=True, index=True)


class Invoice(SQLModel, table=True):
    """An issued invoice: number and figures, fixed for good by triggers."""

    __table_args__: ClassVar[Any] = (
        Index("ix_invoice_owed", "card_id", "gross_minor"),
        Index(
            "ix_invoice_weeks",
            "week",
            "issued_at",
            "net_minor",
            "labour_minor",
            "parts_minor",
            "parts_cost_minor",
        ),
    )

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
    week: str = ""
    body: str


class CreditNote(SQLModel, table=True):
    """An issued credit note: the one correction of an invoice, fixed for good by triggers."""

    __tablename__: ClassVar[Any] = "credit_note"
    __table_args__: ClassVar[Any] = (Index("ix_credit_note_owed", "card_id", "gross_minor"),)
    id: int | None = Field(default=None, primary_key=True)
    number: int = Field(unique=True)
    invoice_id: int = Field(foreign_key="invoice.id", index=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    issued_at: int = seconds(index=True)
    issued_by: int = Field(foreign_key="person.id")
    reason: str
    net_minor: int
    vat_minor: int
    gross_minor: int
    labour_minor: int = 0
    parts_minor: int = 0
    week: str = Field(default="", index=True)
    body: str


lock_versions(BillItem, Discount)
