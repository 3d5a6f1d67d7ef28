"""What the tables share: storage only, no rules.

Times are whole seconds since 1970 in UTC, dates are ISO text, money is whole minor units and part
quantities are thousandths, so that the same SQL text reads them on both engines without conversion.
Records two people may edit carry a `version`; a stale write is refused by the database layer.
"""

from typing import Any

from sqlalchemy import BigInteger, Column
from sqlmodel import Field, SQLModel


class Versioned(SQLModel):
    """A record that more than one terminal may change."""

    version: int = Field(default=1, nullable=False)


def lock_versions(*tables: Any) -> None:
    """Have the database layer refuse a stale write to tables of versioned records."""
    for table in tables:
        table.__mapper__.version_id_col = table.__table__.c.version


def seconds(*, nullable: bool = False, index: bool = False) -> Any:
    """Return a column for a time: whole seconds since 1970 in UTC."""
    return Field(default=None, sa_column=Column(BigInteger, nullable=nullable, index=index))
