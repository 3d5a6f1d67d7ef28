"""What is seen of buying: the order list, orders with their lines, and the cards whose parts came in."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from shopcli.errors import NotFound
from shopcli.shop.amounts import from_minor, half_up
from shopcli.shop.needs import needs
from shopcli.shop.stores_views import ArrivedView, NeedView, OrderLineView, PurchaseView
from shopcli.store.reads.desk import as_date
from shopcli.store.reads.stock import suppliers, thousandths
from shopcli.store.shop import Shop

ORDERS = """
SELECT o.id, o.number, o.supplier_id, o.state, o.note, o.made_at, COALESCE(p.name, ''), o.sent_at, o.cancelled_for
FROM purchase_order o LEFT JOIN person p ON p.id = o.made_by"""
UNDER_WAY = " WHERE o.state IN ('drafted', 'sent', 'part in') ORDER BY o.id"
LINES = """
SELECT n.order_id, n.id, n.number, n.description, n.unit, n.qty_milli, n.in_milli, n.cost_minor, n.due, n.closed_for,
       COALESCE(p.bin, ''), n.version
FROM order_line n JOIN purchase_order o ON o.id = n.order_id LEFT JOIN part p ON p.id = n.part_id"""
FOR_CARDS = """
SELECT l.order_line_id, c.number, v.registration FROM card_part l JOIN card c ON c.id = l.card_id
JOIN vehicle v ON v.id = c.vehicle_id WHERE l.order_line_id IS NOT NULL AND l.state = 'on order' ORDER BY l.id"""
ARRIVED = """
SELECT c.id, c.number, v.registration, k.name, k.phone, c.state, l.description, l.arrived_at,
       (SELECT COUNT(*) FROM card_part m WHERE m.card_id = c.id AND m.state = 'on order')
FROM card_part l JOIN card c ON c.id = l.card_id JOIN vehicle v ON v.id = c.vehicle_id
JOIN customer k ON k.id = c.customer_id
WHERE l.arrived_at IS NOT NULL AND l.state = 'wanted' AND c.state NOT IN ('closed', 'void') ORDER BY l.arrived_at, l.id"""


def to_order(shop: Shop) -> tuple[NeedView, ...]:
    """Return what is to be ordered, by supplier; what no supplier is known for comes last."""
    return tuple(
        NeedView(
            need.key,
            need.supplier_id,
            need.supplier,
            need.number,
            need.name,
            thousandths(need.qty_milli),
            need.unit,
            from_minor(need.cost_minor),
            thousandths(need.stock_milli),
            thousandths(need.reorder_milli),
            thousandths(need.coming_milli),
            tuple(dict.fromkeys(f"{w.card} {w.registration}" for w in need.lines)),
        )
        for need in needs(shop.fetch)
    )


def purchases(shop: Shop, *, over: bool = False) -> tuple[PurchaseView, ...]:
    """Return the orders under way, oldest first; with `over` all there ever were, the last first."""
    return _views(shop, shop.fetch(ORDERS + (" ORDER BY o.id DESC" if over else UNDER_WAY)))


def purchase(shop: Shop, number: str) -> PurchaseView:
    """Return an order by its number, any case; a bare figure will do.

    Raises
    ------
    NotFound
        When there is none.
    """
    text = number.strip().upper()
    wanted = (
        f"P{int(text):05d}" if text.isascii() and text.isdigit() and len(text) <= len("00000000") else text
    )
    found = _views(shop, shop.fetch(ORDERS + " WHERE o.number = ?", (wanted,)))
    if not found:
        raise NotFound(f"there is no order '{number.strip()[:20]}'", hint="See: shopcli purchase list")
    return found[0]


def _views(shop: Shop, rows: Iterable[tuple[Any, ...]]) -> tuple[PurchaseView, ...]:
    today = shop.local(shop.at()).date()
    by_id = {supplier.id: supplier for supplier in suppliers(shop)}
    cards: dict[int, list[str]] = defaultdict(list)
    for line_id, number, registration in shop.fetch(FOR_CARDS):
        cards[line_id].append(f"{number} {registration}")
    found = []
    for key, number, supplier_id, state, note, made, who, sent, why in rows:
        lines = tuple(
            _line(row, cards[row[1]], today, state)
            for row in shop.fetch(f"{LINES} WHERE n.order_id = ? ORDER BY n.id", (key,))
        )
        worth = sum((half_up(line.cost * (line.came + line.rest)) for line in lines), Decimal(0))
        sent_at = None if sent is None else shop.local(sent)
        found.append(
            PurchaseView(
                key,
                number,
                by_id[supplier_id],
                state,
                note,
                shop.local(made),
                who,
                sent_at,
                why,
                lines,
                worth,
            )
        )
    return tuple(found)


def _line(row: tuple[Any, ...], cards: Iterable[str], today: date, state: str) -> OrderLineView:
    _order, key, number, name, unit, qty, came, cost, due_text, closed_for, place, version = row
    open_still = not closed_for and state in {"drafted", "sent", "part in"}
    rest = thousandths(max(0, qty - came)) if open_still else Decimal(0)
    due = as_date(due_text)
    return OrderLineView(
        key,
        number,
        name,
        unit,
        thousandths(qty),
        thousandths(came),
        rest,
        from_minor(cost),
        due,
        bool(rest and due and due < today),
        closed_for,
        place,
        tuple(dict.fromkeys(cards)),
        version,
    )


def parts_arrived(shop: Shop) -> tuple[ArrivedView, ...]:
    """Return the open cards whose parts came in and are not fitted yet, whose came first first."""
    found: dict[int, list[tuple[Any, ...]]] = defaultdict(list)
    for row in shop.fetch(ARRIVED):
        found[row[0]].append(row)
    return tuple(
        ArrivedView(
            *rows[0][:6],
            tuple(dict.fromkeys(row[6] for row in rows)),
            rows[0][8] == 0,
            shop.local(max(row[7] for row in rows)),
        )
        for rows in found.values()
    )
