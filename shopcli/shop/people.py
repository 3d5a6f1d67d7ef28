"""People who work here."""

from sqlmodel import Session, select

from shopcli.cleantext import required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.people_commands import AddPerson, SetUnits
from shopcli.shop.records import Person
from shopcli.shop.states import Role

UNITS = ("metric", "imperial")


def _units(units: str) -> str:
    if units not in UNITS:
        raise BadInput(f"units are '{units}'", hint="Write metric or imperial.")
    return units


def add_person(session: Session, _act: Act, cmd: AddPerson) -> Change:
    """Take somebody on."""
    name = required_line(cmd.name, name="name", limit=60)
    if cmd.role not in set(Role):
        raise BadInput(f"there is no role '{cmd.role}'", hint="Write one of: " + ", ".join(Role) + ".")
    if session.exec(select(Person).where(Person.name == name)).first():
        raise Refused(f"{name} is already here", hint="Add an initial to tell them apart.")
    person = saved(session, Person(name=name, role=cmd.role, units=_units(cmd.units)))
    return Change("person", key_of(person), said=(f"{name} added.",))


def set_units(session: Session, _act: Act, cmd: SetUnits) -> Change:
    """Change the units somebody reads in."""
    person = get(session, Person, cmd.person_id, "person")
    before = person.units
    person.units = _units(cmd.units)
    session.add(person)
    return Change(
        "person", cmd.person_id, before={"units": before}, said=(f"Numbers are {cmd.units} first now.",)
    )
