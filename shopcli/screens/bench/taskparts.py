"""The parts of the task in hand as lines: its text, its numbers with their scale, its readings where they lie."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shopcli.columns import shown
from shopcli.marks import STANDING_MARKS
from shopcli.screens.bench.cells import Group
from shopcli.screens.bench.gridlines import GridCell, grid_lines
from shopcli.screens.bench.inhand import InHand
from shopcli.screens.bench.numberblocks import number_lines
from shopcli.screens.bench.numberwords import NumberSaid, newer_words, say_numbers, unit_label
from shopcli.screens.bench.readingwords import (
    STANDING_STYLE,
    as_typed,
    reading_cells,
    slot_label,
    unjudged_reason,
)
from shopcli.screens.bench.scalelines import TYPING_STYLE, OnScale, scale_lines
from shopcli.screens.bench.sharing import BARE, ROOMY
from shopcli.screens.bench.sumlines import gives_verdict, sum_lines
from shopcli.screens.bench.tasklines import (
    ReadingLines,
    caution_lines,
    missing_lines,
    reading_lines,
    text_lines,
)
from shopcli.screens.bench.toollines import tool_lines
from shopcli.screens.bench.trendwords import Past, past
from shopcli.screens.widgets.lines import Line, wrapped
from shopcli.shop.earlier import FOUND, LEFT, found_on_card
from shopcli.shop.views import OUTSIDE, ReadingView
from shopcli.worklists.model import ReadingSlot

QUIET = "$foreground-muted"
ON_ITS_WAY = "…"
WARNING = "bold $text-warning"
OUT = "bold $text-error"


def task_text(hand: InHand, width: int, *, tight: bool) -> list[Line]:
    """Return cautions, title, circumstances and what to do."""
    return text_lines(hand.view, hand.task, hand.prefs, width, tight=tight, titled=hand.titled)


def caution_rows(hand: InHand, width: int, *, tight: bool) -> int:
    """Return how many of those lines are the cautions, which stand first."""
    return len(caution_lines([c.text for c in hand.task.task.cautions], width, tight=tight))


def all_numbers(hand: InHand, width: int, rows: int, least: int) -> list[Line]:
    """Return every number large, those missing asked for, then the tools."""
    task = hand.task.task
    asked = missing_lines(task.missing, width) + missing_now(hand, width) + tool_lines(hand.tools, width)
    said = say_numbers(task.specs, hand.prefs, hand.task.newer)
    return number_lines(said, width, rows - len(asked), marked=hand.marked(), least=least) + asked


def few_numbers(hand: InHand, width: int, rows: int, least: int) -> list[Line]:
    """The number the next reading is taken against stays large, the others stand in a line each."""
    said = say_numbers(hand.task.task.specs, hand.prefs, hand.task.newer)
    first = _first(hand, said)
    rest = [line for other in said if other is not first for line in _in_a_line(other, width)]
    rest += missing_lines(hand.task.task.missing, width) + missing_now(hand, width)
    rest += tool_lines(hand.tools, width)
    if first is None:
        return rest
    return number_lines([first], width, rows - len(rest), marked=hand.marked(), least=least) + rest


def one_number(hand: InHand, width: int, rows: int, least: int) -> list[Line]:
    """Return nothing but the number the next reading is taken against with its tool, and those that are missing."""
    first = _first(hand, say_numbers(hand.task.task.specs, hand.prefs, hand.task.newer))
    rest = missing_lines(hand.task.task.missing, width) + missing_now(hand, width)
    rest += tool_lines([a for a in hand.tools if first is None or a.spec in {first.name, ""}], width)
    if first is None:
        return rest
    return number_lines([first], width, rows - len(rest), marked=hand.marked(), least=least) + rest


def missing_now(hand: InHand, width: int) -> list[Line]:
    """Return the numbers the card was opened without and that were entered since."""
    there = {spec.name for spec in hand.task.task.specs}
    since = (spec for spec in hand.task.newer if spec.name not in there)
    texts = (f"{shown(spec.label)}: {newer_words(spec, hand.prefs)}" for spec in since)
    return [line for text in texts for line in wrapped(text, width, WARNING, first="! ", rest="  ")]


def _first(hand: InHand, said: Sequence[NumberSaid]) -> NumberSaid | None:
    return next((n for n in said if n.name == hand.marked()), said[0] if said else None)


def _in_a_line(said: NumberSaid, width: int) -> list[Line]:
    sure = " (to be confirmed)" if said.to_confirm else ""
    state = f", {said.state}" if said.state else ""
    return wrapped(f"{said.label}{state}: {said.sentence}{sure}", width, "bold", rest="  ")


# The scale --------------------------------------------------------------------------------------------


def number_scale(hand: InHand, width: int) -> list[Line]:
    """Return the scale of the number the reading in hand is held against, with that reading on it."""
    slot = hand.shown_slot()
    spec = hand.spec_of(slot)
    if slot is None or spec is None or (hand.group() is not None and not hand.next_key()):
        return []
    return scale_lines(spec, hand.prefs, tuple(_on_scale(hand, slot)), width, plain=hand.plain)


def _on_scale(hand: InHand, slot: ReadingSlot) -> Iterator[OnScale]:
    typed = hand.typed()
    if typed is not None and slot.key == hand.next_key():
        said = shown(hand.typing.strip())
        bare = not any(c.isalpha() or c in "\"'°%" for c in said)
        said = f"{said} {unit_label(typed.unit)}".strip() if bare else said
        yield OnScale("typing", typed.value, said, typed.unit, TYPING_STYLE)
    base = slot.key.rpartition("|")[0]
    taken = {r.slot: r for r in hand.task.readings}
    found = taken.get(f"{base}|{FOUND}") or found_on_card(hand.view.tasks, slot)
    for word, reading in (("found", found), ("left", taken.get(f"{base}|{LEFT}"))):
        if reading is not None:
            yield OnScale.taken(word, reading)
    before = _past(hand, slot)
    if before.value is not None and found is None:
        yield OnScale("last time", before.value, before.figure, hand.unit_of(slot))


def _past(hand: InHand, slot: ReadingSlot) -> Past:
    reading = next((r for r in hand.task.readings if r.slot == slot.key), None)
    now = reading.value if reading else None
    typed = hand.typed() if slot.key == hand.next_key() else None
    now = typed.value if typed is not None else now
    unit = hand.unit_of(slot)
    return past(hand.memory, hand.task.task, slot, unit, hand.view.distance_unit, (now, hand.at))


# The readings -----------------------------------------------------------------------------------------


def readings(hand: InHand, width: int, roomy: int) -> ReadingLines:
    """Return the readings of the task: a grid where several places are read, else one below the other."""
    group = hand.group()
    cells = reading_cells(hand.task, hand.pending, hand.next_key())
    lines = (
        reading_lines(cells, "", width) if group is None else _grid(hand, group, width, roomy=roomy == ROOMY)
    )
    reason = wrapped(f"! {unjudged_reason(hand.task)}", width, "$text-warning", rest="  ")
    foot = [*(_past_lines(hand, group, width) if roomy != BARE else []), *lines.foot]
    foot += sum_lines(hand.task, width) if roomy != BARE or gives_verdict(hand.task) else []
    foot += reason if unjudged_reason(hand.task) else []
    return replace(
        lines, foot=tuple(foot), must=(*_outside(hand, group, width), *_warnings(hand, group, width))
    )


def _past_lines(hand: InHand, group: Group | None, width: int) -> list[Line]:
    """Say what the reading in hand was last time."""
    slot = hand.shown_slot()
    if slot is None or (group is not None and not hand.next_key()):
        return []
    told = _past(hand, slot)
    return wrapped(f"{slot_label(hand.task.task, slot)}: {told.sentence()}", width, rest="  ") if told else []


def _outside(hand: InHand, group: Group | None, width: int) -> Iterator[Line]:
    """Say in words which readings of a grid are out of limits: a cell has room for a sign only."""
    if group is None:
        return
    mine = {slot.key: slot for slot in group.slots.values()}
    out = [mine[r.slot] for r in hand.task.readings if r.slot in mine and r.standing in OUTSIDE]
    names = ", ".join(slot_label(hand.task.task, slot) for slot in out)
    yield from wrapped(f"out of limits: {names}", width, OUT, first="! ", rest="  ") if out else []


def _warnings(hand: InHand, group: Group | None, width: int) -> Iterator[Line]:
    """Say which readings have gone one way at every visit."""
    slot = hand.shown_slot()
    alone = (slot,) if slot is not None else ()
    warned: dict[str, list[str]] = {}
    for one in group.slots.values() if group is not None else alone:
        if warning := _past(hand, one).warning:
            warned.setdefault(warning, []).append(slot_label(hand.task.task, one))
    for warning, names in warned.items():
        yield from wrapped(f"{', '.join(names)}: {warning}", width, WARNING, first="! ", rest="  ")


def _grid(hand: InHand, group: Group, width: int, *, roomy: bool) -> ReadingLines:
    taken = {r.slot: r for r in hand.task.readings}
    unit = {hand.unit_of(slot) for slot in group.slots.values()}
    label = unit_label(unit.pop()) if len(unit) == 1 else ""
    cells = {place: _cell(hand, slot, taken.get(slot.key), label) for place, slot in group.slots.items()}
    drawn = grid_lines(group.plan, cells, width, roomy=roomy)
    below = "found" if group.phase == LEFT else "last time"
    said = [f"{shown(group.name)}, {group.phase}", label]
    said += [f"below: {below}"] if roomy and any(c.before for c in cells.values()) else []
    phases = {s.phase for s in hand.task.task.readings if s.name == group.name}
    said += [f"Tab: {phase}" for phase in sorted(phases - {group.phase})]
    heading = wrapped(" · ".join(filter(None, said)), width, QUIET)
    return ReadingLines(tuple(heading), drawn.lines, drawn.at, tuple(_others(hand, group, width)))


def _cell(hand: InHand, slot: ReadingSlot, reading: ReadingView | None, label: str) -> GridCell:
    chosen = slot.key == hand.next_key() and hand.task.state == "open"
    if chosen and hand.typing.strip():
        return GridCell(shown(hand.typing.strip()), "?", TYPING_STYLE, _before(hand, slot, label), chosen)
    if slot.key in hand.pending:
        return GridCell(ON_ITS_WAY, "", QUIET, "", chosen)
    if reading is None:
        return GridCell(before=_before(hand, slot, label), chosen=chosen)
    sign = STANDING_MARKS.get(reading.standing, STANDING_MARKS[""]).sign
    style = STANDING_STYLE.get(reading.standing, "$text-warning")
    return GridCell(_bare(as_typed(reading), label), sign, style, _before(hand, slot, label), chosen)


def _before(hand: InHand, slot: ReadingSlot, label: str) -> str:
    """Return what stands below a figure: what was found, where it is left now, else last time's figure."""
    found = found_on_card(hand.view.tasks, slot) if slot.phase == LEFT else None
    if found is not None:
        sign = STANDING_MARKS.get(found.standing, STANDING_MARKS[""]).sign
        return f"{_bare(as_typed(found), label)} {sign}"
    told = _past(hand, slot)
    return f"{_bare(told.figure, label)} {told.arrow}".strip()


def _bare(said: str, label: str) -> str:
    """Return a figure without the unit that stands in the heading anyway.

    Examples
    --------
    >>> _bare("6 thou", "thou"), _bare("0,15 mm", "thou")
    ('6', '0,15 mm')
    """
    return said.removesuffix(label).strip() if label else said


def _others(hand: InHand, group: Group, width: int) -> Iterator[Line]:
    """Say how far the readings are that do not stand in the grid; one that stands alone with its figure."""
    taken = {r.slot: r for r in hand.task.readings}
    mine = {s.key for s in group.slots.values()}
    apart: dict[str, list[ReadingSlot]] = {}
    for slot in hand.task.task.readings:
        if slot.key not in mine:
            apart.setdefault(f"{shown(slot.name)}, {slot.phase}", []).append(slot)
    said = []
    for name, slots in apart.items():
        done = [s for s in slots if s.key in taken or s.key in hand.pending]
        reading = taken.get(slots[0].key)
        if len(slots) == 1 and reading is not None:
            sign = STANDING_MARKS.get(reading.standing, STANDING_MARKS[""]).sign
            said.append(f"{name}: {as_typed(reading)} {sign}")
        else:
            said.append(f"{name}: {len(done)} of {len(slots)} taken")
    yield from wrapped(" · ".join(said), width, QUIET, rest="  ") if said else []
