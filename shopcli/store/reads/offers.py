"""What may be done to a vehicle: the jobs that fit it, and how long their work lists are for it."""

import json
from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.errors import ShopError
from shopcli.store.reads.bench import own_specs
from shopcli.store.shop import Shop
from shopcli.worklists.expand import applicable
from shopcli.worklists.library import Library
from shopcli.worklists.model import VehicleFacts
from shopcli.worklists.sheets import SpecBook, facts, lookup
from shopcli.worklists.together import together


@dataclass(frozen=True, slots=True)
class Offer:
    """A job that fits the vehicle.

    `minutes` is hands-on time; `trouble` says why it cannot be expanded after all.
    """

    name: str
    title: str
    system: str
    minutes: int
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class Knowledge:
    """What is known of one vehicle, ready to expand jobs for it."""

    library: Library
    facts: VehicleFacts
    book: SpecBook

    def offers(self) -> tuple[Offer, ...]:
        """Return every job that fits, by title."""
        found = []
        for template in applicable(self.library, self.facts):
            minutes, trouble = 0, ""
            try:
                minutes = self.minutes((template.name,))
            except ShopError as error:
                trouble = error.message
            found.append(Offer(template.name, template.title, template.system, minutes, trouble))
        return tuple(found)

    def minutes(self, names: Sequence[str]) -> int:
        """Return the hands-on time of several jobs together, what they share counted once, [min].

        Raises
        ------
        ShopError
            When they cannot be expanded for the vehicle, or cannot share a card.
        """
        return together(self.library, tuple(names), self.facts, self.book).minutes


def knowledge(shop: Shop, sheet: str = "", vehicle_id: int | None = None) -> Knowledge:
    """Return what is known of a vehicle; of one that is not written down yet, by its sheet alone.

    Raises
    ------
    NotFound
        When the sheet is not in the library.
    """
    entered: dict[str, object] = {}
    own = {}
    if vehicle_id is not None:
        for named, text in shop.fetch("SELECT sheet, facts FROM vehicle WHERE id = ?", (vehicle_id,)):
            sheet, entered = named, json.loads(text)
        own = own_specs(shop, vehicle_id)
    library = shop.library
    return Knowledge(library, facts(library, sheet, entered), lookup(library, sheet, tuple(own.values())))


def fitting(shop: Shop, vehicle_id: int) -> tuple[tuple[str, str, str], ...]:
    """Return the jobs that fit a vehicle as (name, title, system), by title; none where nothing is known of it."""
    try:
        known = knowledge(shop, vehicle_id=vehicle_id)
    except ShopError:
        return ()
    return tuple((t.name, t.title, t.system) for t in applicable(known.library, known.facts))
