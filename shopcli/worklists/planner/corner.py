"""Any order at all, when the quick ways run into a corner; and if there is none, which task stands in the way.

Whether a task may come next depends only on which have come before and the states they left, so what has led
nowhere once is not tried again.
"""

from dataclasses import dataclass

from shopcli.worklists.planner.day import Day, Timed
from shopcli.worklists.planner.problem import GONE, Problem

Key = tuple[int, tuple[bool, ...]]
_MOST = 20_000


@dataclass(frozen=True, slots=True)
class Corner:
    """What was found: a day, or the task that got nowhere when most of the others were done."""

    day: Timed | None
    stuck: int = -1


def any_order(p: Problem) -> Corner:
    """Return the order nearest to the listed one that keeps all rules, or the task that stands in the way."""
    furthest = Day(p)
    trail = [furthest]
    met: set[Key] = set()
    for _ in range(_MOST):
        if not trail:
            break
        day = trail[-1]
        if day.begun.bit_count() > furthest.begun.bit_count():
            furthest = day
        if day.begun.bit_count() > p.n:
            return Corner(day.timed())
        further = _next(p, day, met)
        if further is None:
            trail.pop()
        else:
            trail.append(further)
    stuck = (j for j in range(p.n) if not furthest.begun >> j & 1 and not p.before[j] & ~furthest.begun)
    return Corner(None, next(stuck, -1))


def _next(p: Problem, day: Day, met: set[Key]) -> Day | None:
    for j in range(p.n):
        if day.begun >> j & 1 or not day.fits(j):
            continue
        further = day.copy()
        further.put(j, *further.who(j))
        key = (further.begun, tuple(at == GONE for at in further.holds))
        if key not in met:
            met.add(key)
            return further
    return None
