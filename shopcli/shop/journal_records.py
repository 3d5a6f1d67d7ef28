"""The tables of what was done, and of numbers that may not be skipped."""

from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import seconds


class Counter(SQLModel, table=True):
    """Numbers that may not be skipped; moved only inside the transaction that uses them."""

    name: str = Field(primary_key=True)
    value: int = 0


class Journal(SQLModel, table=True):
    """Who did what, when; append only. The operation id makes a repeated act harmless.

    `touched` keeps what the act changed row by row, `undid` the journal row an act took back, `asked` what was asked,
    so that an act taken back can be done again.
    """

    id: int | None = Field(default=None, primary_key=True)
    op: str = Field(unique=True)
    at: int = seconds(index=True)
    person_id: int | None = Field(default=None, foreign_key="person.id")
    act: str = Field(index=True)
    subject: str = ""
    subject_id: int | None = Field(default=None, index=True)
    card_id: int | None = Field(default=None, index=True)
    before: str = ""
    after: str = ""
    answer: str = ""
    touched: str = ""
    asked: str = Field(default="", sa_column_kwargs={"server_default": ""})
    undid: int | None = Field(default=None, index=True, unique=True)
