"""Put tasks into an order that respects every `after` and otherwise leaves them as they were written.

This is the plain order: nothing starts before what it waits for. Saving time while oil drains or an engine
cools is the planner's work and builds on this one.
"""

import heapq
from collections.abc import Sequence

from shopcli.errors import BadInput
from shopcli.worklists.circles import find_circle
from shopcli.worklists.model import Task


def in_order(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """Return the tasks, each after those it waits for, earlier ones first where there is a choice.

    Parameters
    ----------
    tasks : sequence of Task
        With keys of their own; a key in `after` that is not among them is left aside.

    Raises
    ------
    BadInput
        If tasks wait for one another in a circle; the message names it.

    Examples
    --------
    >>> def step(key, *after):
    ...     return Task(key, "t", "1", key, "", after=after)
    >>> [t.key for t in in_order([step("t:c", "t:b"), step("t:a"), step("t:b", "t:a")])]
    ['t:a', 't:b', 't:c']
    """
    place = {task.key: index for index, task in enumerate(tasks)}
    waiting = {task.key: {k for k in task.after if k in place and k != task.key} for task in tasks}
    opens: dict[str, list[str]] = {key: [] for key in place}
    for key, before in waiting.items():
        for other in before:
            opens[other].append(key)
    ready = [place[key] for key, before in waiting.items() if not before]
    heapq.heapify(ready)
    ordered: list[Task] = []
    while ready:
        task = tasks[heapq.heappop(ready)]
        ordered.append(task)
        for key in opens[task.key]:
            waiting[key].discard(task.key)
            if not waiting[key]:
                heapq.heappush(ready, place[key])
    if len(ordered) < len(place):
        raise _circle(tasks, waiting)
    return tuple(ordered)


def _circle(tasks: Sequence[Task], waiting: dict[str, set[str]]) -> BadInput:
    titles = {task.key: task.title for task in tasks}
    circle = find_circle({key: sorted(before) for key, before in waiting.items()})
    shown = " waits for ".join(f'"{titles[key]}" ({key})' for key in circle)
    return BadInput(
        f"the tasks wait for one another: {shown}",
        hint="Take one of these out of `after` in its job template.",
    )
