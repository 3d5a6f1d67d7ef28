"""The tables of what is read, hung, owed and found at the bench, of tools and photos."""

from typing import Any, ClassVar

from sqlalchemy import Index
from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class Reading(SQLModel, table=True):
    """A reading: as typed, in canonical units, and the limits it was judged by. Struck, never deleted."""

    __table_args__: ClassVar[Any] = (Index("ix_reading_tool_id_at", "tool_id", "at"),)

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int = Field(foreign_key="task.id", index=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    slot: str
    name: str
    label: str
    phase: str
    typed: str
    value: float
    unit: str
    quantity: str
    limits: str = ""
    provenance: str = ""
    standing: str = ""
    verdict: str = ""
    tool: str = ""
    tool_id: int | None = Field(default=None, foreign_key="tool.id")
    tool_note: str = ""
    person_id: int = Field(foreign_key="person.id")
    at: int = seconds()
    struck_at: int | None = seconds(nullable=True)


class Tag(SQLModel, table=True):
    """An open condition hung on a vehicle by a task, until another lifts it."""

    id: int | None = Field(default=None, primary_key=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int = Field(foreign_key="task.id")
    name: str
    says: str
    bars: str
    hung_by: int = Field(foreign_key="person.id")
    hung_at: int = seconds()
    lifted_by: int | None = Field(default=None, foreign_key="person.id")
    lifted_at: int | None = seconds(nullable=True)
    lifted_task_id: int | None = Field(default=None, foreign_key="task.id")
    lifted_for: str = ""


class Owed(SQLModel, table=True):
    """A check promised by a task; it may outlive the card."""

    id: int | None = Field(default=None, primary_key=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int = Field(foreign_key="task.id")
    redeemed_by_key: str = ""
    title: str
    before: str
    due_odometer: int | None = None
    due_date: str = ""
    state: str = Field(index=True)
    promised_at: int = seconds()
    settled_by: int | None = Field(default=None, foreign_key="person.id")
    settled_at: int | None = seconds(nullable=True)
    settled_for: str = ""


class Finding(Versioned, table=True):
    """A fault seen and carried over."""

    id: int | None = Field(default=None, primary_key=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int | None = Field(default=None, foreign_key="task.id")
    place: str
    what: str
    severity: str
    takes: str = ""
    photo: str = ""
    wanted: str = Field(default="", sa_column_kwargs={"server_default": ""})
    declined_by: str = Field(default="", sa_column_kwargs={"server_default": ""})
    state: str = Field(index=True)
    seen_by: int = Field(foreign_key="person.id")
    seen_at: int = seconds()
    settled_by: int | None = Field(default=None, foreign_key="person.id")
    settled_at: int | None = seconds(nullable=True)
    settled_for: str = ""


class Tool(Versioned, table=True):
    """A measuring tool of the shop; `cycles` are those pulled since its calibration and noted nowhere else."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True, index=True)
    kind: str
    low: float | None = None
    high: float | None = None
    unit: str = ""
    graduation: float | None = None
    blades: str = ""
    calibrated: str = ""
    certificate: str = ""
    cycles: int = 0
    note: str = ""
    retired_at: int | None = seconds(nullable=True)
    retired_for: str = ""


class Photo(SQLModel, table=True):
    """A photo of a card, of one of its tasks or of a finding; `file` is its name in the shop's own folder."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    vehicle_id: int = Field(foreign_key="vehicle.id")
    task_id: int | None = Field(default=None, foreign_key="task.id")
    finding_id: int | None = Field(default=None, foreign_key="finding.id")
    file: str
    kind: str
    size: int
    caption: str = ""
    taken_by: int = Field(foreign_key="person.id")
    at: int = seconds()
    removed_at: int | None = seconds(nullable=True)


lock_versions(Finding, Tool)
