"""What the lists show: rows of cards, people, clocks, customers, findings.

Apart from the views of a whole card, because the first screen is painted from these alone: the language of work
lists and units is not loaded for it.
"""

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class PersonView:
    """Somebody who works here."""

    id: int
    name: str
    role: str
    units: str


@dataclass(frozen=True, slots=True)
class CardRow:
    """One open card in the list of the desk; `on_order` parts are to come, `arrived` ones came and are not fitted."""

    id: int
    number: str
    customer_id: int
    customer: str
    phone: str
    vehicle_id: int
    registration: str
    vehicle: str
    title: str
    state: str
    held_for: str
    promised: date | None
    opened: datetime
    expected_minutes: int
    clocked_seconds: int
    tasks: int
    tasks_settled: int
    running: tuple[str, ...]
    open_tags: tuple[str, ...]
    owed: int
    on_order: int = 0
    arrived: int = 0

    @property
    def holds(self) -> str:
        """What holds the card up, in words; empty when nothing does."""
        parts = [self.held_for] if self.state == "held" and self.held_for else []
        parts += list(self.open_tags)
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class OwedView:
    """A promised check. `due` says in words when."""

    id: int
    title: str
    before: str
    due_odometer: int | None
    due_date: date | None
    state: str
    task: str
    card: str
    settled_for: str
    settled_by: str


@dataclass(frozen=True, slots=True)
class FindingView:
    """A finding."""

    id: int
    place: str
    what: str
    severity: str
    takes: str
    state: str
    seen_by: str
    seen: date
    card: str
    wanted: str = ""
    photo: str = ""
    declined_by: str = ""


@dataclass(frozen=True, slots=True)
class Carried:
    """Something earlier visits left: a finding, or a promised check. `key` names it, like ``finding:3`` or ``owed:5``.

    A finding has `severity`, what it `takes` and the template it has `wanted`; a check has the `task` that promised it
    and when it falls due.
    """

    key: str
    title: str
    by: str
    on: date
    card: str
    due: bool = True
    severity: str = ""
    takes: str = ""
    wanted: str = ""
    photo: str = ""
    due_odometer: int | None = None
    due_date: date | None = None
    task: str = ""


@dataclass(frozen=True, slots=True)
class ClockView:
    """A clock that is running, or a break from the task it ran on."""

    entry_id: int
    person_id: int
    person: str
    card_id: int
    card: str
    task_id: int
    task: str
    since: datetime
    on_break: bool = False


@dataclass(frozen=True, slots=True)
class CustomerView:
    """A customer as the desk looks one up."""

    id: int
    name: str
    phone: str
    email: str
    address: str
    vehicles: tuple[str, ...]
    version: int


@dataclass(frozen=True, slots=True)
class VehicleView:
    """A vehicle as the desk picks one."""

    id: int
    customer_id: int
    customer: str
    registration: str
    make: str
    model: str
    year: int | None
    sheet: str
    distance_unit: str
    last_odometer: int | None
    open_cards: tuple[str, ...]
    findings: tuple[FindingView, ...]
    owed: tuple[OwedView, ...]
