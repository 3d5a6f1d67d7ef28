"""What the shop knows of customers and vehicles when one is looked up: findings, promised checks, what earlier visits left."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class OwedView:
    """A promised check. `due` says of one for a later day or distance that it has come."""

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
    due: bool = False

    @property
    def for_later(self) -> bool:
        """Whether it is open, and due only some time after the hand-over."""
        return self.state == "owed" and self.before != "hand-over" and not self.due

    @property
    def overdue(self) -> bool:
        """Whether it was left by an earlier visit for a day or a distance that has come."""
        return self.state == "owed" and self.before != "hand-over" and self.due


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
class CustomerEntry:
    """All that is written of a customer; `address` may have several lines, `country` is two letters or nothing."""

    id: int
    version: int
    name: str
    phone: str
    email: str
    address: str
    city: str
    post_code: str
    country: str
    vat_number: str
    reverse_charge: bool


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
