"""Which readings of a task stand together in a grid, and which cell the arrows, Enter and Tab go to."""

from collections.abc import Collection
from dataclasses import dataclass

from shopcli.screens.bench.choosing import empty_slots, in_order
from shopcli.shop.views import TaskView
from shopcli.worklists.engine_plan import Plan, plan
from shopcli.worklists.model import PHASES, ReadingSlot, VehicleFacts
from shopcli.worklists.places import Place

A_GRID = 2  # places from which a reading is drawn as a grid


@dataclass(frozen=True, slots=True)
class Group:
    """The readings of one name and phase over several places, and how those lie."""

    name: str
    phase: str
    slots: dict[str, ReadingSlot]
    plan: Plan


def place_of(slot: ReadingSlot) -> str:
    """Return the place of a slot as its key names it, empty where it has none.

    Examples
    --------
    >>> place_of(ReadingSlot("gap@2|as left", "gap", "plug 2", "as left")), place_of(ReadingSlot("gap|x", "gap", "", "x"))
    ('2', '')
    """
    return slot.key.removeprefix(slot.name).removesuffix(f"|{slot.phase}").removeprefix("@")


def slot_named(task: TaskView, key: str) -> ReadingSlot | None:
    """Return the slot of a task with that key."""
    return next((s for s in task.task.readings if s.key == key), None)


def group_of(task: TaskView, slot: ReadingSlot | None, facts: VehicleFacts | None) -> Group | None:
    """Return the readings that stand together with one, or None where it stands alone."""
    if slot is None:
        return None
    alike = [s for s in task.task.readings if s.name == slot.name and s.phase == slot.phase and place_of(s)]
    slots = {place_of(s): s for s in alike}
    if len(slots) < A_GRID or len(slots) < len(alike) or place_of(slot) not in slots:
        return None
    laid = plan([Place(name, one.label) for name, one in slots.items()], facts)
    return Group(slot.name, slot.phase, slots, laid)


def next_key(task: TaskView, pending: Collection[str] = (), after: str = "") -> str:
    """Return the key of the reading to take next.

    Parameters
    ----------
    task : TaskView
        The task in hand.
    pending : collection of str
        Readings on their way into the records.
    after : str, optional
        The reading taken last: empty ones behind it come first, then those before it of the same phase, then
        the rest. Where all are taken it goes on to the one behind.
    """
    if task.state != "open":
        return ""
    order = [slot.key for slot in in_order(task)]
    empty = [slot.key for slot in empty_slots(task, pending)]
    if after not in order:
        return next(iter(empty or order), "")
    phase = after.rpartition("|")[2]
    at = order.index(after)
    turned = [*order[at + 1 :], *order[: at + 1]]
    alike = [key for key in turned if key.rpartition("|")[2] == phase]
    return next((key for key in (*alike, *turned) if key in empty), turned[0])


def coming(task: TaskView, pending: Collection[str], chosen: str, last: str) -> str:
    """Return the key of the reading the arrow stands at: the one chosen by hand, else the next one not taken yet."""
    return chosen or (next_key(task, pending, last) if empty_slots(task, pending) else "")


def cell_beside(task: TaskView, key: str, facts: VehicleFacts | None, across: int, down: int) -> str:
    """Return the reading to the right or left, above or below; where there is no grid, the next or the one before."""
    slot = slot_named(task, key)
    group = group_of(task, slot, facts)
    if slot is not None and group is not None:
        there = group.plan.beside(place_of(slot), across, down)
        if there != place_of(slot):
            return group.slots[there].key
    order = [s.key for s in in_order(task)]
    if key not in order or (group is not None and not _leaves(order, key, across + down, group)):
        return key if key in order else next(iter(order), "")
    return order[max(0, min(len(order) - 1, order.index(key) + across + down))]


def _leaves(order: list[str], key: str, by: int, group: Group) -> bool:
    """Whether the step in that direction leads out of the grid, to a reading that is not in it."""
    mine = [order.index(s.key) for s in group.slots.values()]
    edge = (max if by > 0 else min)(mine) + by
    return 0 <= edge < len(order) and order.index(key) == edge - by


def other_phase(task: TaskView, key: str) -> str:
    """Return the reading at the same place in the other phase; empty where it is asked in one only."""
    place, _, phase = key.rpartition("|")
    keys = {s.key for s in task.task.readings}
    return next((f"{place}|{p}" for p in PHASES if p != phase and f"{place}|{p}" in keys), "")
