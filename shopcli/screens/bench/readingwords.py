"""Readings in words: which are asked, what was typed, how it is understood while it is being typed."""

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from shopcli.columns import one_line, shown
from shopcli.errors import ShopError
from shopcli.marks import STANDING_MARKS
from shopcli.screens.bench.choosing import empty_slots, in_order
from shopcli.screens.bench.numberwords import slot_unit, unit_label
from shopcli.shop.views import OUTSIDE, ReadingView, TaskView
from shopcli.units import Preferences, Typed, parse, see_what_is_meant, slip, spoken
from shopcli.worklists.model import ReadingSlot, Spec, Task

_BARE = re.compile(r"[+-]?[\d.,\s/]+")
STANDING_STYLE = {"low": "bold $text-error", "high": "bold $text-error", "in": "$text-success"}


@dataclass(frozen=True, slots=True)
class ReadingCell:
    """One reading asked: where, as typed, how it stands, in words."""

    label: str
    phase: str
    typed: str
    words: str
    style: str
    next: bool


def slot_label(task: Task, slot: ReadingSlot) -> str:
    """Return how a reading is called among those of its task.

    Examples
    --------
    >>> slot = ReadingSlot("gap", "gap", "cylinder 1", "as left")
    >>> slot_label(Task("k", "t", "1", "Set", "x", readings=(slot,)), slot)
    'cylinder 1'
    """
    if not slot.label:
        return one_line(slot.name)
    one_name = len({s.name for s in task.readings}) == 1
    return one_line(slot.label if one_name else f"{slot.name}, {slot.label}")


def no_reading(task: TaskView | None) -> str:
    """Say that no reading is taken, and which keys apply instead."""
    if task is None:
        return "There is no task to take a reading for."
    if task.state != "open":
        return shown(f"'{task.task.title}' is {task.state} and takes no reading. u opens it again.")
    return shown(
        f"'{task.task.title}' takes no reading. d says it is done, c is the clock, s writes down what is seen."
    )


def as_typed(reading: ReadingView) -> str:
    """Return a reading as typed; a bare figure gets the unit it was taken in."""
    return with_unit(reading.typed, reading.unit)


def with_unit(typed: str, unit: str) -> str:
    """Return typed text; a bare figure gets its unit.

    Examples
    --------
    >>> with_unit("6", "thou"), with_unit("0,15 mm", "thou")
    ('6 thou', '0,15 mm')
    """
    return one_line(f"{typed} {unit_label(unit)}" if _BARE.fullmatch(typed) else typed)


def out_words(reading: ReadingView) -> str:
    """Say which reading is out of its limits, and by how much."""
    where = f"{reading.name}, {reading.label}" if reading.label else reading.name
    return one_line(f"{where} {as_typed(reading)}, {reading.verdict}")


def standing_words(standing: str, verdict: str) -> str:
    """Return sign and words of a judgement, without the limit, which stands beside it anyway.

    Examples
    --------
    >>> standing_words("low", "low by 2 thou (limit 6 thou)"), standing_words("in", "in limits")
    ('▾ low by 2 thou', '✓ in limits')
    """
    if standing not in {"low", "in", "high"}:
        return STANDING_MARKS[""].text()
    return one_line(f"{STANDING_MARKS[standing].sign} {verdict.partition(' (')[0]}")


def reading_cells(task: TaskView, pending: Collection[str] = (), chosen: str = "") -> tuple[ReadingCell, ...]:
    """Return the readings of a task; the one to be taken next is marked."""
    taken = {r.slot: r for r in task.readings}
    following = chosen or next((s.key for s in empty_slots(task, pending)), "")
    cells = []
    for slot in in_order(task):
        reading = taken.get(slot.key)
        typed = as_typed(reading) if reading else ""
        words = standing_words(reading.standing, reading.verdict) if reading else "not taken"
        style = STANDING_STYLE.get(reading.standing, "$text-warning") if reading else "$foreground-muted"
        is_next = slot.key == following and task.state == "open"
        cells.append(ReadingCell(slot_label(task.task, slot), slot.phase, typed, words, style, is_next))
    return tuple(cells)


def unjudged_reason(task: TaskView) -> str:
    """Say once why readings of a task are not judged; empty when all are."""
    for reading in task.readings:
        if reading.standing not in {"low", "in", "high"}:
            spec = next(
                (task.task.spec(s.spec) for s in task.task.readings if s.key == reading.slot and s.spec), None
            )
            if spec is not None and not spec.provenance.to_confirm:
                return "not judged: taken before the number was confirmed; type it again to have it judged"
            return shown(reading.verdict)
    return ""


def is_outside(task: Task, key: str, typed: str, unit: str) -> bool:
    """Whether text typed into the slot of that key is judged out of limits."""
    slot = next((s for s in task.readings if s.key == key), None)
    try:
        return slot is not None and preview(task, slot, typed, unit)[1] in OUTSIDE
    except ShopError:
        return False


def left_outside(task: TaskView, pending: Mapping[str, str], prefs: Preferences) -> tuple[str, ...]:
    """Say which readings a task is left with out of limits; `pending` ones, by slot, are on their way there."""
    said = [out_words(r) for r in task.left_out_of_limits if r.slot not in pending]
    for slot in task.task.readings:
        text = pending.get(slot.key, "")
        unit = slot_unit(task.task, slot, prefs)
        if text and slot.phase == "as left" and is_outside(task.task, slot.key, text, unit):
            said.append(one_line(f"{slot_label(task.task, slot)} {text}"))
    return tuple(said)


def _read(spec: Spec | None, slot: ReadingSlot, typed: str, unit: str) -> Typed:
    quantity = spec.limits.quantity if spec else slot.quantity
    return parse(typed, quantity, default_unit=unit or (spec.limits.unit if spec else slot.unit) or None)


def slip_of(task: Task, slot: ReadingSlot, typed: str, unit: str) -> str:
    """Say how far above its limits what can be read lies, where that is hardly a reading; empty otherwise."""
    spec = task.spec(slot.spec) if slot.spec else None
    return slip(_read(spec, slot, typed, unit), spec.limits) if spec else ""


def preview(task: Task, slot: ReadingSlot, typed: str, unit: str) -> tuple[str, str]:
    """Say how typed text is understood and judged, as (words, standing), before anything is kept.

    Raises
    ------
    ShopError
        When it cannot be read as such a quantity, or is a bare figure whose size says another unit.
    """
    spec = task.spec(slot.spec) if slot.spec else None
    read = _read(spec, slot, typed, unit)
    if spec is not None:
        see_what_is_meant(read, spec.limits)
    value = f"= {spoken(read.value, read.unit)}"
    if unit and unit != read.unit:
        value += f" = {spoken(read.value, unit)}"
    if read.note:
        value += f" ({read.note})"
    if spec is None:
        return f"{value}, not judged: no limits known", ""
    if spec.provenance.to_confirm:
        return f"{value}, not judged: confirm the number first (n)", ""
    verdict = spec.limits.judge(read.value, unit=read.unit)
    sign = STANDING_MARKS[verdict.standing].sign
    return f"{value}, {sign} {verdict.words}", verdict.standing
