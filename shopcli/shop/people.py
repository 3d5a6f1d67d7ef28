"""People who work here, and what each of them may do."""

from sqlmodel import Session, select

from shopcli.cleantext import required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.people_commands import AddPerson, ChangePerson, PersonComesBack, PersonLeaves, SetUnits
from shopcli.shop.records import Break, ClockEntry, Person, Pin
from shopcli.shop.rights import is_owner, roles_text

UNITS = ("metric", "imperial")
LONGEST_NAME = 60


def _units(units: str) -> str:
    if units not in UNITS:
        raise BadInput(f"units are '{units}'", hint="Write metric or imperial.")
    return units


def _new_name(session: Session, typed: str, person_id: int | None = None) -> str:
    """Return a name as it is kept, once nobody else is seen to have it."""
    name = required_line(typed, name="name", limit=LONGEST_NAME)
    taken = session.exec(select(Person).where(Person.name == name)).first()
    if taken and taken.id != person_id:
        where = "already here" if taken.active else "the name of somebody who left"
        raise Refused(f"{name} is {where}", hint="Add an initial to tell them apart.")
    return name


def _see_owner_left(session: Session, person: Person) -> None:
    """Refuse what would leave the shop without an owner.

    Raises
    ------
    Refused
        When nobody else who works here is one.
    """
    others = session.exec(select(Person).where(Person.active, Person.id != person.id))
    if is_owner(person.role) and not any(is_owner(other.role) for other in others):
        raise Refused(
            f"{person.name} is the only owner: a shop has at least one",
            hint="Make somebody else an owner first.",
        )


def add_person(session: Session, _act: Act, cmd: AddPerson) -> Change:
    """Take somebody on.

    Raises
    ------
    BadInput
        When a role is none.
    Refused
        When somebody has that name.
    """
    role, name = roles_text(cmd.role), _new_name(session, cmd.name)
    person = saved(session, Person(name=name, role=role, units=_units(cmd.units)))
    return Change("person", key_of(person), said=(f"{name} added.",))


def change_person(session: Session, act: Act, cmd: ChangePerson) -> Change:
    """Change somebody's name or roles.

    Raises
    ------
    Stale
        When another terminal changed them meanwhile.
    Refused
        When somebody else has that name, or the shop would be left without an owner.
    """
    person = get(session, Person, cmd.person_id, "person")
    role = roles_text(cmd.role)
    if not is_owner(role):
        _see_owner_left(session, person)
    before, what = {"name": person.name, "role": person.role}, person.name
    person.name, person.role = _new_name(session, cmd.name, cmd.person_id), role
    settle(session, act, cmd, person, before, subject="person", what=what)
    session.add(person)
    after = {"name": person.name, "role": person.role}
    return Change(
        "person", cmd.person_id, before=before, after=after, said=(f"{person.name}: {person.role}.",)
    )


def person_leaves(session: Session, _act: Act, cmd: PersonLeaves) -> Change:
    """Let somebody go; a PIN they had is thrown away.

    Raises
    ------
    Refused
        When they are the only owner, on a clock or a break, or gone already.
    """
    person = get(session, Person, cmd.person_id, "person")
    if not person.active:
        raise Refused(f"{person.name} no longer works here already")
    _see_owner_left(session, person)
    for kind, words in ((ClockEntry, "clock still runs"), (Break, "break is not over")):
        if session.exec(select(kind).where(kind.person_id == person.id, kind.ended_at == None)).first():  # noqa: E711 - SQL
            raise Refused(f"{person.name}'s {words}", hint=f"Stop it first: F8, {person.name}, then c.")
    person.active = False
    session.add(person)
    pin = session.get(Pin, cmd.person_id)
    if pin is not None:
        session.delete(pin)
    return Change("person", cmd.person_id, said=(f"{person.name} no longer works here.",))


def person_comes_back(session: Session, _act: Act, cmd: PersonComesBack) -> Change:
    """Take somebody on again; they have no PIN then.

    Raises
    ------
    Refused
        When they work here.
    """
    person = get(session, Person, cmd.person_id, "person")
    if person.active:
        raise Refused(f"{person.name} works here")
    person.active = True
    session.add(person)
    return Change("person", cmd.person_id, said=(f"{person.name} works here again.",))


def set_units(session: Session, _act: Act, cmd: SetUnits) -> Change:
    """Change the units somebody reads in."""
    person = get(session, Person, cmd.person_id, "person")
    before = person.units
    person.units = _units(cmd.units)
    session.add(person)
    return Change(
        "person", cmd.person_id, before={"units": before}, said=(f"Numbers are {cmd.units} first now.",)
    )
