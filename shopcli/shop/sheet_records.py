"""The tables of numbers: a vehicle's own and the shop's own spec sheets."""

from typing import Any, ClassVar

from sqlalchemy import Index, text
from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class VehicleSpec(SQLModel, table=True):
    """A number of this very vehicle: measured here, stamped on it, or confirmed from a handbook."""

    __tablename__: ClassVar[Any] = "vehicle_spec"
    id: int | None = Field(default=None, primary_key=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    name: str
    spec: str
    printed: str = ""
    why: str = ""
    entered_by: int = Field(foreign_key="person.id")
    entered_at: int = seconds()
    replaced_at: int | None = seconds(nullable=True)
    replaced_by: int | None = Field(default=None, foreign_key="person.id")
    replaced_for: str = ""


class Sheet(Versioned, table=True):
    """A spec sheet of the shop's own: it lies under (is nearer than) another, own or shipped."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True, index=True)
    title: str
    under: str = ""
    about: str = ""
    facts: str = "{}"
    made_by: int = Field(foreign_key="person.id")
    made_at: int = seconds()


class SheetSpec(SQLModel, table=True):
    """A number of an own sheet. One that is replaced or withdrawn stays, with who, when and why."""

    __tablename__: ClassVar[Any] = "sheet_spec"
    __table_args__: ClassVar[Any] = (
        Index(
            "ix_one_standing_number",
            "sheet_id",
            "name",
            unique=True,
            sqlite_where=text("replaced_at IS NULL"),
            postgresql_where=text("replaced_at IS NULL"),
        ),
    )
    id: int | None = Field(default=None, primary_key=True)
    sheet_id: int = Field(foreign_key="sheet.id", index=True)
    name: str
    spec: str
    printed: str = ""
    why: str = ""
    entered_by: int = Field(foreign_key="person.id")
    entered_at: int = seconds()
    replaced_at: int | None = seconds(nullable=True)
    replaced_by: int | None = Field(default=None, foreign_key="person.id")
    replaced_for: str = ""


lock_versions(Sheet)
