"""The table of the shop's own expected times."""

from typing import Any, ClassVar

from sqlalchemy import Index, text
from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import seconds


class OwnTime(SQLModel, table=True):
    """How long a job takes here, in thousandths of what its template lists. One that is replaced stays, with who and when.

    `cases` is how many jobs it rests on; 0 where somebody set it from experience.
    """

    __tablename__: ClassVar[Any] = "own_time"
    __table_args__: ClassVar[Any] = (
        Index(
            "ix_one_standing_time",
            "template",
            unique=True,
            sqlite_where=text("replaced_at IS NULL"),
            postgresql_where=text("replaced_at IS NULL"),
        ),
    )
    id: int | None = Field(default=None, primary_key=True)
    template: str
    per_mille: int
    cases: int = 0
    why: str = ""
    set_by: int = Field(foreign_key="person.id")
    set_at: int = seconds()
    replaced_at: int | None = seconds(nullable=True)
    replaced_by: int | None = Field(default=None, foreign_key="person.id")
