"""What the bench looks at: one card, whole."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from shopcli.errors import NotFound
from shopcli.shop.amounts import from_minor
from shopcli.shop.hindrances import hindrances as find_hindrances
from shopcli.shop.parts_here import Waiting, at_hand
from shopcli.shop.tagrules import barring
from shopcli.shop.views import CardView, Hindrance, PartLineView, ReadingView, TagView, TaskView
from shopcli.store.reads.desk import FINDINGS, as_date, finding_view, owed_rows, vehicle_name
from shopcli.store.reads.newer import newer_numbers, numbers_now
from shopcli.store.shop import Shop
from shopcli.worklists.freeze import spec_from_json, thawed
from shopcli.worklists.model import Spec, Task

CARD = """
SELECT c.id, c.number, c.state, c.held_for, c.title, c.words, c.left_with, k.id, k.name, k.phone, v.id, v.registration,
       v.make, v.model, v.year, v.distance_unit, c.odometer, c.authority_minor, c.authority_by, c.promised,
       c.opened_at, c.closed_at, c.expected_minutes, c.version,
       c.car_keys, c.fuel, c.damage, c.authority_how, c.authority_at, c.handed_at, c.handed_to
FROM card c JOIN customer k ON k.id = c.customer_id JOIN vehicle v ON v.id = c.vehicle_id WHERE c.id = ?"""
TASKS = """
SELECT t.id, t.position, t.state, t.frozen, COALESCE(d.name, ''), t.done_at, t.left_out_for, COALESCE(s.name, ''), t.note, t.version
FROM task t LEFT JOIN person d ON d.id = t.done_by LEFT JOIN person s ON s.id = t.second_by
WHERE t.card_id = ? ORDER BY t.position"""
# What the card itself promised, settled or not, and what other visits left; a check another open card promised before its
# own hand-over is that card's.
OWED_HERE = """
o.card_id = ? OR (o.vehicle_id = ? AND o.state = 'owed' AND (o.before <> 'hand-over' OR c.state IN ('closed', 'void')))"""
READINGS = """
SELECT r.id, r.task_id, r.slot, r.name, r.label, r.phase, r.typed, r.value, r.unit, r.quantity, r.standing, r.verdict,
       r.limits, r.provenance, r.tool, p.name, r.at, r.tool_note
FROM reading r JOIN person p ON p.id = r.person_id WHERE r.card_id = ? AND r.struck_at IS NULL ORDER BY r.id"""
CLOCKS = """
SELECT e.task_id, COALESCE(e.ended_at, ?) - e.started_at, CASE WHEN e.ended_at IS NULL THEN p.name END
FROM clock_entry e JOIN person p ON p.id = e.person_id WHERE e.card_id = ?"""
TAGS = """
SELECT g.id, g.name, g.says, g.bars, p.name, g.hung_at, c.number, t.title
FROM tag g JOIN person p ON p.id = g.hung_by JOIN card c ON c.id = g.card_id JOIN task t ON t.id = g.task_id
WHERE g.vehicle_id = ? AND g.lifted_at IS NULL ORDER BY g.id"""
PARTS = """
SELECT l.id, l.task_id, l.part_id, COALESCE(p.number, ''), l.description, l.qty_milli, l.unit, l.price_minor, l.state,
       l.customers_own, l.optional, p.stock_milli, COALESCE(p.bin, ''), l.serial, p.wants_serial, l.surcharge_minor,
       l.old_unit_back_at, COALESCE(o.description, ''), l.reason
FROM card_part l LEFT JOIN part p ON p.id = l.part_id LEFT JOIN card_part o ON o.id = l.instead_of
WHERE l.card_id = ? ORDER BY l.id"""

# Longest bare figure still taken for a card number.
LONGEST_FIGURE = 8


def card_id(shop: Shop, number: str) -> int:
    """Return the id of the card with that number, any case; a bare figure finds its card too.

    Raises
    ------
    NotFound
        When there is none.
    """
    wanted = number.strip().upper()
    tries = [wanted] + (
        [f"J{int(wanted):05d}"]
        if wanted.isascii() and wanted.isdigit() and len(wanted) <= LONGEST_FIGURE
        else []
    )
    for one in tries:
        rows = shop.fetch("SELECT id FROM card WHERE upper(number) = ?", (one,))
        if rows:
            return int(rows[0][0])
    raise NotFound(
        f"there is no card '{number.strip()[:20]}'", hint="List the open cards to see their numbers."
    )


def _readings(shop: Shop, key: int) -> dict[int, list[ReadingView]]:
    found: dict[int, list[ReadingView]] = {}
    for row in shop.fetch(READINGS, (key,)):
        view = ReadingView(*(*row[:16], shop.local(row[16]), row[17]))
        found.setdefault(view.task_id, []).append(view)
    return found


def _clocks(shop: Shop, key: int) -> dict[int, tuple[int, tuple[str, ...]]]:
    found: dict[int, tuple[int, tuple[str, ...]]] = {}
    for task_id, seconds, name in shop.fetch(CLOCKS, (shop.at(), key)):
        total, names = found.get(task_id, (0, ()))
        found[task_id] = (total + int(seconds), (*names, name) if name else names)
    return found


def _tags(shop: Shop, vehicle_id: int) -> tuple[TagView, ...]:
    return tuple(
        TagView(r[0], r[1], r[2], tuple(b for b in r[3].split("\n") if b), r[4], shop.local(r[5]), r[6], r[7])
        for r in shop.fetch(TAGS, (vehicle_id,))
    )


def own_specs(shop: Shop, vehicle_id: int) -> dict[str, Spec]:
    """Return the vehicle's own numbers by name."""
    rows = shop.fetch(
        "SELECT spec FROM vehicle_spec WHERE vehicle_id = ? AND replaced_at IS NULL ORDER BY id",
        (vehicle_id,),
    )
    return {spec.name: spec for spec in (spec_from_json(row[0]) for row in rows)}


def with_own_numbers(task: Task, own: dict[str, Spec]) -> Task:
    """Return the task with the vehicle's own numbers where its frozen ones are missing or unconfirmed."""
    if not own:
        return task
    asked = {slot.spec for slot in task.readings if slot.spec}
    specs = tuple(own.get(s.name, s) if s.provenance.to_confirm else s for s in task.specs)
    there = {s.name for s in specs}
    added = tuple(own[name] for name in (*task.missing, *sorted(asked)) if name in own and name not in there)
    missing = tuple(name for name in task.missing if name not in own)
    return replace(task, specs=specs + tuple(dict.fromkeys(added)), missing=missing)


def _tasks(shop: Shop, key: int, tags: tuple[TagView, ...], vehicle_id: int) -> tuple[TaskView, ...]:
    own, now = own_specs(shop, vehicle_id), numbers_now(shop, vehicle_id)
    readings, clocks = _readings(shop, key), _clocks(shop, key)
    views = []
    for task_id, position, state, frozen, done_by, done_at, left_out, second, note, version in shop.fetch(
        TASKS, (key,)
    ):
        task = with_own_numbers(thawed(frozen), own)
        seconds, running = clocks.get(task_id, (0, ()))
        views.append(
            TaskView(
                id=task_id,
                position=position,
                state=state,
                task=task,
                readings=tuple(readings.get(task_id, ())),
                clocked_seconds=seconds,
                running=running,
                done_by=done_by,
                done_at=shop.local(done_at) if done_at is not None else None,
                left_out_for=left_out,
                second_by=second,
                note=note,
                barred_by=tuple(t.name for t in tags if barring(t.name, t.bars, task)),
                version=version,
                newer=newer_numbers(task, now),
            )
        )
    return tuple(views)


def _parts(shop: Shop, key: int) -> tuple[PartLineView, ...]:
    rows = shop.fetch(PARTS, (key,))
    waiting = [r for r in rows if r[8] in {"wanted", "on order"}]
    waiting.sort(key=lambda r: bool(r[10]))  # what the work cannot do without takes from the shelf first
    here = at_hand(Waiting(r[0], r[2], r[5], r[8], bool(r[9]), r[11]) for r in waiting)
    return tuple(
        PartLineView(
            id=r[0],
            task_id=r[1],
            part_id=r[2],
            number=r[3],
            description=r[4],
            qty=Decimal(r[5]) / 1000,
            unit=r[6],
            price=from_minor(r[7]),
            state=r[8],
            customers_own=bool(r[9]),
            optional=bool(r[10]),
            in_stock=None if r[11] is None else Decimal(r[11]) / 1000,
            bin=r[12],
            serial=r[13],
            wants_serial=bool(r[14]),
            surcharge=from_minor(r[15]),
            old_unit_back=r[16] is not None,
            instead_of=r[17],
            reason=r[18],
            here=r[0] in here,
        )
        for r in rows
    )


def card(shop: Shop, key: int) -> CardView:
    """Return one card, whole.

    Raises
    ------
    NotFound
        When there is none of that id.
    """
    rows = shop.fetch(CARD, (key,))
    if not rows:
        raise NotFound(f"there is no card {key}")
    return _view(shop, rows[0])


def _view(shop: Shop, row: tuple[Any, ...]) -> CardView:
    key, vehicle_id = row[0], row[10]
    tags = _tags(shop, vehicle_id)
    templates = shop.fetch("SELECT template FROM card_template WHERE card_id = ? ORDER BY id", (key,))
    found = shop.fetch(
        FINDINGS + " WHERE f.vehicle_id = ? AND (f.state = 'open' OR f.card_id = ?) ORDER BY f.id",
        (vehicle_id, key),
    )
    return CardView(
        id=row[0],
        number=row[1],
        state=row[2],
        held_for=row[3],
        title=row[4],
        words=row[5],
        left_with=row[6],
        customer_id=row[7],
        customer=row[8],
        phone=row[9],
        vehicle_id=row[10],
        registration=row[11],
        vehicle=vehicle_name(*row[12:15]),
        distance_unit=row[15],
        odometer=row[16],
        authority=None if row[17] is None else from_minor(row[17]),
        authority_by=row[18],
        promised=as_date(row[19]),
        opened=shop.local(row[20]),
        closed=None if row[21] is None else shop.local(row[21]),
        expected_minutes=row[22],
        version=row[23],
        templates=tuple(t[0] for t in templates),
        tasks=_tasks(shop, key, tags, vehicle_id),
        parts=_parts(shop, key),
        tags=tags,
        owed=owed_rows(shop, OWED_HERE, (key, vehicle_id), card_id=key, odometer=row[16]),
        findings=tuple(finding_view(shop, r) for r in found),
        car_keys=row[24],
        fuel=row[25],
        damage=row[26],
        authority_how=row[27],
        authority_at=None if row[28] is None else shop.local(row[28]),
        handed=None if row[29] is None else shop.local(row[29]),
        handed_to=row[30],
    )


def hindrances(shop: Shop, key: int) -> tuple[Hindrance, ...]:
    """Return what hinders the card's hand-over now."""
    return find_hindrances(shop.fetch, key, shop.settings, shop.at())
