"""What may be asked of people, customers and vehicles."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class AddPerson(Command):
    """Take somebody on. `role` may be several; `units`: ``metric`` or ``imperial``, what their tools speak."""

    rule: ClassVar[str] = "people:add_person"
    name: str
    role: str = "mechanic"
    units: str = "metric"


@dataclass(frozen=True, slots=True)
class ChangePerson(Command):
    """Change somebody's name or roles; `version` is the one that was on the screen."""

    rule: ClassVar[str] = "people:change_person"
    person_id: int
    version: int
    name: str
    role: str
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class PersonLeaves(Command):
    """Say that somebody no longer works here; what they did stays theirs."""

    rule: ClassVar[str] = "people:person_leaves"
    person_id: int


@dataclass(frozen=True, slots=True)
class PersonComesBack(Command):
    """Say that somebody works here again."""

    rule: ClassVar[str] = "people:person_comes_back"
    person_id: int


@dataclass(frozen=True, slots=True)
class SetUnits(Command):
    """Change the units somebody reads in."""

    rule: ClassVar[str] = "people:set_units"
    person_id: int
    units: str


@dataclass(frozen=True, slots=True)
class AddCustomer(Command):
    """Write down a customer; `country` is two capitals (ISO 3166), the shop's own where it is empty."""

    rule: ClassVar[str] = "customers:add_customer"
    name: str
    phone: str = ""
    email: str = ""
    address: str = ""
    city: str = ""
    post_code: str = ""
    country: str = ""
    vat_number: str = ""


@dataclass(frozen=True, slots=True)
class ChangeCustomer(Command):
    """Change a customer; `version` is the one that was on the screen."""

    rule: ClassVar[str] = "customers:change_customer"
    customer_id: int
    version: int
    name: str
    phone: str = ""
    email: str = ""
    address: str = ""
    city: str = ""
    post_code: str = ""
    country: str = ""
    vat_number: str = ""
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class SetReverseCharge(Command):
    """Bill a customer without tax by their VAT number, which they account for themselves; an empty one ends it."""

    rule: ClassVar[str] = "reverse_charge:set_reverse_charge"
    customer_id: int
    vat_number: str = ""


@dataclass(frozen=True, slots=True)
class AddVehicle(Command):
    """Write down a vehicle. `sheet` names its nearest spec sheet; `facts` are overrides as (name, text)."""

    rule: ClassVar[str] = "customers:add_vehicle"
    knows: ClassVar[bool] = True
    customer_id: int
    registration: str
    make: str
    model: str = ""
    year: int | None = None
    sheet: str = ""
    distance_unit: str = "mi"
    chassis_number: str = ""
    engine_number: str = ""
    facts: tuple[tuple[str, str], ...] = ()
