"""The tables of time: clocks and breaks."""

from typing import Any, ClassVar

from sqlalchemy import Index, text
from sqlmodel import Field

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class ClockEntry(Versioned, table=True):
    """Somebody's time on a task; an open one has no end. The database allows one open entry a person.

    `stood_by` is the moment up to which its person said that they really worked, past the shop's hours.
    """

    __tablename__: ClassVar[Any] = "clock_entry"
    __table_args__: ClassVar[Any] = (
        Index(
            "ix_one_open_clock",
            "person_id",
            unique=True,
            sqlite_where=text("ended_at IS NULL"),
            postgresql_where=text("ended_at IS NULL"),
        ),
    )
    id: int | None = Field(default=None, primary_key=True)
    person_id: int = Field(foreign_key="person.id", index=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int = Field(foreign_key="task.id", index=True)
    started_at: int = seconds(index=True)
    ended_at: int | None = seconds(nullable=True)
    corrected: str = ""
    stood_by: int | None = seconds(nullable=True)


class Break(Versioned, table=True):
    """Somebody's break from a task: not work, and in no sum of work. One open break a person."""

    __tablename__: ClassVar[Any] = "work_break"
    __table_args__: ClassVar[Any] = (
        Index(
            "ix_one_open_break",
            "person_id",
            unique=True,
            sqlite_where=text("ended_at IS NULL"),
            postgresql_where=text("ended_at IS NULL"),
        ),
    )
    id: int | None = Field(default=None, primary_key=True)
    person_id: int = Field(foreign_key="person.id", index=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int = Field(foreign_key="task.id")
    started_at: int = seconds(index=True)
    ended_at: int | None = seconds(nullable=True)
    corrected: str = ""


lock_versions(ClockEntry, Break)
