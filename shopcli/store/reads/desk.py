"""What the desk looks at: vehicles, what they carry, parts; the open cards have a file of their own."""

from typing import Any

from shopcli.errors import NotFound
from shopcli.shop.carried import carried as find_carried
from shopcli.shop.known import Carried, FindingView, OwedView, VehicleView
from shopcli.shop.owed_now import is_due
from shopcli.store.reads.open_cards import as_date, like, open_cards, vehicle_name
from shopcli.store.shop import Shop

__all__ = [
    "FINDINGS",
    "OWED",
    "VEHICLES",
    "as_date",
    "carried",
    "find_parts",
    "find_vehicles",
    "finding_view",
    "findings",
    "like",
    "open_cards",
    "owed_later",
    "owed_rows",
    "part_numbered",
    "vehicle",
    "vehicle_name",
]

VEHICLES = """
SELECT v.id, v.customer_id, k.name, v.registration, v.make, v.model, v.year, v.sheet, v.distance_unit,
       (SELECT c.odometer FROM card c WHERE c.vehicle_id = v.id AND c.odometer IS NOT NULL AND c.state <> 'void'
        ORDER BY c.opened_at DESC, c.id DESC LIMIT 1)
FROM vehicle v JOIN customer k ON k.id = v.customer_id"""


def _vehicle(shop: Shop, row: tuple[Any, ...]) -> VehicleView:
    cards = shop.fetch(
        "SELECT number FROM card WHERE vehicle_id = ? AND state IN ('booked', 'in hand', 'held', 'checked') ORDER BY id",
        (row[0],),
    )
    return VehicleView(*(*row, tuple(c[0] for c in cards), findings(shop, row[0]), owed_later(shop, row[0])))


def find_vehicles(
    shop: Shop, text: str = "", customer_id: int | None = None, limit: int = 20
) -> tuple[VehicleView, ...]:
    """Return vehicles by registration or make, of one customer or of all."""
    sql = VEHICLES + " WHERE (lower(v.registration) LIKE ? ESCAPE '!' OR lower(v.make) LIKE ? ESCAPE '!')"
    params: tuple[object, ...] = (like(text), like(text))
    if customer_id is not None:
        sql, params = sql + " AND v.customer_id = ?", (*params, customer_id)
    return tuple(
        _vehicle(shop, row) for row in shop.fetch(sql + " ORDER BY v.registration LIMIT ?", (*params, limit))
    )


def vehicle(shop: Shop, vehicle_id: int) -> VehicleView:
    """Return one vehicle.

    Raises
    ------
    NotFound
        When there is none of that id.
    """
    rows = shop.fetch(VEHICLES + " WHERE v.id = ?", (vehicle_id,))
    if not rows:
        raise NotFound(f"there is no vehicle {vehicle_id}")
    return _vehicle(shop, rows[0])


FINDINGS = """
SELECT f.id, f.place, f.what, f.severity, f.takes, f.state, p.name, f.seen_at, c.number, f.wanted, f.photo, f.declined_by
FROM finding f JOIN person p ON p.id = f.seen_by JOIN card c ON c.id = f.card_id"""


def finding_view(shop: Shop, row: tuple[Any, ...]) -> FindingView:
    """Return a row of `FINDINGS` as a view."""
    return FindingView(*(*row[:7], shop.local(row[7]).date(), *row[8:]))


def findings(shop: Shop, vehicle_id: int) -> tuple[FindingView, ...]:
    """Return the open findings of a vehicle, worst first."""
    order = " ORDER BY CASE f.severity WHEN 'stop' THEN 0 WHEN 'soon' THEN 1 ELSE 2 END, f.id"
    rows = shop.fetch(FINDINGS + " WHERE f.vehicle_id = ? AND f.state = 'open'" + order, (vehicle_id,))
    return tuple(finding_view(shop, r) for r in rows)


OWED = """
SELECT o.id, o.title, o.before, o.due_odometer, o.due_date, o.state, t.title, c.number, o.settled_for, COALESCE(p.name, ''),
       o.card_id
FROM owed o JOIN task t ON t.id = o.task_id JOIN card c ON c.id = o.card_id LEFT JOIN person p ON p.id = o.settled_by"""


def owed_rows(
    shop: Shop, where: str, params: tuple[object, ...], *, card_id: int = 0, odometer: int | None = None
) -> tuple[OwedView, ...]:
    """Return promised checks by a condition on them.

    What is due on a card is told by today and by what the odometer shows; what the card promised itself for later
    is later.
    """
    today = shop.local(shop.at()).date()

    def view(row: tuple[Any, ...]) -> OwedView:
        *rest, promised_on = row[5:]
        due = promised_on != card_id and is_due(row[2], row[3], row[4], odometer, today)
        return OwedView(row[0], row[1], row[2], row[3], as_date(row[4]), *rest, due=due)

    return tuple(view(row) for row in shop.fetch(f"{OWED} WHERE {where} ORDER BY o.id", params))


def owed_later(shop: Shop, vehicle_id: int) -> tuple[OwedView, ...]:
    """Return what earlier cards of a vehicle still owe."""
    return owed_rows(shop, "o.vehicle_id = ? AND o.state = 'owed'", (vehicle_id,))


def carried(shop: Shop, vehicle_id: int, odometer: int | None = None) -> tuple[Carried, ...]:
    """Return what earlier visits of a vehicle left for this one, at the odometer it shows now."""
    return find_carried(shop.fetch, vehicle_id, shop.settings, shop.at(), odometer)


def find_parts(shop: Shop, text: str, limit: int = 20) -> tuple[tuple[int, str, str, int, int, str], ...]:
    """Return stocked parts by number or name: (id, number, name, price in minor units, stock in thousandths, unit)."""
    pattern = like(text)
    rows = shop.fetch(
        "SELECT id, number, name, price_minor, stock_milli, unit FROM part WHERE lower(number) LIKE ? ESCAPE '!'"
        " OR lower(name) LIKE ? ESCAPE '!' ORDER BY name LIMIT ?",
        (pattern, pattern, limit),
    )
    return tuple((r[0], r[1], r[2], r[3], r[4], r[5]) for r in rows)


def part_numbered(shop: Shop, number: str) -> tuple[int, str, str]:
    """Return the stocked part of that number, any case: (id, number, name).

    Raises
    ------
    NotFound
        When there is none.
    """
    text = number.strip()
    rows = shop.fetch("SELECT id, number, name FROM part WHERE lower(number) = ?", (text.lower(),))
    if not rows:
        raise NotFound(f"no part has the number '{text[:60]}'", hint="Write it into the stock first.")
    return int(rows[0][0]), rows[0][1], rows[0][2]
