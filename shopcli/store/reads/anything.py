"""Finding any card and any task of the card in hand by what somebody types, for the palette."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from shopcli.shop.listed import CardRow
from shopcli.store.reads.desk import open_cards, vehicle_name
from shopcli.store.shop import Shop

CLOSED = """
SELECT c.id, c.number, v.registration, v.make, v.model, v.year, c.title, c.state
FROM card c JOIN vehicle v ON v.id = c.vehicle_id
WHERE c.state IN ('closed', 'void') AND (c.number = ? OR v.registration = ?)
ORDER BY c.id DESC LIMIT ?"""
TASKS = """
SELECT t.id, t.title, t.state, c.number FROM task t JOIN card c ON c.id = t.card_id
WHERE t.card_id = ? ORDER BY t.position"""


# An open card by its state, or by a tag that hangs on its car.
STANDING = """
SELECT c.id, c.number, v.registration, v.make, v.model, v.year, c.title, c.state
FROM card c JOIN vehicle v ON v.id = c.vehicle_id
WHERE c.state NOT IN ('closed', 'void') AND (c.state = ? OR EXISTS (
SELECT 1 FROM tag g WHERE g.vehicle_id = v.id AND g.lifted_at IS NULL AND LOWER(g.name) LIKE ? ESCAPE '!'))
ORDER BY c.id LIMIT ?"""
LEAST = 3  # letters from which states and tags are looked through


class FoundCard(NamedTuple):
    """A card by its number, car, job and state."""

    id: int
    number: str
    registration: str
    vehicle: str
    title: str
    state: str


class FoundTask(NamedTuple):
    """A task of the card in hand."""

    id: int
    title: str
    state: str
    card: str


def found_cards(shop: Shop, text: str, limit: int = 8) -> tuple[FoundCard, ...]:
    """Return open cards every word of `text` fits, then those that stand so or have such a tag on the car.

    After them come closed ones with that very number or registration.
    """
    found = [_open(row) for row in open_cards(shop, text, limit)]
    said = text.strip().lower()
    if len(said) >= LEAST:
        there = {one.id for one in found}
        rows = shop.fetch(STANDING, (said, f"%{_plain(said)}%", limit))
        found += [_found(row) for row in rows if row[0] not in there]
    typed = text.strip().upper()
    if typed:
        number = f"J{int(typed.removeprefix('J')):05d}" if typed.removeprefix("J").isdecimal() else typed
        found += map(_found, shop.fetch(CLOSED, (number, typed, limit)))
    return tuple(found[:limit])


def _plain(text: str) -> str:
    """Return text whose signs stand for themselves in a LIKE."""
    return text.replace("!", "!!").replace("%", "!%").replace("_", "!_")


def _found(row: Sequence[Any]) -> FoundCard:
    key, number, registration, make, model, year, title, state = row
    return FoundCard(key, number, registration, vehicle_name(make, model, year), title, state)


def _open(row: CardRow) -> FoundCard:
    return FoundCard(row.id, row.number, row.registration, row.vehicle, row.title, row.state)


def found_tasks(shop: Shop, card_id: int, text: str, limit: int = 8) -> tuple[FoundTask, ...]:
    """Return the tasks of a card with every word of `text` in their titles, or how they stand."""
    words = text.lower().split()
    rows = (FoundTask(*row) for row in shop.fetch(TASKS, (card_id,)))
    return tuple(row for row in rows if all(w in f"{row.title} {row.state}".lower() for w in words))[:limit]
