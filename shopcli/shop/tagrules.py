"""What a tag bars: the one question the rule at the bench and the screen both ask. No database here."""

from collections.abc import Sequence

from shopcli.worklists.model import Task


def barring(name: str, bars: Sequence[str], task: Task) -> bool:
    """Whether a tag of that name, barring those acts, bars the task.

    A task that lifts the tag is never barred by it: it is the way out.
    """
    if name in task.lifts:
        return False
    return name in task.barred or bool(set(bars) & set(task.acts))
