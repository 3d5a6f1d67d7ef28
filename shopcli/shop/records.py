"""The tables: storage only, no rules.

Times are whole seconds since 1970 in UTC, dates are ISO text, money is whole minor units and part
quantities are thousandths, so that the same SQL text reads them on both engines without conversion.
Records two people may edit carry a `version`; a stale write is refused by the database layer.
"""

from typing import Any, ClassVar

from sqlalchemy import BigInteger, Column, Index, text
from sqlmodel import Field, SQLModel


class Versioned(SQLModel):
    """A record that more than one terminal may change."""

    version: int = Field(default=1, nullable=False)


def _lock_version(cls: Any) -> None:
    cls.__mapper__.version_id_col = cls.__table__.c.version


def _seconds(*, nullable: bool = False, index: bool = False) -> Any:
    return Field(default=None, sa_column=Column(BigInteger, nullable=nullable, index=index))


class Person(Versioned, table=True):
    """Somebody who works here."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    role: str
    pin_hash: str = ""
    units: str = "metric"
    active: bool = True


class Customer(Versioned, table=True):
    """Somebody who owns cars."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(index=True)
    phone: str = ""
    email: str = ""
    address: str = ""
    note: str = ""


class Vehicle(Versioned, table=True):
    """A car, with the facts its work lists are expanded from."""

    id: int | None = Field(default=None, primary_key=True)
    customer_id: int = Field(foreign_key="customer.id", index=True)
    registration: str = Field(unique=True)
    make: str
    model: str = ""
    year: int | None = None
    chassis_number: str = ""
    engine_number: str = ""
    distance_unit: str = "mi"
    sheet: str = ""
    facts: str = "{}"
    note: str = ""


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
    entered_at: int = _seconds()
    replaced_at: int | None = _seconds(nullable=True)
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
    made_at: int = _seconds()


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
    entered_at: int = _seconds()
    replaced_at: int | None = _seconds(nullable=True)
    replaced_by: int | None = Field(default=None, foreign_key="person.id")
    replaced_for: str = ""


class Card(Versioned, table=True):
    """A job card."""

    id: int | None = Field(default=None, primary_key=True)
    number: str = Field(unique=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    customer_id: int = Field(foreign_key="customer.id", index=True)
    state: str = Field(index=True)
    held_for: str = ""
    title: str = ""
    words: str = ""
    left_with: str = ""
    odometer: int | None = None
    authority_minor: int | None = None
    authority_by: str = ""
    promised: str = ""
    opened_at: int = _seconds(index=True)
    opened_by: int = Field(foreign_key="person.id")
    checked_at: int | None = _seconds(nullable=True)
    checked_by: int | None = Field(default=None, foreign_key="person.id")
    closed_at: int | None = _seconds(nullable=True, index=True)
    closed_by: int | None = Field(default=None, foreign_key="person.id")
    closed_week: str = Field(default="", index=True)
    expected_minutes: int = 0
    hands: int | None = None


class CardTemplate(SQLModel, table=True):
    """Which templates a card was expanded from, in which version."""

    __tablename__: ClassVar[Any] = "card_template"
    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    template: str = Field(index=True)
    title: str
    template_version: str
    expected_minutes: int = 0


class Task(Versioned, table=True):
    """One step of a card; `frozen` keeps the expansion with the numbers it was made with."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    position: int
    key: str
    template: str
    title: str
    state: str
    minutes: int = 0
    waits: int = 0
    place: str = ""
    second: bool = False
    frozen: str
    done_by: int | None = Field(default=None, foreign_key="person.id")
    done_at: int | None = _seconds(nullable=True)
    left_out_for: str = ""
    second_by: int | None = Field(default=None, foreign_key="person.id")
    second_at: int | None = _seconds(nullable=True)
    note: str = ""


class Wish(SQLModel, table=True):
    """Somebody's wish about when a task is done or by whom; given back, never deleted.

    `nth` counts from the first task of the card, settled ones and all, so that a wish means the same when work goes on.
    """

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int = Field(foreign_key="task.id")
    kind: str
    nth: int = 0
    other_id: int | None = Field(default=None, foreign_key="task.id")
    person_id: int | None = Field(default=None, foreign_key="person.id")
    asked_by: int = Field(foreign_key="person.id")
    asked_at: int = _seconds()
    given_back_by: int | None = Field(default=None, foreign_key="person.id")
    given_back_at: int | None = _seconds(nullable=True)


class Reading(SQLModel, table=True):
    """A reading: as typed, in canonical units, and the limits it was judged by. Struck, never deleted."""

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
    at: int = _seconds()
    struck_at: int | None = _seconds(nullable=True)


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
    started_at: int = _seconds(index=True)
    ended_at: int | None = _seconds(nullable=True)
    corrected: str = ""
    stood_by: int | None = _seconds(nullable=True)


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
    started_at: int = _seconds(index=True)
    ended_at: int | None = _seconds(nullable=True)
    corrected: str = ""


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
    hung_at: int = _seconds()
    lifted_by: int | None = Field(default=None, foreign_key="person.id")
    lifted_at: int | None = _seconds(nullable=True)
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
    promised_at: int = _seconds()
    settled_by: int | None = Field(default=None, foreign_key="person.id")
    settled_at: int | None = _seconds(nullable=True)
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
    seen_at: int = _seconds()
    settled_by: int | None = Field(default=None, foreign_key="person.id")
    settled_at: int | None = _seconds(nullable=True)
    settled_for: str = ""


class Part(Versioned, table=True):
    """A part the shop keeps or buys."""

    id: int | None = Field(default=None, primary_key=True)
    number: str = Field(unique=True)
    name: str = Field(index=True)
    bin: str = ""
    supplier: str = ""
    unit: str = "pc"
    stock_milli: int = 0
    reorder_milli: int = 0
    cost_minor: int = 0
    price_minor: int = 0
    surcharge_minor: int = 0
    vat: str = "standard"
    wants_serial: bool = False


class CardPart(Versioned, table=True):
    """A part on a card, from wanted to fitted."""

    __tablename__: ClassVar[Any] = "card_part"
    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int | None = Field(default=None, foreign_key="task.id")
    part_id: int | None = Field(default=None, foreign_key="part.id")
    description: str
    qty_milli: int = 1000
    unit: str = "pc"
    cost_minor: int = 0
    price_minor: int = 0
    surcharge_minor: int = 0
    vat: str = "standard"
    customers_own: bool = False
    optional: bool = False
    serial: str = ""
    state: str
    fitted_by: int | None = Field(default=None, foreign_key="person.id")
    fitted_at: int | None = _seconds(nullable=True)
    instead_of: int | None = Field(default=None, foreign_key="card_part.id")
    reason: str = ""
    old_unit_back_at: int | None = _seconds(nullable=True)
    old_unit_back_by: int | None = Field(default=None, foreign_key="person.id")


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
    retired_at: int | None = _seconds(nullable=True)
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
    at: int = _seconds()
    removed_at: int | None = _seconds(nullable=True)


class Outwork(Versioned, table=True):
    """Work sent out: machining, plating, rewinding."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    what: str
    who: str
    cost_minor: int = 0
    price_minor: int = 0
    vat: str = "standard"
    sent: str = ""
    due: str = ""
    back: str = ""


class Payment(SQLModel, table=True):
    """Money taken: a deposit or a payment."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    kind: str
    amount_minor: int
    method: str = ""
    at: int = _seconds()
    taken_by: int = Field(foreign_key="person.id")


class Waiver(SQLModel, table=True):
    """A hindrance set aside by name and with a reason."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    hindrance: str
    reason: str
    waived_by: int = Field(foreign_key="person.id")
    at: int = _seconds()


class Invoice(SQLModel, table=True):
    """An issued invoice: number and figures, fixed for good by triggers."""

    id: int | None = Field(default=None, primary_key=True)
    number: int = Field(unique=True)
    card_id: int = Field(foreign_key="card.id", unique=True)
    issued_at: int = _seconds(index=True)
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


class Counter(SQLModel, table=True):
    """Numbers that may not be skipped; moved only inside the transaction that uses them."""

    name: str = Field(primary_key=True)
    value: int = 0


class Journal(SQLModel, table=True):
    """Who did what, when; append only. The operation id makes a repeated act harmless.

    `touched` keeps what the act changed row by row, `undid` the journal row an act took back.
    """

    id: int | None = Field(default=None, primary_key=True)
    op: str = Field(unique=True)
    at: int = _seconds(index=True)
    person_id: int | None = Field(default=None, foreign_key="person.id")
    act: str = Field(index=True)
    subject: str = ""
    subject_id: int | None = Field(default=None, index=True)
    card_id: int | None = Field(default=None, index=True)
    before: str = ""
    after: str = ""
    answer: str = ""
    touched: str = ""
    undid: int | None = Field(default=None, index=True, unique=True)


for _cls in (
    Person,
    Customer,
    Vehicle,
    Card,
    Task,
    ClockEntry,
    Break,
    Finding,
    Part,
    CardPart,
    Outwork,
    Tool,
    Sheet,
):
    _lock_version(_cls)
