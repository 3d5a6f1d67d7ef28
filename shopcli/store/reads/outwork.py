"""What is outside the house: work sent out and when it is due, old units and parts sent back and who owes what for them."""

from datetime import date
from typing import Any

from shopcli.shop.amounts import from_minor
from shopcli.shop.stores_views import (
    CREDITED,
    CUSTOMER_OWES,
    HERE,
    SENT,
    STANDS,
    ExchangeView,
    OutworkView,
    StoresCounts,
)
from shopcli.store.reads.buying import purchases, to_order
from shopcli.store.reads.desk import as_date
from shopcli.store.reads.stock import thousandths
from shopcli.store.shop import Shop

OUTWORK = """
SELECT o.id, c.id, c.number, v.registration, k.name, o.what, o.who,
       CASE WHEN o.ring <> '' THEN o.ring ELSE COALESCE(s.phone, '') END, o.sent, o.due, o.back, o.cost_minor,
       o.price_minor, o.version
FROM outwork o JOIN card c ON c.id = o.card_id JOIN vehicle v ON v.id = c.vehicle_id
JOIN customer k ON k.id = c.customer_id LEFT JOIN supplier s ON lower(s.name) = lower(o.who)
WHERE c.state <> 'void'"""
EXCHANGES = """
SELECT l.id, b.id, l.description, l.qty_milli, l.unit, l.surcharge_minor, l.old_unit_back_at, b.at, b.credit_minor,
       b.credited_minor, b.credited_at, c.id, c.number, c.state, v.registration, k.name, k.phone,
       COALESCE(s.name, p.supplier, ''), l.fitted_at
FROM card_part l JOIN card c ON c.id = l.card_id JOIN vehicle v ON v.id = c.vehicle_id
JOIN customer k ON k.id = c.customer_id LEFT JOIN part p ON p.id = l.part_id
LEFT JOIN sent_back b ON b.card_part_id = l.id LEFT JOIN supplier s ON s.id = b.supplier_id
WHERE l.surcharge_minor > 0 AND l.state = 'fitted' AND NOT l.customers_own AND c.state <> 'void' ORDER BY l.id"""
PARTS_BACK = """
SELECT b.id, b.description, b.qty_milli, b.unit, b.credit_minor, b.credited_minor, b.credited_at, b.at,
       COALESCE(s.name, ''), b.reason
FROM sent_back b LEFT JOIN supplier s ON s.id = b.supplier_id WHERE b.card_part_id IS NULL ORDER BY b.id"""


def _outwork(row: tuple[Any, ...], today: date) -> OutworkView:
    sent, due, back = (as_date(text) for text in row[8:11])
    over = (today - due).days if due and not back else 0
    return OutworkView(
        *row[:8], sent, due, back, from_minor(row[11]), from_minor(row[12]), max(0, over), row[13]
    )


def outwork(shop: Shop, *, back: bool = False) -> tuple[OutworkView, ...]:
    """Return work that is out, what is due first first; with `back` what came back too."""
    today = shop.local(shop.at()).date()
    where = "" if back else " AND o.back = ''"
    rows = shop.fetch(f"{OUTWORK}{where} ORDER BY CASE WHEN o.due = '' THEN 1 ELSE 0 END, o.due, o.id")
    return tuple(_outwork(row, today) for row in rows)


def _day(shop: Shop, seconds: int | None) -> date | None:
    return None if seconds is None else shop.local(seconds).date()


def _exchange(shop: Shop, row: tuple[Any, ...]) -> ExchangeView:
    line, sent_id, what, qty, unit, surcharge, back_at, sent_at, credit, credited, credited_at = row[:11]
    card_id, card, state, registration, customer, phone, supplier, fitted_at = row[11:]
    if sent_id is None:
        stands, since = (CUSTOMER_OWES, fitted_at) if back_at is None else (HERE, back_at)
        owed = surcharge * qty // 1000
    else:
        stands, since = (SENT, sent_at) if credited_at is None else (CREDITED, credited_at)
        owed = credit
    return ExchangeView(
        f"unit:{line}",
        line,
        sent_id,
        what,
        thousandths(qty),
        unit,
        stands,
        from_minor(owed),
        None if credited is None else from_minor(credited),
        card_id,
        card,
        state,
        registration,
        customer,
        phone,
        supplier,
        "",
        _day(shop, since),
    )


def _part_back(shop: Shop, row: tuple[Any, ...]) -> ExchangeView:
    key, what, qty, unit, credit, credited, credited_at, at, supplier, reason = row
    return ExchangeView(
        f"part:{key}",
        None,
        key,
        what,
        thousandths(qty),
        unit,
        SENT if credited_at is None else CREDITED,
        from_minor(credit),
        None if credited is None else from_minor(credited),
        None,
        "",
        "",
        "",
        "",
        "",
        supplier,
        reason,
        _day(shop, at if credited_at is None else credited_at),
    )


def exchanges(shop: Shop, *, settled: bool = False) -> tuple[ExchangeView, ...]:
    """Return old units and parts sent back that somebody still owes something for; with `settled` the others too."""
    found = [_exchange(shop, row) for row in shop.fetch(EXCHANGES)]
    found += [_part_back(shop, row) for row in shop.fetch(PARTS_BACK)]
    kept = [x for x in found if settled or x.stands != CREDITED]
    return tuple(sorted(kept, key=lambda x: (STANDS.index(x.stands), x.since or date.min, x.key)))


def counts(shop: Shop) -> StoresCounts:
    """Return how much stands on each page of the stores."""
    orders, out = purchases(shop), outwork(shop)
    return StoresCounts(
        len(to_order(shop)),
        len(orders),
        sum(o.late for o in orders),
        len(out),
        sum(o.days_over > 0 for o in out),
        len(exchanges(shop)),
    )
