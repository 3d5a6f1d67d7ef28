"""The order list: what the cards have on order, and what the shelf is short of, by supplier."""

from dataclasses import dataclass
from decimal import Decimal

from shopcli.store.shop import Shop

LINES = """
SELECT COALESCE(p.supplier, ''), COALESCE(p.number, ''), l.description, l.qty_milli, l.unit, c.number, v.registration
FROM card_part l JOIN card c ON c.id = l.card_id JOIN vehicle v ON v.id = c.vehicle_id
LEFT JOIN part p ON p.id = l.part_id
WHERE l.state = 'on order' AND c.state NOT IN ('closed', 'void') ORDER BY 1, 3, c.number"""
LOW = """
SELECT supplier, number, name, reorder_milli - stock_milli, unit FROM part
WHERE reorder_milli > 0 AND stock_milli <= reorder_milli ORDER BY supplier, name"""


@dataclass(frozen=True, slots=True)
class ToOrder:
    """Something to order. `card` names the card that waits, empty where the shelf is at its reorder point."""

    supplier: str
    number: str
    part: str
    qty: Decimal
    unit: str
    card: str = ""
    registration: str = ""


def order_list(shop: Shop) -> tuple[ToOrder, ...]:
    """Return what is to be ordered: for cards first, then for the shelf; suppliers together."""
    for_cards = [
        ToOrder(s, n, text, Decimal(q) / 1000, u, card, reg)
        for s, n, text, q, u, card, reg in shop.fetch(LINES)
    ]
    shelf = [ToOrder(s, n, text, Decimal(q) / 1000, u) for s, n, text, q, u in shop.fetch(LOW)]
    return tuple(sorted([*for_cards, *shelf], key=lambda o: (o.supplier, not o.card)))
