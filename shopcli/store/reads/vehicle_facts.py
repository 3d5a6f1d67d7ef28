"""The facts of one vehicle, for a sum that wants its firing order and not its owner."""

import json

from shopcli.errors import NotFound
from shopcli.store.shop import Shop
from shopcli.worklists.model import VehicleFacts
from shopcli.worklists.sheets import facts


def vehicle_facts(shop: Shop, vehicle_id: int) -> VehicleFacts:
    """Return what the vehicle's sheets say of it, and over that what was entered for it.

    Raises
    ------
    NotFound
        When there is no such vehicle, or its sheet is not in the library.
    """
    rows = shop.fetch("SELECT sheet, facts FROM vehicle WHERE id = ?", (vehicle_id,))
    if not rows:
        raise NotFound(f"there is no vehicle number {vehicle_id}", hint="Choose the card again at the desk.")
    sheet, entered = rows[0]
    return facts(shop.library, sheet, json.loads(entered))
