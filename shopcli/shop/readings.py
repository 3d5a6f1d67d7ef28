"""Readings: kept as typed and in canonical units, judged by the limits frozen into the task.

A number nobody confirmed may not judge: with a ``practice`` number, or none, the reading is kept unjudged
and says so until the vehicle has a number of its own.
"""

import json

from sqlalchemy import bindparam
from sqlmodel import Session, col, select

from shopcli.cleantext import clean_line
from shopcli.errors import NotFound, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.bench_commands import StrikeReading, TakeReading
from shopcli.shop.common import get, in_hand, key_of, open_for_work, saved, with_card
from shopcli.shop.records import Reading, VehicleSpec
from shopcli.shop.tools import used
from shopcli.shop.views import OUTSIDE
from shopcli.units import parse, see_what_is_meant
from shopcli.worklists.freeze import spec_from_json, thawed
from shopcli.worklists.model import ReadingSlot, Spec, Task

UNJUDGED = "unjudged"
IN_SLOT = select(Reading).where(
    Reading.task_id == bindparam("task_id"),
    Reading.slot == bindparam("slot"),
    col(Reading.struck_at).is_(None),
)


def own_specs(session: Session, vehicle_id: int) -> tuple[Spec, ...]:
    """Return the vehicle's own numbers, newest only."""
    query = select(VehicleSpec).where(VehicleSpec.vehicle_id == vehicle_id, VehicleSpec.replaced_at == None)  # noqa: E711
    return tuple(spec_from_json(row.spec) for row in session.exec(query.order_by(VehicleSpec.id)))  # type: ignore[arg-type]


def judging_spec(session: Session, vehicle_id: int, task: Task, slot: ReadingSlot) -> Spec | None:
    """Return the number a reading is to be judged by: the frozen one, or the vehicle's own where that may not judge."""
    frozen = task.spec(slot.spec) if slot.spec else None
    if frozen and not frozen.provenance.to_confirm:
        return frozen
    own = [s for s in own_specs(session, vehicle_id) if s.name == slot.spec]
    return own[-1] if own else frozen


def judged(spec: Spec | None, value: float, unit: str) -> tuple[str, str]:
    """Return (standing, words) of a reading."""
    if spec is None:
        return UNJUDGED, "not judged: no limits known"
    if spec.provenance.to_confirm:
        return UNJUDGED, "not judged: the number is common practice, confirm it for this vehicle first"
    verdict = spec.limits.judge(value, unit=unit)
    return verdict.standing, verdict.words


def place(name: str, label: str) -> str:
    """Return what was read and where, in words: a task with one reading has no place of its own."""
    return f"{name}, {label}" if label and label.casefold() != name.casefold() else name


def slot_of(task: Task, key: str) -> ReadingSlot:
    """Return the slot called `key`.

    Raises
    ------
    NotFound
        When the task asks for no such reading.
    """
    for slot in task.readings:
        if slot.key == key:
            return slot
    keys = ", ".join(s.key for s in task.readings) or "none"
    raise NotFound(f"'{task.title}' asks for no reading '{key}'", hint=f"It asks for: {keys}.")


def take_reading(session: Session, act: Act, cmd: TakeReading) -> Change:
    """Record a reading. An earlier one in the same slot is struck, not lost.

    Raises
    ------
    BadInput
        When the text cannot be read as such a quantity; nothing is changed.
    Ambiguous
        When it is a bare figure whose size says another unit.
    """
    row, card = with_card(session, cmd.task_id)
    task = thawed(row.frozen)
    slot = slot_of(task, cmd.slot)
    spec = judging_spec(session, card.vehicle_id, task, slot)
    quantity = spec.limits.quantity if spec else slot.quantity
    typed = parse(
        cmd.typed, quantity, default_unit=cmd.unit or (spec.limits.unit if spec else slot.unit) or None
    )
    if spec is not None:
        see_what_is_meant(typed, spec.limits)
    in_hand(session, card)
    standing, words = judged(spec, typed.value, typed.unit)
    tool, tool_id, against = used(session, act, cmd.tool)
    for old in session.exec(IN_SLOT, params={"task_id": cmd.task_id, "slot": slot.key}):
        old.struck_at = act.at
        session.add(old)
    reading = saved(
        session,
        Reading(
            card_id=row.card_id,
            task_id=cmd.task_id,
            vehicle_id=card.vehicle_id,
            slot=slot.key,
            name=slot.name,
            label=slot.label,
            phase=slot.phase,
            typed=clean_line(cmd.typed, limit=60),
            value=typed.value,
            unit=typed.unit,
            quantity=quantity,
            limits=json.dumps(spec.limits.to_json()) if spec else "",
            provenance=spec.provenance.words() if spec else "",
            standing=standing,
            verdict=words,
            tool=tool,
            tool_id=tool_id,
            tool_note=against,
            person_id=act.by,
            at=act.at,
        ),
    )
    return Change(
        "reading",
        key_of(reading),
        row.card_id,
        said=(
            f"{place(slot.name, slot.label)}, {slot.phase}: {'out of limits, ' * (standing in OUTSIDE)}{words}.",
            *((f"Taken with {tool}: {against}.",) if against else ()),
        ),
    )


def strike_reading(session: Session, act: Act, cmd: StrikeReading) -> Change:
    """Strike a reading that was wrong."""
    reading = get(session, Reading, cmd.reading_id, "reading")
    open_for_work(session, reading.card_id)
    if reading.struck_at is not None:
        raise Refused("that reading was struck already")
    reading.struck_at = act.at
    session.add(reading)
    before = {"typed": reading.typed, "slot": reading.slot}
    return Change("reading", cmd.reading_id, reading.card_id, before, said=("Reading struck.",))
