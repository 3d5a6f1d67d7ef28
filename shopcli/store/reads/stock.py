"""What the shelf shows: every part with what is wanted of it and what is coming, its movements, its prices, suppliers."""

from decimal import Decimal
from typing import Any

from shopcli.errors import NotFound
from shopcli.shop.amounts import from_minor
from shopcli.shop.stores_views import MoveView, PartStoryView, PriceChangeView, StockView, SupplierView
from shopcli.store.reads.desk import like, part_numbered
from shopcli.store.shop import Shop

STOCK = """
SELECT p.id, p.number, p.name, p.unit, p.bin, p.supplier_id, p.supplier, p.stock_milli, COALESCE(w.qty, 0),
       COALESCE(o.qty, 0), p.reorder_milli, p.pack_milli, p.cost_minor, p.price_minor, p.surcharge_minor, p.vat,
       p.wants_serial, m.at, p.version
FROM part p
LEFT JOIN (
    SELECT l.part_id, SUM(l.qty_milli) AS qty FROM card_part l JOIN card c ON c.id = l.card_id
    WHERE l.state IN ('wanted', 'on order') AND NOT l.optional AND NOT l.customers_own
    AND c.state NOT IN ('closed', 'void') GROUP BY l.part_id
) w ON w.part_id = p.id
LEFT JOIN (
    SELECT n.part_id, SUM(n.qty_milli - n.in_milli) AS qty FROM order_line n JOIN purchase_order q ON q.id = n.order_id
    WHERE q.state IN ('drafted', 'sent', 'part in') AND n.closed_for = '' AND n.in_milli < n.qty_milli
    GROUP BY n.part_id
) o ON o.part_id = p.id
LEFT JOIN (SELECT part_id, MAX(at) AS at FROM stock_move WHERE why = 'stock-taking' GROUP BY part_id) m
    ON m.part_id = p.id"""
NARROW = "(lower(p.number) LIKE ? ESCAPE '!' OR lower(p.name) LIKE ? ESCAPE '!' OR lower(p.bin) LIKE ? ESCAPE '!' OR lower(p.supplier) LIKE ? ESCAPE '!')"
MOVES = """
SELECT m.at, m.qty_milli, m.why, COALESCE(c.number, ''), COALESCE(o.number, ''), m.note, COALESCE(p.name, '')
FROM stock_move m LEFT JOIN card c ON c.id = m.card_id LEFT JOIN order_line n ON n.id = m.order_line_id
LEFT JOIN purchase_order o ON o.id = n.order_id LEFT JOIN person p ON p.id = m.moved_by
WHERE m.part_id = ? ORDER BY m.id DESC LIMIT ?"""
PRICES = """
SELECT c.at, c.cost_minor, c.price_minor, c.why, COALESCE(p.name, '') FROM price_change c
LEFT JOIN person p ON p.id = c.changed_by WHERE c.part_id = ? ORDER BY c.id DESC"""
SUPPLIERS = """
SELECT s.id, s.name, s.phone, s.email, s.account, s.note, s.usual_days,
       (SELECT COUNT(*) FROM part p WHERE p.supplier_id = s.id), s.version
FROM supplier s"""
MOST_MOVES = 100


def thousandths(milli: int) -> Decimal:
    """Return a quantity kept in thousandths."""
    return Decimal(int(milli)) / 1000


def _stock_view(shop: Shop, row: tuple[Any, ...]) -> StockView:
    return StockView(
        *row[:7],
        *(thousandths(qty) for qty in row[7:12]),
        *(from_minor(minor) for minor in row[12:15]),
        row[15],
        bool(row[16]),
        shop.local(row[17]).date() if row[17] else None,
        row[18],
    )


def stock(shop: Shop, text: str = "", limit: int | None = None) -> tuple[StockView, ...]:
    """Return the parts whose number, name, bin or supplier hold every word of `text`, by name."""
    words = text.split()[:6]
    where = " WHERE " + " AND ".join([NARROW] * len(words)) if words else ""
    params: list[object] = [like(word) for word in words for _ in range(4)]
    most = "" if limit is None else " LIMIT ?"
    params += [] if limit is None else [limit]
    rows = shop.fetch(f"{STOCK}{where} ORDER BY lower(p.name), p.number{most}", tuple(params))
    return tuple(_stock_view(shop, row) for row in rows)


def stocked(shop: Shop, number: str) -> StockView:
    """Return the part of that number, any case.

    Raises
    ------
    NotFound
        When there is none.
    """
    return _stock_view(shop, shop.fetch(f"{STOCK} WHERE p.id = ?", (part_numbered(shop, number)[0],))[0])


def part_story(shop: Shop, part_id: int) -> PartStoryView:
    """Return a part with its last movements and every price it had.

    Raises
    ------
    NotFound
        When there is no such part.
    """
    rows = shop.fetch(f"{STOCK} WHERE p.id = ?", (part_id,))
    if not rows:
        raise NotFound(f"there is no part {part_id}")
    moves = shop.fetch(MOVES, (part_id, MOST_MOVES))
    count = int(shop.fetch("SELECT COUNT(*) FROM stock_move WHERE part_id = ?", (part_id,))[0][0])
    return PartStoryView(
        _stock_view(shop, rows[0]),
        tuple(MoveView(shop.local(at), thousandths(qty), *rest) for at, qty, *rest in moves),
        tuple(
            PriceChangeView(shop.local(at), from_minor(cost), from_minor(price), why, who)
            for at, cost, price, why, who in shop.fetch(PRICES, (part_id,))
        ),
        count - len(moves),
    )


def suppliers(shop: Shop) -> tuple[SupplierView, ...]:
    """Return everybody parts are bought from, by name."""
    return tuple(SupplierView(*row) for row in shop.fetch(f"{SUPPLIERS} ORDER BY lower(s.name)"))


def supplier_named(shop: Shop, name: str) -> SupplierView:
    """Return the supplier of that name, or the only one that begins so.

    Raises
    ------
    NotFound
        When none or more than one is meant.
    """
    text = " ".join(name.casefold().split())
    every = suppliers(shop)
    found = [s for s in every if s.name.casefold() == text] or [
        s for s in every if s.name.casefold().startswith(text)
    ]
    if len(found) == 1 and text:
        return found[0]
    names = "; ".join(s.name for s in found or every) or "None is written down yet."
    raise NotFound(f"{'which' if found else 'no'} supplier is '{name.strip()[:40]}'", hint=names)
