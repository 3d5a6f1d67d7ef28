"""Who may: asked by the rules themselves, whatever a screen shows or hides."""

from sqlmodel import Session

from shopcli.errors import Refused
from shopcli.shop.act import Act
from shopcli.shop.common import get
from shopcli.shop.records import Person
from shopcli.shop.states import Role

COUNTER = (Role.DESK, Role.OWNER)


def only(session: Session, act: Act, roles: tuple[Role, ...], what: str) -> None:
    """See that who acts may.

    Raises
    ------
    Refused
        When their role is none of `roles`.
    """
    person = get(session, Person, act.by, "person")
    if person.role not in roles:
        names = " or the ".join(roles)
        raise Refused(f"{what} is for the {names}, not for {person.name}", hint=f"Ask the {names}.")
