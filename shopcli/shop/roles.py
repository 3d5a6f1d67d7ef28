"""Who may: asked before every rule, whatever a screen shows or hides."""

from sqlmodel import Session, select

from shopcli.errors import NotFound, Refused
from shopcli.shop.command import Command
from shopcli.shop.fetch import fetcher
from shopcli.shop.records import Person
from shopcli.shop.rights import ORDER, RIGHTS, may

NOBODY = 0
WHO = "SELECT name, role, active FROM person WHERE id = ?"


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
    see_may_do(session, by, name)


def see_may_do(session: Session, by: int, act: str) -> None:
    """See that somebody works here and may do an act of that name.

    Raises
    ------
    NotFound
        When nobody is that.
    Refused
        When none of their roles may.
    """
    found = fetcher(session)(WHO, (by,))
    if not found:
        raise NotFound(f"there is no person {by}")
    who, role, active = found[0]
    if not active:
        raise Refused(f"{who} does not work here now", hint="Say who stands here: F8, or --by at the shell.")
    if may(role, act):
        return
    right = RIGHTS.get(act)
    if right is None:
        raise Refused(f"nobody may do '{act}'", hint="It is missing from the table of rights.")
    names = " or the ".join(one for one in reversed(ORDER) if one in right.roles)
    raise Refused(f"{right.what} is for the {names}, not for {who}", hint=f"Ask the {names}.")
