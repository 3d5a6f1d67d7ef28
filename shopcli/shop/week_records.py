"""The tables the week is read from: absences, and what is kept in step with clock, invoices and states of cards.

The latter hold nothing that the records do not say elsewhere. `shopcli.shop.week_keeping` writes them in the transaction
that changes what they rest on, and `shopcli.shop.week_check` reckons them anew from nothing. They point at nothing by
foreign keys: nobody builds on them, and an act is taken back whatever stands in them.
"""

from typing import Any, ClassVar

from sqlalchemy import Index, text
from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import seconds

WAITING = text("waits <> ''")


class Absence(SQLModel, table=True):
    """Days somebody paid was not here, both counted; `minutes` of each day, None for whole days. Withdrawn, never deleted."""

    id: int | None = Field(default=None, primary_key=True)
    person_id: int = Field(foreign_key="person.id", index=True)
    first: str
    last: str
    minutes: int | None = None
    why: str = ""
    noted_by: int = Field(foreign_key="person.id")
    noted_at: int = seconds()
    withdrawn_by: int | None = Field(default=None, foreign_key="person.id")
    withdrawn_at: int | None = seconds(nullable=True)


class DayHours(SQLModel, table=True):
    """What of an ended clock entry lies on a day of the shop's zone, [s]."""

    __tablename__: ClassVar[Any] = "day_hours"
    __table_args__: ClassVar[Any] = (
        Index("ix_day_hours_week", "week", "person_id", "template", "card_id", "seconds"),
        Index("ix_day_hours_person", "person_id", "day", "seconds"),
        Index("ix_day_hours_card", "card_id", "template", "seconds"),
    )
    entry_id: int = Field(primary_key=True)
    day: str = Field(primary_key=True)
    week: str
    person_id: int
    card_id: int
    task_id: int
    template: str
    seconds: int


class SoldHours(SQLModel, table=True):
    """What an invoice sold of a task's labour, shared among those who clocked on it: time [s] and net, minor units."""

    __tablename__: ClassVar[Any] = "sold_hours"
    __table_args__: ClassVar[Any] = (
        Index("ix_sold_hours_week", "week", "person_id", "template", "card_id", "seconds", "minor"),
    )
    invoice_id: int = Field(primary_key=True)
    task_id: int = Field(primary_key=True)
    person_id: int = Field(primary_key=True)
    week: str
    card_id: int = Field(index=True)
    template: str
    seconds: int
    minor: int


class WeekHours(SQLModel, table=True):
    """What somebody clocked and sold of a job in a week, [s]: the sums of `day_hours` and `sold_hours`."""

    __tablename__: ClassVar[Any] = "week_hours"
    week: str = Field(primary_key=True)
    person_id: int = Field(primary_key=True)
    template: str = Field(primary_key=True)
    clocked_s: int
    sold_s: int


class WeekJobs(SQLModel, table=True):
    """What was sold of a job in a week: on how many cards, time [s], net in minor units; and what these cards took of it, [s].

    There are rows, too, for what those cards took of jobs of which nothing was sold in that week.
    """

    __tablename__: ClassVar[Any] = "week_jobs"
    week: str = Field(primary_key=True)
    template: str = Field(primary_key=True)
    cards: int
    sold_s: int
    minor: int
    took_s: int


class JobTimes(SQLModel, table=True):
    """What a template's done tasks took on a closed card, and what its file lists for them, thousandths of a minute."""

    __tablename__: ClassVar[Any] = "job_times"
    card_id: int = Field(primary_key=True)
    template: str = Field(primary_key=True)
    closed_at: int = seconds(index=True)
    listed_milli: int
    seconds: int


class TakenOff(SQLModel, table=True):
    """What was taken off an invoice, less what was put on it, minor units; there are rows only where it is not nothing."""

    __tablename__: ClassVar[Any] = "taken_off"
    invoice_id: int = Field(primary_key=True)
    week: str = Field(index=True)
    minor: int


class CardStay(SQLModel, table=True):
    """How long a card stood in a state; the last has no end until the car is handed over or the card void."""

    __tablename__: ClassVar[Any] = "card_stay"
    __table_args__: ClassVar[Any] = (
        Index(
            "ix_card_stay_waited",
            "ended_at",
            "started_at",
            "waits",
            "card_id",
            sqlite_where=WAITING,
            postgresql_where=WAITING,
        ),
    )
    card_id: int = Field(primary_key=True)
    nth: int = Field(primary_key=True)
    state: str
    waits: str
    why: str
    started_at: int = seconds()
    ended_at: int | None = seconds(nullable=True)


class WeekZone(SQLModel, table=True):
    """The zone these tables were reckoned for: in another one midnight lies elsewhere."""

    __tablename__: ClassVar[Any] = "week_zone"
    zone: str = Field(primary_key=True)
