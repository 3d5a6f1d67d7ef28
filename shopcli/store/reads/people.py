"""Who works here, and whose clock runs."""

from shopcli.errors import NotFound
from shopcli.folded import folded
from shopcli.shop.listed import ClockView, PersonView
from shopcli.shop.people_views import PersonKnown
from shopcli.store.shop import Shop

# Version and name of the owner of a shop whose settings name nobody.
FIRST = (1, "Owner")


def people(shop: Shop) -> tuple[PersonView, ...]:
    """Return everybody who works here now, by name."""
    rows = shop.fetch("SELECT id, name, role, units FROM person WHERE active ORDER BY name")
    return tuple(PersonView(*row) for row in rows)


def person(shop: Shop, name: str) -> PersonView:
    """Return the person of that name, any case, or a beginning only one has.

    Raises
    ------
    NotFound
        When nobody or more than one answers to it.
    """
    everybody = people(shop)
    wanted = name.strip().casefold()
    exact = [p for p in everybody if p.name.casefold() == wanted]
    plain = folded(name.strip())
    near = exact or [p for p in everybody if plain and folded(p.name).startswith(plain)]
    if len(near) == 1:
        return near[0]
    names = ", ".join(p.name for p in near or everybody)
    raise NotFound(
        f"'{name}' is {'more than one person' if near else 'nobody here'}", hint=f"One of: {names}."
    )


def everybody(shop: Shop) -> tuple[PersonKnown, ...]:
    """Return everybody who works here or did, those who do first, by name."""
    rows = shop.fetch(
        "SELECT p.id, p.version, p.name, p.role, p.units, p.active, n.person_id IS NOT NULL FROM person p"
        " LEFT JOIN pin n ON n.person_id = p.id ORDER BY p.active DESC, p.name"
    )
    return tuple(PersonKnown(*row[:5], bool(row[5]), bool(row[6])) for row in rows)


def unnamed_owner(shop: Shop) -> PersonKnown | None:
    """Return the owner a new shop began with, while nobody has given them a name; None in every shop that is used."""
    there = everybody(shop)
    begun = (
        len(there) > 1 or (there and there[0][1:3] != FIRST) or shop.fetch("SELECT 1 FROM customer LIMIT 1")
    )
    return None if begun or not there else there[0]


def has_pin(shop: Shop, person_id: int) -> bool:
    """Return whether somebody has a PIN, and so is nobody without typing it."""
    return bool(shop.fetch("SELECT 1 FROM pin WHERE person_id = ?", (person_id,)))


def running_clocks(shop: Shop) -> tuple[ClockView, ...]:
    """Return every running clock, longest first."""
    rows = shop.fetch(
        "SELECT e.id, e.person_id, p.name, e.card_id, c.number, e.task_id, t.title, e.started_at"
        " FROM clock_entry e JOIN person p ON p.id = e.person_id JOIN card c ON c.id = e.card_id"
        " JOIN task t ON t.id = e.task_id WHERE e.ended_at IS NULL ORDER BY e.started_at"
    )
    return tuple(ClockView(*(*row[:7], shop.local(row[7]))) for row in rows)


def clocks_and_breaks(shop: Shop) -> tuple[ClockView, ...]:
    """Return every running clock, and whoever is on a break from a task; longest first."""
    rows = shop.fetch(
        "SELECT e.id, e.person_id, p.name, e.card_id, c.number, e.task_id, t.title, e.started_at, e.rest FROM"
        " (SELECT id, person_id, card_id, task_id, started_at, 0 AS rest FROM clock_entry WHERE ended_at IS NULL"
        " UNION ALL"
        " SELECT id, person_id, card_id, task_id, started_at, 1 AS rest FROM work_break WHERE ended_at IS NULL) e"
        " JOIN person p ON p.id = e.person_id JOIN card c ON c.id = e.card_id JOIN task t ON t.id = e.task_id"
        " ORDER BY e.started_at, e.person_id"
    )
    return tuple(ClockView(*(*row[:7], shop.local(row[7]), bool(row[8]))) for row in rows)
