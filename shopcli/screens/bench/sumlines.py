"""What the task's own sum says, in one line beneath the readings: the verdict at a glance, the rest behind a key."""

from shopcli.columns import cut, shown
from shopcli.errors import ShopError
from shopcli.screens.widgets.lines import Line
from shopcli.shop.views import TaskView
from shopcli.worklists.derived import Derived, derived, taken_by_name

KEY = " (w)"


def sum_of(task: TaskView) -> Derived | None:
    """Return the answer of the task's sum, or None while it has none."""
    taken = {reading.slot: reading.value for reading in task.readings}
    try:
        return derived(task.task, taken_by_name(task.task, taken))
    except ShopError:  # an old card may ask for a sum that is no more
        return None


def gives_verdict(task: TaskView) -> bool:
    """Whether the sum has something to say on the readings, not only a table to look up."""
    found = sum_of(task)
    return found is not None and bool(found.verdict or found.refused)


def sum_lines(task: TaskView, width: int) -> tuple[Line, ...]:
    """Return one line, or none."""
    found = sum_of(task)
    if found is None:
        return ()
    said = found.refused or found.verdict or found.text
    return (((cut(f"Sum: {shown(said)}", max(20, width - len(KEY))), "bold"), (KEY, "$foreground-muted")),)
