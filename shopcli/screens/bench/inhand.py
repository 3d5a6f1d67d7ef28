"""What the task pane shows: the task in hand, in whose units, which reading is next and what is being typed."""

from collections.abc import Collection
from dataclasses import dataclass, field

from shopcli.errors import ShopError
from shopcli.screens.bench.cells import Group, coming, group_of, slot_named
from shopcli.screens.bench.numberwords import slot_unit
from shopcli.shop.earlier import Memory
from shopcli.shop.views import CardView, TaskView
from shopcli.units import Preferences, Typed, parse
from shopcli.worklists.model import ReadingSlot, Spec
from shopcli.worklists.tool_choice import Advice


@dataclass(slots=True)
class CellState:
    """Which cell somebody chose by hand, and which reading was taken last; both belong to one task."""

    task_id: int = 0
    chosen: str = ""
    last: str = ""

    def of(self, task: TaskView) -> "CellState":
        """Return what holds for a task; another task begins afresh."""
        return self if task.id == self.task_id else CellState(task.id)

    def choose(self, task: TaskView, key: str) -> None:
        """Choose a cell by hand."""
        self.task_id, self.chosen, self.last = task.id, key, self.of(task).last

    def took(self, task_id: int, key: str) -> None:
        """Go on from a reading that was taken."""
        self.task_id, self.chosen, self.last = task_id, "", key


@dataclass(frozen=True, slots=True)
class InHand:
    """A task of a card as it is in somebody's hands.

    `slot` is the reading chosen by hand or asked for, `last` the one taken last, `typing` what stands in the
    field, `at` now, [s] since the epoch, `why` why the task stands where it does in the order of work.
    """

    view: CardView
    task: TaskView
    prefs: Preferences
    pending: frozenset[str] = frozenset()
    slot: str = ""
    titled: bool = True
    tools: tuple[Advice, ...] = ()
    last: str = ""
    typing: str = ""
    memory: Memory = field(default_factory=Memory)
    at: float = 0.0
    plain: bool = False
    why: str = ""

    def next_key(self) -> str:
        """Return the key of the reading to take next; empty when all are taken and none is chosen."""
        return coming(self.task, self.pending, self.slot, self.last)

    def next_slot(self) -> ReadingSlot | None:
        """Return the reading to take next."""
        return slot_named(self.task, self.next_key())

    def shown_slot(self) -> ReadingSlot | None:
        """Return the reading the pane is about: the next one, else the one taken last, else the first."""
        readings = self.task.task.readings
        return self.next_slot() or slot_named(self.task, self.last) or (readings[0] if readings else None)

    def group(self) -> Group | None:
        """Return the readings that are drawn as a grid, or None."""
        return group_of(self.task, self.shown_slot(), self.memory.facts)

    def marked(self) -> str:
        """Return the name of the number the next reading is taken against, where there are several."""
        slot = self.next_slot()
        return slot.spec if slot is not None and len(self.task.task.specs) > 1 else ""

    def spec_of(self, slot: ReadingSlot | None) -> Spec | None:
        """Return the number a reading is held against."""
        return self.task.task.spec(slot.spec) if slot is not None and slot.spec else None

    def unit_of(self, slot: ReadingSlot) -> str:
        """Return the unit a reading is shown in."""
        return slot_unit(self.task.task, slot, self.prefs)

    def typed(self) -> Typed | None:
        """Return what is being typed as it is understood so far."""
        slot = self.next_slot()
        if slot is None or not self.typing.strip():
            return None
        spec = self.spec_of(slot)
        quantity = spec.limits.quantity if spec else slot.quantity
        try:
            return parse(self.typing, quantity, default_unit=self.unit_of(slot) or None)
        except ShopError:
            return None


def pending_of(task_id: int, pending: Collection[tuple[int, str]]) -> frozenset[str]:
    """Return the readings of one task that are on their way into the records."""
    return frozenset(slot for task, slot in pending if task == task_id)
