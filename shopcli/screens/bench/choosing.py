"""Which task and which reading come next: plain questions to a card, without a screen."""

from collections.abc import Collection

from shopcli.shop.views import CardView, TagView, TaskView
from shopcli.worklists.model import PHASES, ReadingSlot


def in_order(task: TaskView) -> tuple[ReadingSlot, ...]:
    """Return the readings of a task in the order they are taken: all as found, then all as left."""
    return tuple(
        sorted(task.task.readings, key=lambda slot: PHASES.index(slot.phase) if slot.phase in PHASES else 9)
    )


def empty_slots(task: TaskView, pending: Collection[str] = ()) -> tuple[ReadingSlot, ...]:
    """Return the readings not taken yet; `pending` ones are on their way into the records."""
    there = {reading.slot for reading in task.readings} | set(pending)
    return tuple(slot for slot in in_order(task) if slot.key not in there)


def next_slot(task: TaskView, pending: Collection[str] = ()) -> ReadingSlot | None:
    """Return the reading to take next: the first empty one, the first of all when none is empty, else None."""
    if task.state != "open":
        return None
    slots = in_order(task)
    return next(iter(empty_slots(task, pending)), slots[0] if slots else None)


def slot_beside(task: TaskView, key: str, by: int) -> ReadingSlot | None:
    """Return the reading before or after one, stopping at the ends."""
    slots = in_order(task)
    keys = [slot.key for slot in slots]
    if key not in keys:
        return slots[0] if slots else None
    return slots[max(0, min(len(slots) - 1, keys.index(key) + by))]


def missing_left(task: TaskView) -> tuple[ReadingSlot, ...]:
    """Return the readings as left that the task still wants before it is done."""
    return tuple(slot for slot in empty_slots(task) if slot.phase == "as left")


def task_of(view: CardView, task_id: int | None) -> TaskView | None:
    """Return the task of that id, or None."""
    return next((t for t in view.tasks if t.id == task_id), None)


def first_task(view: CardView, who: str, following: TaskView | None) -> TaskView | None:
    """Return where somebody goes on: the task their clock runs on, else what follows, else the last."""
    mine = next((t for t in view.tasks if who in t.running), None)
    return mine or following or (view.tasks[-1] if view.tasks else None)


def task_beside(view: CardView, task_id: int | None, by: int) -> TaskView | None:
    """Return the task above or below one, stopping at the ends."""
    if not view.tasks:
        return None
    where = next((i for i, t in enumerate(view.tasks) if t.id == task_id), 0)
    return view.tasks[max(0, min(len(view.tasks) - 1, where + by))]


def barring_tags(view: CardView, task: TaskView) -> tuple[TagView, ...]:
    """Return the tags that bar a task."""
    return tuple(tag for tag in view.tags if tag.name in task.barred_by)


def wants_second(view: CardView) -> tuple[TaskView, ...]:
    """Return the done tasks that still want a second pair of eyes."""
    return tuple(t for t in view.tasks if t.state == "done" and t.task.second and not t.second_by)


def settled(view: CardView) -> tuple[TaskView, ...]:
    """Return the tasks done or left out, the latest first."""
    ended = [t for t in view.tasks if t.state != "open" and t.done_at is not None]
    return tuple(
        sorted(ended, key=lambda t: (t.done_at.timestamp() if t.done_at else 0, t.position), reverse=True)
    )
