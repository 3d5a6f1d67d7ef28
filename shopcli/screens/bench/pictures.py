"""Which pictures fit the task in hand, and each of them as lines: what it shows, its cautions first."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from shopcli.columns import display_width, shown
from shopcli.screens.bench.beneath import open_said
from shopcli.screens.bench.cells import place_of, slot_named
from shopcli.screens.bench.gridlines import GridCell, grid_lines
from shopcli.screens.bench.inhand import InHand
from shopcli.screens.bench.numberwords import slot_unit
from shopcli.screens.bench.readingwords import as_typed
from shopcli.screens.bench.sumlines import sum_of
from shopcli.screens.bench.tasklines import caution_lines
from shopcli.screens.widgets.lines import BLANK, Line, width_of_line, wrapped
from shopcli.shop.views import TaskView
from shopcli.units import from_canonical, unit_named
from shopcli.worklists.engine_plan import plan
from shopcli.worklists.model import ReadingSlot, VehicleFacts
from shopcli.worklists.pictures import (
    TAGS,
    VALVES,
    Bar,
    Drawing,
    bars_drawing,
    cap_drawing,
    first_kind,
    in_turn,
    order_drawings,
)
from shopcli.worklists.places import Place
from shopcli.worklists.valve_turns import ValveTurn, valve_turns

QUIET = "$foreground-muted"
TURNING = "Ignition off, out of gear, tools and sleeves clear before the engine is turned by hand."
FEEL = "Both valves must be shut and loose before one is set: the handbook's own order comes first."


@dataclass(frozen=True, slots=True)
class Sheet:
    """A picture to look at: `lines` lays it out for a width and one of its `turns`."""

    kind: str
    title: str
    lines: Callable[[int, int], list[Line]]
    turns: int = 1


def sheets(hand: InHand) -> tuple[tuple[Sheet, ...], int]:
    """Return the pictures that fit, and which of them the task is looked at with first."""
    facts = hand.memory.facts or VehicleFacts()
    drawn = [cap_drawing(facts, plain=hand.plain), *order_drawings(hand.task.task, facts, plain=hand.plain)]
    drawn.append(_bars(hand))
    found = [_of_drawing(one) for one in drawn if one is not None]
    turns = valve_turns(facts)
    if turns:
        found.append(_of_valves(facts, turns))
    found.append(
        Sheet(TAGS, "Tags on the vehicle, and what is owed", lambda width, _turn: _tags(hand, width))
    )
    return tuple(found), in_turn([one.kind for one in found], _first(hand))


def _first(hand: InHand) -> str:
    group = hand.group()
    valves = group is not None and all(s.label.startswith("valve ") for s in group.slots.values())
    return first_kind(hand.task.task) or (VALVES if valves else "")


def _of_drawing(drawn: Drawing) -> Sheet:
    return Sheet(drawn.kind, drawn.title, lambda width, _turn: _drawing_lines(drawn, width))


def _drawing_lines(drawn: Drawing, width: int) -> list[Line]:
    lines = caution_lines(drawn.cautions, width)
    wide = max(map(display_width, drawn.rows), default=0)
    lead = " " * max(0, (width - wide) // 2)
    lines += [BLANK] if lines else []
    lines += [*(((f"{lead}{row}", "bold"),) for row in drawn.rows), BLANK]
    said = ((text, "$text-warning" if text.startswith("! ") else "") for text in drawn.words)
    return lines + [line for text, style in said for line in wrapped(text, width, style, rest="  ")]


# Bars -------------------------------------------------------------------------------------------------


def _bars(hand: InHand) -> Drawing | None:
    """Return the readings in hand as bars, else the compressions of the card."""
    tasks = [hand.task, *(t for t in hand.view.tasks if t.id != hand.task.id)]
    for task in tasks:
        for slot in task.task.readings:
            if task.id == hand.task.id or slot.name.startswith("compression"):
                drawn = _bars_of(hand, task, slot)
                if drawn is not None:
                    return drawn
    return None


def _bars_of(hand: InHand, task: TaskView, first: ReadingSlot) -> Drawing | None:
    unit = slot_unit(task.task, first, hand.prefs)
    if not unit or unit_named(unit).reciprocal:
        return None
    bars = []
    for reading in task.readings:
        slot = slot_named(task, reading.slot)
        if slot is not None and (slot.name, slot.phase) == (first.name, first.phase) and place_of(slot):
            text = as_typed(reading)
            bars.append(Bar(place_of(slot), from_canonical(reading.value, unit), text))
    spec = task.task.spec(first.spec) if first.spec else None
    low, high = spec.limits.band(unit) if spec is not None else (None, None)
    limit = low if low is not None else high
    drawn = bars_drawing(
        shown(f"{first.name}, {first.phase}"),
        bars,
        from_canonical(limit, unit) if limit is not None else None,
        f"limits {spec.limits.text_in(unit)}" if spec is not None else "",
        plain=hand.plain,
    )
    found = sum_of(task)
    return replace(drawn, words=(found.text,)) if drawn is not None and found is not None else drawn


# Valves -----------------------------------------------------------------------------------------------


def _of_valves(facts: VehicleFacts, turns: tuple[ValveTurn, ...]) -> Sheet:
    def lines(width: int, turn: int) -> list[Line]:
        return list(_valve_lines(facts, turns, turn % len(turns), width))

    return Sheet(VALVES, "Valves to set at this crank position", lines, len(turns))


def _valve_lines(facts: VehicleFacts, turns: tuple[ValveTurn, ...], turn: int, width: int) -> Iterator[Line]:
    now = turns[turn]
    before = {valve for one in turns[:turn] for valve in one.valves}
    yield from caution_lines((TURNING, FEEL), width)
    yield BLANK
    cells = {
        valve: GridCell("set", "●", "bold $text-accent", chosen=True)
        if valve in now.valves
        else GridCell("passed", "✓", "$text-success")
        if valve in before
        else GridCell("later", "○", QUIET)
        for valve in facts.valves
    }
    places = [Place(valve, f"valve {valve}") for valve in facts.valves]
    drawn = grid_lines(plan(places, facts), cells, width, roomy=True).lines
    lead = " " * max(0, (width - max(map(width_of_line, drawn))) // 2)
    yield from (((lead, ""), *line) for line in drawn)
    yield BLANK
    yield from wrapped(f"Position {turn + 1} of {len(turns)}: {now.words()}", width, "bold", rest="  ")
    yield from wrapped(now.onward(), width)
    yield from wrapped("Down turns the crank on, Up turns it back.", width, QUIET)


def _tags(hand: InHand, width: int) -> list[Line]:
    said = open_said(hand.view, hand.task)
    return [line for text, style in said for line in wrapped(text, width, style, rest="  ")]
