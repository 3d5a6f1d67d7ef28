"""Finding any card and any task of the card in hand by what somebody types, for the palette."""

from typing import NamedTuple

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
    """Return open cards every word of `text` fits, then closed ones with that very number or registration."""
    found = [_open(row) for row in open_cards(shop, text, limit)]
    typed = text.strip().upper()
    if typed:
        number = f"J{int(typed.removeprefix('J')):05d}" if typed.removeprefix("J").isdecimal() else typed
        for key, its_number, registration, make, model, year, title, state in shop.fetch(
            CLOSED, (number, typed, limit)
        ):
            car = vehicle_name(make, model, year)
            found.append(FoundCard(key, its_number, registration, car, title, state))
    return tuple(found[:limit])


def _open(row: CardRow) -> FoundCard:
    return FoundCard(row.id, row.number, row.registration, row.vehicle, row.title, row.state)


def found_tasks(shop: Shop, card_id: int, text: str, limit: int = 8) -> tuple[FoundTask, ...]:
    """Return the tasks of a card with every word of `text` in their titles."""
    words = text.lower().split()
    rows = (FoundTask(*row) for row in shop.fetch(TASKS, (card_id,)))
    return tuple(row for row in rows if all(word in row.title.lower() for word in words))[:limit]
