"""What was read on the same vehicle before: the visits of one reading, and where it is going.

A reading is the same one when it is held against the same number at the same place; without a number, when the
same step asked for it. Templates change their steps, a valve stays where it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from shopcli.shop.views import ReadingView, TaskView
from shopcli.units import unit_named
from shopcli.workings.trend import Trend, trend
from shopcli.worklists.model import ReadingSlot, Task, VehicleFacts

FOUND, LEFT = "as found", "as left"
DAY_S = 86_400


@dataclass(frozen=True, slots=True)
class EarlierView:
    """A reading of an earlier card: `value` canonical, `typed` as it was typed, `task` the key of its step."""

    card: str
    at: datetime
    odometer: int | None
    task: str
    slot: str
    spec: str
    value: float
    unit: str
    quantity: str
    typed: str
    standing: str

    @property
    def place(self) -> str:
        """What was read and where, without when."""
        return self.slot.rpartition("|")[0]

    @property
    def phase(self) -> str:
        """As found or as left."""
        return self.slot.rpartition("|")[2]


@dataclass(frozen=True, slots=True)
class Memory:
    """What a vehicle brings along to a card: its facts, where known, and its earlier readings, oldest first."""

    facts: VehicleFacts | None = None
    readings: tuple[EarlierView, ...] = field(default=())


def same_before(memory: Memory, task: Task, slot: ReadingSlot, phase: str = "") -> tuple[EarlierView, ...]:
    """Return the earlier readings of a slot, oldest first, the latest of each card; `phase` asks for the other one."""
    place, wanted = slot.key.rpartition("|")[0], phase or slot.phase
    latest: dict[str, EarlierView] = {}
    for one in memory.readings:
        same = one.spec == slot.spec if slot.spec and one.spec else one.task == task.key
        if same and one.place == place and one.phase == wanted and _measures(one, task, slot):
            latest.pop(one.card, None)
            latest[one.card] = one
    return tuple(latest.values())


def _measures(one: EarlierView, task: Task, slot: ReadingSlot) -> bool:
    """Whether it is of the same quantity: a sheet may have been corrected since."""
    spec = task.spec(slot.spec) if slot.spec else None
    quantity = spec.limits.quantity if spec else slot.quantity
    return not quantity or one.quantity == quantity


def found_on_card(tasks: Sequence[TaskView], slot: ReadingSlot) -> ReadingView | None:
    """Return what was found on this card at the place of a slot, whichever step wrote it down."""
    key = f"{slot.key.rpartition('|')[0]}|{FOUND}"
    for task in tasks:
        asked = next((s for s in task.task.readings if s.key == key), None)
        if asked is not None and asked.spec == slot.spec:
            reading = next((r for r in task.readings if r.slot == key), None)
            if reading is not None:
                return reading
    return None


def way_of(before: Sequence[EarlierView], now: float | None, at: float, unit: str) -> Trend | None:
    """Look at the visits of a reading, this one with them.

    Parameters
    ----------
    before : sequence of EarlierView
        Oldest first.
    now : float or None
        What is read now, None where nothing is yet, [canonical unit]
    at : float
        When, [s] since the epoch
    unit : str
        Unit it is spoken in; less than its tool shows is no change.

    Returns
    -------
    Trend or None
        In the canonical unit; None for fewer than two visits.
    """
    named = unit_named(unit)
    days = [one.at.timestamp() / DAY_S for one in before]
    values = [one.value for one in before]
    if now is not None:
        days.append(at / DAY_S)
        values.append(now)
    return trend(days, values, named.graduation * named.factor)
