"""What the page of people asks: one thing at a time; Esc keeps nothing. PINs are typed twice and never shown."""

from typing import TYPE_CHECKING

from shopcli.errors import Refused
from shopcli.screens.askpin import new_pin, pin_of
from shopcli.screens.dialogs import Choice
from shopcli.shop.people_commands import AddPerson, ChangePerson, PersonComesBack, PersonLeaves
from shopcli.shop.people_views import PersonKnown
from shopcli.shop.pin_commands import ClearPin, SetPin
from shopcli.shop.rights import is_owner
from shopcli.shop.seen import over

if TYPE_CHECKING:
    from shopcli.screens.people.station import PeopleScreen

ROLES = {
    "mechanic": "works at the bench; no discounts, no money back",
    "desk": "that, and discounts, credit notes, money back",
    "desk, mechanic": "that, and counts as a pair of hands",
    "owner": "everything; sees money and hours",
    "owner, mechanic": "that, and counts as a pair of hands",
    "owner, desk": "everything",
    "owner, desk, mechanic": "everything, and counts as a pair of hands",
}
UNITS = (Choice("metric", "metric"), Choice("imperial", "imperial"))
NOTE = "4 to 12 figures. It keeps the wrong person from acting here, not whoever may read the file of the records."


async def _role(page: "PeopleScreen", name: str, now: str = "") -> str | None:
    """Ask what somebody may do; what they may do now stands first."""
    roles = sorted(ROLES, key=lambda role: role != now)
    return await page.ask_pick(f"What may {name} do?", [Choice(role, role, ROLES[role]) for role in roles])


async def ask_new(page: "PeopleScreen") -> None:
    """Take somebody on."""
    name = await page.ask_text("Who comes to work here?", placeholder="their name")
    if name is None:
        return
    role = await _role(page, name)
    if role is None:
        return
    units = await page.ask_pick(f"What do {name}'s tools speak?", UNITS)
    if units is not None:
        page.carry_out(AddPerson(name, role, units))


async def ask_change(page: "PeopleScreen", one: PersonKnown) -> None:
    """Change somebody's name, or what they may do."""
    name = await page.ask_text(f"{one.name}'s name?", value=one.name)
    if name is None:
        return
    role = await _role(page, name, one.role)
    if role is not None:
        page.carry_out(over(one, ChangePerson(one.id, one.version, name, role)))


async def ask_leaves(page: "PeopleScreen", one: PersonKnown) -> None:
    """Let somebody go, or take them on again."""
    if not one.active:
        if await page.ask_yes(f"Does {one.name} work here again?"):
            page.carry_out(PersonComesBack(one.id))
    elif await page.ask_yes(
        f"Does {one.name} no longer work here?", note="What they did stays theirs; a PIN is thrown away."
    ):
        page.carry_out(PersonLeaves(one.id))


def _see_may(page: "PeopleScreen", one: PersonKnown) -> bool:
    """Return whether it is one's own, once it is seen that one may; nothing is typed that will be refused."""
    who = page.desk_app.who
    if one.id != who.id and not is_owner(who.role):
        raise Refused(f"that is {one.name}'s PIN", hint=f"{one.name} sets it (F8), or an owner does.")
    return one.id == who.id


async def _old(page: "PeopleScreen", one: PersonKnown) -> str | None:
    """Return one's own PIN as it is now, nothing where there is none or it is somebody else's; None when it was left."""
    if not _see_may(page, one) or not one.has_pin:
        return ""
    return await page.app.push_screen_wait(pin_of(page.desk_app, one.id, one.name, "As it is now."))


async def ask_pin(page: "PeopleScreen", one: PersonKnown) -> None:
    """Set a PIN: the old one where it is one's own, then the new one twice."""
    old = await _old(page, one)
    if old is None:
        return

    new = await new_pin(page.desk_app, one.name, NOTE)
    if new is not None:
        page.carry_out(SetPin(one.id, new, old))


async def ask_clear_pin(page: "PeopleScreen", one: PersonKnown) -> None:
    """Take a PIN away."""
    if not one.has_pin:
        raise Refused(f"{one.name} has no PIN")
    old = await _old(page, one)
    if old is None:
        return
    question = f"Shall {one.name} have no PIN?"
    note = f"Whoever chooses the name is taken for {one.name} then."
    if await page.ask_yes(question, note=note):
        page.carry_out(ClearPin(one.id, old))
