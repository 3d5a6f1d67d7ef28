"""What was read on a vehicle at earlier visits, and its facts: read behind the screen once a card is in hand."""

from shopcli.errors import ShopError
from shopcli.shop.earlier import EarlierView, Memory
from shopcli.store.reads.vehicle_facts import vehicle_facts
from shopcli.store.shop import Shop
from shopcli.worklists.freeze import task_from_json

# The cards opened before this one; what was read later is no memory of it.
BEFORE = """
FROM reading r JOIN card c ON c.id = r.card_id JOIN task t ON t.id = r.task_id JOIN card h ON h.id = ?
WHERE r.vehicle_id = h.vehicle_id AND r.struck_at IS NULL AND c.state <> 'void'
AND (c.opened_at < h.opened_at OR (c.opened_at = h.opened_at AND c.id < h.id))"""
READINGS = f"""
SELECT c.number, r.at, c.odometer, r.task_id, t.key, r.slot, r.value, r.unit, r.quantity, r.typed, r.standing
{BEFORE} ORDER BY c.opened_at DESC, c.id DESC, r.id DESC LIMIT ?"""
STEPS = f"SELECT DISTINCT t.id, t.frozen {BEFORE}"
MOST = 2_000


def memory(shop: Shop, card_id: int) -> Memory:
    """Return what the vehicle of a card brings along; a vehicle whose sheet has gone has no facts."""
    rows = shop.fetch("SELECT vehicle_id FROM card WHERE id = ?", (card_id,))
    facts = None
    if rows:
        try:
            facts = vehicle_facts(shop, rows[0][0])
        except ShopError:
            facts = None
    return Memory(facts, earlier_readings(shop, card_id))


def earlier_readings(shop: Shop, card_id: int) -> tuple[EarlierView, ...]:
    """Return the readings of the vehicle's earlier cards, oldest first; the latest 2,000 of them."""
    rows = shop.fetch(READINGS, (card_id, MOST))
    specs = _specs(shop, card_id) if rows else {}
    return tuple(
        EarlierView(r[0], shop.local(r[1]), r[2], r[4], r[5], specs.get((r[3], r[5]), ""), *r[6:])
        for r in reversed(rows)
    )


def _specs(shop: Shop, card_id: int) -> dict[tuple[int, str], str]:
    """Return which number each slot of the earlier tasks was held against."""
    found = {}
    for task_id, frozen in shop.fetch(STEPS, (card_id,)):
        try:
            task = task_from_json(frozen)
        except ShopError:  # a step kept by another version is no reason to forget the rest
            continue
        found.update({(task_id, slot.key): slot.spec for slot in task.readings})
    return found
