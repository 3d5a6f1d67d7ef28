"""What is to be ordered: what cards want beyond the shelf, and what the shelf is short of; what is on its way counts.

One question for the rule that drafts an order and for the screen that shows the list, so that both say the same and
nothing is ordered twice.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from shopcli.shop.fetching import Fetch

WAITING = """
SELECT l.id, l.part_id, l.description, l.qty_milli, l.unit, l.cost_minor, l.state,
       CASE WHEN o.id IS NULL OR l.state <> 'on order' THEN 0 ELSE 1 END, c.id, c.number, v.registration, c.promised
FROM card_part l JOIN card c ON c.id = l.card_id JOIN vehicle v ON v.id = c.vehicle_id
LEFT JOIN order_line n ON n.id = l.order_line_id AND n.closed_for = '' AND n.in_milli < n.qty_milli
LEFT JOIN purchase_order o ON o.id = n.order_id AND o.state IN ('drafted', 'sent', 'part in')
WHERE (l.state = 'on order' OR (l.state = 'wanted' AND NOT l.optional)) AND NOT l.customers_own
AND c.state NOT IN ('closed', 'void') ORDER BY l.id"""
KEPT = """
SELECT p.id, p.number, p.name, p.unit, p.stock_milli, p.reorder_milli, p.pack_milli, p.cost_minor, p.supplier_id,
       p.supplier FROM part p"""
COMING = """
SELECT n.part_id, SUM(n.qty_milli - n.in_milli) FROM order_line n JOIN purchase_order o ON o.id = n.order_id
WHERE o.state IN ('drafted', 'sent', 'part in') AND n.closed_for = '' AND n.in_milli < n.qty_milli
AND n.part_id IS NOT NULL GROUP BY n.part_id"""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A line of a card that waits for a part. `asked` says that somebody put it on the order list by hand.

    `ordered` says that an order under way is for it.
    """

    id: int
    part_id: int | None
    description: str
    qty_milli: int
    unit: str
    cost_minor: int
    asked: bool
    ordered: bool
    card_id: int
    card: str
    registration: str
    promised: str


@dataclass(frozen=True, slots=True)
class Kept:
    """A part as the shelf keeps it."""

    id: int
    number: str
    name: str
    unit: str
    stock_milli: int
    reorder_milli: int
    pack_milli: int
    cost_minor: int
    supplier_id: int | None
    supplier: str


@dataclass(frozen=True, slots=True)
class Need:
    """Something to order, in whole packs. `lines` are the cards' lines it is for; without any it is for the shelf.

    `key` names it: ``part:5`` is a stocked part, ``line:12`` one only a card knows.
    """

    key: str
    part_id: int | None
    number: str
    name: str
    unit: str
    qty_milli: int
    cost_minor: int
    supplier_id: int | None
    supplier: str
    lines: tuple[Waiting, ...]
    stock_milli: int = 0
    reorder_milli: int = 0
    coming_milli: int = 0


def packs(least_milli: int, above_milli: int, pack_milli: int) -> int:
    """Return the smallest number of whole packs, in thousandths, of at least one and more than the other.

    Examples
    --------
    >>> packs(3_978, -1, 1_000), packs(0, 4_000, 5_000), packs(0, 5_000, 5_000), packs(0, -1, 1_000)
    (4000, 5000, 10000, 0)
    """
    count = max(-(-least_milli // pack_milli), above_milli // pack_milli + 1, 0)
    return count * pack_milli


def need_of(part: Kept, waiting: Iterable[Waiting], coming_milli: int) -> Need | None:
    """Return what of a stocked part is to be ordered; None where the shelf and what comes are enough.

    A line put on the order list by hand is ordered whatever the shelf is said to hold: somebody looked. Every other
    is covered by the shelf first and by what is on its way then.
    """
    lines = tuple(waiting)
    by_hand = sum(w.qty_milli for w in lines if w.asked and not w.ordered)
    others = sum(w.qty_milli for w in lines) - by_hand
    for_cards = by_hand + max(0, others - max(0, part.stock_milli)) - coming_milli
    free = part.stock_milli + coming_milli - by_hand - others
    qty = packs(for_cards, part.reorder_milli - free if part.reorder_milli else -1, part.pack_milli)
    if qty <= 0:
        return None
    short = _short(lines, part.stock_milli) if for_cards > 0 else ()
    return Need(
        f"part:{part.id}",
        part.id,
        part.number,
        part.name,
        part.unit,
        qty,
        part.cost_minor,
        part.supplier_id,
        part.supplier,
        short,
        part.stock_milli,
        part.reorder_milli,
        coming_milli,
    )


def _short(lines: tuple[Waiting, ...], stock_milli: int) -> tuple[Waiting, ...]:
    """Return the lines the shelf does not cover and no order is for, the shelf given out in the order they were put on."""
    left, short = stock_milli, []
    for line in lines:
        if line.asked and not line.ordered:
            short.append(line)
        elif line.qty_milli <= left:
            left -= line.qty_milli
        elif not line.ordered:
            short.append(line)
    return tuple(short)


def _own_need(line: Waiting) -> Need:
    return Need(
        f"line:{line.id}",
        None,
        "",
        line.description,
        line.unit,
        line.qty_milli,
        line.cost_minor,
        None,
        "",
        (line,),
    )


def waiting_lines(fetch: Fetch) -> tuple[Waiting, ...]:
    """Return every line of an open card that waits for a part, as they were put on."""
    return tuple(
        Waiting(*row[:6], row[6] == "on order", bool(row[7]), row[8], row[9], row[10], row[11])
        for row in fetch(WAITING)
    )


def coming(fetch: Fetch) -> dict[int, int]:
    """Return what is still to come of each part, in thousandths, drafted orders included."""
    return {part_id: int(qty) for part_id, qty in fetch(COMING)}


def needs(fetch: Fetch) -> tuple[Need, ...]:
    """Return everything that is to be ordered, by supplier and name; what no supplier is known for comes last."""
    by_part: dict[int, list[Waiting]] = defaultdict(list)
    found: list[Need] = []
    for line in waiting_lines(fetch):
        if line.part_id is not None:
            by_part[line.part_id].append(line)
        elif not line.ordered:
            found.append(_own_need(line))
    on_way = coming(fetch)
    for row in fetch(KEPT):
        part = Kept(*row)
        if part.reorder_milli or part.id in by_part:
            need = need_of(part, by_part[part.id], on_way.get(part.id, 0))
            found += [] if need is None else [need]
    return tuple(sorted(found, key=lambda n: (not n.supplier, n.supplier.casefold(), n.name, n.key)))
