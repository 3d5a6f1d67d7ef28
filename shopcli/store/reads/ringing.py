"""Whom to ring: one list of everybody who waits for a word of ours, with what was said last. For a reading thread."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from shopcli.errors import NotFound
from shopcli.shop.call_views import (
    AUTHORITY,
    KINDS,
    OFFER,
    OWED,
    PARTS,
    PROMISE,
    READY,
    UNPAID,
    CallView,
    RingView,
)
from shopcli.store.reads.ahead import ahead
from shopcli.store.reads.buying import parts_arrived
from shopcli.store.reads.desk import as_date
from shopcli.store.reads.made_offers import made_offers
from shopcli.store.reads.unsettled import unsettled
from shopcli.store.shop import Shop

# A check due within so many days is spoken of now: common practice, no source.
SOON_DAYS = 14
LEVELS = ("passed", "will pass", "may pass")
CARDS = """
SELECT c.id, k.id, k.name, k.phone, c.number, v.registration FROM card c JOIN customer k ON k.id = c.customer_id
JOIN vehicle v ON v.id = c.vehicle_id WHERE c.id IN ({marks})"""
# A car that came again was fetched, whoever forgot to write it down.
WAITING = """
SELECT c.id, c.state, COALESCE(c.closed_at, c.checked_at), c.title FROM card c
WHERE (c.state = 'checked' OR (c.state = 'closed' AND c.handed_at IS NULL))
AND NOT EXISTS (SELECT 1 FROM card n WHERE n.vehicle_id = c.vehicle_id AND n.state <> 'void'
    AND (n.opened_at > c.opened_at OR (n.opened_at = c.opened_at AND n.id > c.id)))
ORDER BY c.id"""
WORKED_ON = "SELECT 1 FROM clock_entry WHERE card_id = ? AND (ended_at IS NULL OR ended_at > ?) LIMIT 1"
# Checks of cars that are not in the shop: those here are asked about at the bench.
DUE = """
SELECT o.id, o.title, o.due_date, k.id, k.name, k.phone, v.registration, c.number FROM owed o
JOIN vehicle v ON v.id = o.vehicle_id JOIN customer k ON k.id = v.customer_id JOIN card c ON c.id = o.card_id
WHERE o.state = 'owed' AND o.due_date <> '' AND o.due_date <= ?
AND NOT EXISTS (SELECT 1 FROM card x WHERE x.vehicle_id = v.id AND x.state IN ('booked', 'in hand', 'held', 'checked'))
ORDER BY o.due_date, o.id"""
NOTES = """
SELECT n.about, n.customer_id, n.reached, n.said, n.next_on, n.at, p.name FROM call_note n
JOIN person p ON p.id = n.noted_by WHERE n.id IN (SELECT MAX(id) FROM call_note GROUP BY about) ORDER BY n.id"""


def whom_to_ring(shop: Shop) -> tuple[RingView, ...]:
    """Return everybody to be rung, what presses most first and a customer's matters together; later ones last."""
    today = shop.local(shop.at()).date()
    found = (
        *_coming(shop),
        *_ready(shop),
        *_parts(shop),
        *_offers(shop, today),
        *_owed(shop, today),
        *_unpaid(shop, today),
    )
    return _in_order(_with_notes(shop, found, today))


def to_ring(shop: Shop, key: str) -> RingView:
    """Return one matter of the list.

    Raises
    ------
    NotFound
        When it is not on the list.
    """
    found = next((row for row in whom_to_ring(shop) if row.key == key.strip()), None)
    if found is None:
        raise NotFound(f"nobody is to be rung about '{key.strip()[:60]}'", hint="See: shopcli ring")
    return found


def _of_cards(shop: Shop, keys: Iterable[int]) -> dict[int, tuple[int, str, str, int, str, str]]:
    """Return by card: customer, name, telephone, card, number, registration."""
    wanted = tuple(dict.fromkeys(keys))
    if not wanted:
        return {}
    rows = shop.fetch(CARDS.format(marks=", ".join("?" * len(wanted))), wanted)
    return {
        key: (customer, name, phone, key, number, plate) for key, customer, name, phone, number, plate in rows
    }


def _coming(shop: Shop) -> Iterator[RingView]:
    """Yield who waits for a word before the authority is passed, and whose promise the queue will not keep."""
    coming = ahead(shop)
    near = {key: view for key, view in coming.authorities.items() if view.level}
    who = _of_cards(shop, (*near, *coming.late))
    for key, view in near.items():
        amount = (
            view.spent if view.level == "passed" else view.most if view.level == "may pass" else view.usual
        )
        matter = f"{AUTHORITY}:{key}:{view.authority}:{view.level.replace(' ', '-')}"
        yield RingView(AUTHORITY, matter, *who[key], text=view.level, amount=amount, limit=view.authority)
    for key, slip in coming.late.items():
        matter = f"{PROMISE}:{key}:{slip.promised}"
        yield RingView(PROMISE, matter, *who[key], on=slip.promised, until=slip.after)


def _ready(shop: Shop) -> Iterator[RingView]:
    rows = shop.fetch(WAITING)
    who = _of_cards(shop, (row[0] for row in rows))
    for key, state, since, title in rows:
        # A new matter once the card is closed: the car was ready, now it may go.
        on = shop.local(since).date() if since else None
        yield RingView(READY, f"{READY}:{key}:{state}", *who[key], text=title, on=on)


def _parts(shop: Shop) -> Iterator[RingView]:
    here = [one for one in parts_arrived(shop) if one.all_here]
    who = _of_cards(shop, (one.card_id for one in here))
    for one in here:
        last = int(one.last.timestamp())
        # Somebody who is at the car already needs nobody's leave to go on.
        if one.state not in {"booked", "held"} and shop.fetch(WORKED_ON, (one.card_id, last)):
            continue
        on = one.last.date()
        yield RingView(
            PARTS, f"{PARTS}:{one.card_id}:{on}", *who[one.card_id], text=", ".join(one.parts), on=on
        )


def _offers(shop: Shop, today: date) -> Iterator[RingView]:
    customers = dict(shop.fetch("SELECT id, customer_id FROM offer"))
    for offer in made_offers(shop):
        if offer.state(today) == "open":
            yield RingView(
                OFFER,
                f"{OFFER}:{offer.id}",
                customers[offer.id],
                offer.customer,
                offer.phone,
                offer.card_id,
                offer.card,
                offer.registration,
                text=offer.number,
                amount=offer.usual,
                on=offer.made,
                until=offer.valid_until,
            )


def _owed(shop: Shop, today: date) -> Iterator[RingView]:
    until = (today + timedelta(days=SOON_DAYS)).isoformat()
    for key, title, due, customer_id, name, phone, plate, card in shop.fetch(DUE, (until,)):
        yield RingView(
            OWED, f"{OWED}:{key}", customer_id, name, phone, None, card, plate, text=title, on=as_date(due)
        )


def _unpaid(shop: Shop, today: date) -> Iterator[RingView]:
    for one in unsettled(shop):
        if one.due > 0 and one.due_by < today:
            yield RingView(
                UNPAID,
                f"{UNPAID}:{one.card_id}",
                one.customer_id,
                one.customer,
                one.phone,
                one.card_id,
                one.card,
                one.registration,
                text=one.number,
                amount=one.due,
                on=one.due_by,
            )


def _with_notes(shop: Shop, found: Iterable[RingView], today: date) -> list[RingView]:
    """Put the last calls beside what they were about; what is settled goes."""
    by_matter: dict[str, CallView] = {}
    by_customer: dict[int, list[tuple[str, CallView]]] = {}
    for row in shop.fetch(NOTES):
        about, customer_id, call = _call(shop, row)
        by_matter[about] = call
        by_customer.setdefault(customer_id, []).append((about, call))
    rows = []
    for one in found:
        last = by_matter.get(one.key)
        if last is not None and last.again is None:
            continue
        others = (call for about, call in reversed(by_customer.get(one.customer_id, [])) if about != one.key)
        later = last.again if last is not None and last.again is not None and last.again > today else None
        rows.append(replace(one, last=last, before=next(others, None), later=later))
    return rows


def _call(shop: Shop, row: tuple[Any, ...]) -> tuple[str, int, CallView]:
    about, customer_id, reached, said, again, at, by = row
    return about, customer_id, CallView(reached, said, as_date(again), shop.local(at), by)


def _in_order(rows: Iterable[RingView]) -> tuple[RingView, ...]:
    def presses(row: RingView) -> tuple[object, ...]:
        later = row.later or date.min
        rank = KINDS.index(row.kind), LEVELS.index(row.text) if row.kind == AUTHORITY else 0
        return row.later is not None, later, rank, row.on or date.max, row.key

    listed = sorted(rows, key=presses)
    first: dict[tuple[bool, int], int] = {}
    for place, row in enumerate(listed):
        first.setdefault((row.later is not None, row.customer_id), place)
    return tuple(
        sorted(listed, key=lambda row: (row.later is not None, first[row.later is not None, row.customer_id]))
    )
