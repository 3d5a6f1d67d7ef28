"""What is known of the cards that stand here besides how they stand: what they wait for, what came, what they would be billed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from shopcli.shop.week_cards_to_do import Besides
from shopcli.shop.week_quality_views import Awaited
from shopcli.shop.week_views import CardAge
from shopcli.shop.workdays import closed_days
from shopcli.store.reads.open_cards import as_date
from shopcli.store.reads.week_money import unbilled_by_card
from shopcli.store.shop import Shop

OPEN = "('booked', 'in hand', 'held')"
# The few open cards first, then their rows: not the parts of all years. What is ordered for a card, or ordered for the stores and wanted by it; the last to come decides.
ON_ORDER = f"""
SELECT l.card_id, l.description, COALESCE(s.name, ''), COALESCE(s.phone, ''), COALESCE(o.due, '')
FROM card c CROSS JOIN card_part l LEFT JOIN order_line o ON o.id = l.order_line_id
LEFT JOIN purchase_order p ON p.id = o.order_id LEFT JOIN supplier s ON s.id = p.supplier_id
WHERE l.card_id = c.id AND c.state IN {OPEN} AND l.state = 'on order' AND NOT l.optional ORDER BY l.card_id, l.id"""
OUT = f"""
SELECT o.card_id, o.what, o.who, CASE WHEN o.ring <> '' THEN o.ring ELSE COALESCE(s.phone, '') END, o.due
FROM outwork o JOIN card c ON c.id = o.card_id LEFT JOIN supplier s ON s.name = o.who
WHERE c.state IN {OPEN} AND o.back = '' ORDER BY o.card_id, o.id"""
ARRIVED = f"""
SELECT l.card_id, l.description FROM card c CROSS JOIN card_part l
WHERE l.card_id = c.id AND l.arrived_at IS NOT NULL AND l.state = 'wanted' AND c.state IN {OPEN}
AND NOT EXISTS (SELECT 1 FROM card_part m WHERE m.card_id = c.id AND m.state = 'on order') ORDER BY l.card_id, l.id"""
# Sums without VAT below this part of an authority cannot be past it with VAT, sundries and all.
NEAR = Decimal("0.6")
LOOKED_AHEAD = 30


def besides(shop: Shop, cards: Sequence[CardAge], to_bill: Mapping[int, Decimal] | None = None) -> Besides:
    """Return what is known besides; `to_bill` is what `unbilled_by_card` answered, where it was asked already."""
    to_bill = unbilled_by_card(shop) if to_bill is None else to_bill
    return Besides(
        awaited=_awaited((*shop.fetch(ON_ORDER), *shop.fetch(OUT))),
        arrived=_arrived(shop),
        to_bill=to_bill,
        beyond=dict(_beyond(shop, cards, to_bill)),
    )


def _arrived(shop: Shop) -> dict[int, tuple[str, ...]]:
    found: dict[int, tuple[str, ...]] = {}
    for key, what in shop.fetch(ARRIVED):
        found[key] = (*found.get(key, ()), what)
    return found


def told_of(cards: Iterable[CardAge], known: Besides) -> tuple[CardAge, ...]:
    """Return the cards with what is known besides that belongs to how they stand."""
    found = []
    for card in cards:
        awaited = known.awaited.get(card.card_id) if card.state == "held" else None
        due = None if awaited is None else awaited.due
        found.append(replace(card, beyond=card.card_id in known.beyond, due=due))
    return tuple(found)


def _awaited(rows: Iterable[tuple[int, str, str, str, str]]) -> dict[int, Awaited]:
    found: dict[int, Awaited] = {}
    for key, what, who, phone, due in rows:
        there, on = found.get(key), as_date(due)
        if there is None:
            found[key] = Awaited(what, who, phone, on)
        else:
            last = None if there.due is None or on is None else max(there.due, on)
            found[key] = Awaited(f"{there.what}, {what}", there.who or who, there.phone or phone, last)
    return found


def _beyond(
    shop: Shop, cards: Sequence[CardAge], to_bill: Mapping[int, Decimal]
) -> Iterable[tuple[int, Decimal]]:
    """Yield the open cards whose work is past their authority, and what it came to with VAT."""
    from shopcli.shop.card_bill import card_bill

    for card in cards:
        if card.authority is None or card.state in {"checked", "closed"}:
            continue
        if to_bill.get(card.card_id, Decimal(0)) < card.authority * NEAR:
            continue
        spent = card_bill(shop.fetch, card.card_id, shop.settings, shop.at()).totals.with_vat
        if spent > card.authority:
            yield card.card_id, spent


def next_workday(shop: Shop, today: date) -> date:
    """Return the next day the shop works after a day; where it never does, the day after."""
    shut, hours = closed_days(shop.settings, today), shop.settings.hours
    days = (today + timedelta(days=n) for n in range(1, LOOKED_AHEAD))
    return next((d for d in days if hours[d.weekday()] and not shut(d)), today + timedelta(days=1))
