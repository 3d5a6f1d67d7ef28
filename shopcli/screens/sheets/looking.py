"""What the sheets screen reads, and which numbers a text means."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from textual.screen import Screen

from shopcli.screens.sheets.wording import searched
from shopcli.shop.sheet_views import VEHICLE, NumberView, SheetView
from shopcli.store.reads import sheets
from shopcli.store.shop import Shop


@dataclass(frozen=True, slots=True)
class Target:
    """What is looked at: a vehicle or own sheet by `key`, a shipped one by `name`."""

    where: str
    key: int = 0
    name: str = ""


def target_of(choice: str) -> Target:
    """Return what a choice of the picker means.

    Examples
    --------
    >>> target_of("vehicle:3:LRK 120")
    Target(where='vehicle', key=3, name='LRK 120')
    """
    where, key, name = choice.split(":", 2)
    return Target(where, int(key), name)


def vehicle_of_card(shop: Shop, card_id: int) -> Target | None:
    """Return the vehicle of a card."""
    vehicle_id = sheets.vehicle_of_card(shop, card_id)
    return Target(VEHICLE, vehicle_id) if vehicle_id is not None else None


def look_at(shop: Shop, target: Target) -> SheetView:
    """Return what is looked at, as it stands in the records now."""
    return sheets.sheet(shop, target.where, target.key, target.name)


def narrowed(
    numbers: Sequence[NumberView], text: str, added: Sequence[NumberView] = ()
) -> tuple[NumberView, ...]:
    """Return the numbers that hold every word typed; those just added stand first until they are entered."""
    words = text.casefold().split()
    known = {n.name for n in numbers}
    every = (*(n for n in added if n.name not in known), *numbers)
    return tuple(n for n in every if all(w in searched(n) for w in words))


def in_hand(screen: Screen[Any]) -> int | None:
    """Return the card that is in hand on a station, whose vehicle the sheets open at."""
    from shopcli.screens.bench.station import BenchScreen
    from shopcli.screens.desk.card_list import CardList
    from shopcli.screens.desk.station import DeskScreen

    if isinstance(screen, BenchScreen):
        return screen.view.id if screen.view else None
    if isinstance(screen, DeskScreen):
        cards = screen.query_one(CardList)
        card = cards.chosen or cards.chosen_closed
        return card.id if card else None
    return None
