"""Who may: asked before every rule, whatever a screen shows or hides."""

from sqlmodel import Session, select

from shopcli.errors import Refused
from shopcli.shop.command import Command
from shopcli.shop.common import get
from shopcli.shop.records import Person
from shopcli.shop.rights import ORDER, RIGHTS, may

NOBODY = 0


def see_may(session: Session, by: int, command: Command) -> None:
    """See that who acts works here and may do it. Nobody may take on the first people of a shop, and nothing else.

    Raises
    ------
    NotFound
        When nobody is that.
    Refused
        When none of their roles may.
    """
    name = type(command).__name__
    if by == NOBODY and name == "AddPerson" and session.exec(select(Person.id).limit(1)).first() is None:
        return
    see_may_do(get(session, Person, by, "person"), name)


def see_may_do(person: Person, act: str) -> None:
    """See that somebody works here and may do an act of that name.

    Raises
    ------
    Refused
        When none of their roles may.
    """
    if not person.active:
        raise Refused(
            f"{person.name} does not work here now", hint="Say who stands here: F8, or --by at the shell."
        )
    if may(person.role, act):
        return
    right = RIGHTS.get(act)
    if right is None:
        raise Refused(f"nobody may do '{act}'", hint="It is missing from the table of rights.")
    names = " or the ".join(role for role in reversed(ORDER) if role in right.roles)
    raise Refused(f"{right.what} is for the {names}, not for {person.name}", hint=f"Ask the {names}.")
