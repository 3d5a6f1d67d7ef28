"""Any order at all, when the quick ways run into a corner; and if there is none, which task stands in the way.

Whether a task may come next depends only on which have come before and the states they left, so what has led
nowhere once is not tried again, and times are not looked at before an order is found.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.worklists.planner.chains import bits
from shopcli.worklists.planner.day import Timed, follow
from shopcli.worklists.planner.problem import GONE, Problem

_MOST = 4_000


@dataclass(frozen=True, slots=True)
class Corner:
    """What was found: a day, or the task that got nowhere when most of the others were done."""

    day: Timed | None
    stuck: int = -1


def any_order(p: Problem) -> Corner:
    """Return the day of the order nearest to the listed one that keeps all rules, or what stands in the way."""
    search = _Search(p)
    order = search.run()
    if order is not None:
        return Corner(follow(p, order))
    stuck = (j for j in range(p.n) if not search.furthest >> j & 1 and not p.before[j] & ~search.furthest)
    return Corner(None, next(stuck, -1))


class _Search:
    """A walk through the sets of tasks that can be begun; states are bits here."""

    def __init__(self, p: Problem) -> None:
        self.p = p
        self.needs, self.makes, self.ends = _masks(p.needs), _masks(p.makes), _masks(p.ends)
        self.windows = [[(hung, sum(1 << k for k in ks)) for hung, ks in windows] for windows in p.windows]
        self.seats = {seat: j for j, seat in p.at.items()}
        self.everything = (1 << p.n) - 1
        self.furthest = 0

    def run(self) -> list[int] | None:
        """Return an order of all that is not in hand, or None when there is none or it was not found."""
        begun, holds = self.p.begun, sum(1 << s for s, since in enumerate(self.p.holds) if since != GONE)
        for j, _ in self.p.early:
            begun, holds = self._after(j, begun, holds)
        trail, order = [(begun, holds)], list[int]()
        met = {(begun, holds)}
        for _ in range(_MOST):
            begun, holds = trail[-1]
            if begun.bit_count() > self.furthest.bit_count():
                self.furthest = begun
            if begun.bit_count() > self.p.n:
                return order
            for j in bits(self.everything & ~begun):
                if not self._fits(j, begun, holds, len(order)):
                    continue
                further = self._after(j, begun, holds)
                if further not in met:
                    met.add(further)
                    trail.append(further)
                    order.append(j)
                    break
            else:
                trail.pop()
                if not trail:
                    return None
                order.pop()
        return None

    def _fits(self, j: int, begun: int, holds: int, depth: int) -> bool:
        if self.p.before[j] & ~begun or self.needs[j] & ~holds:
            return False
        if any(hung & begun and not lifted & begun for hung, lifted in self.windows[j]):
            return False
        return self.seats.get(depth, j) == j and self.p.at.get(j, depth) == depth

    def _after(self, j: int, begun: int, holds: int) -> tuple[int, int]:
        return begun | 1 << j, (holds & ~self.ends[j]) | self.makes[j]


def _masks(numbers: Sequence[Sequence[int]]) -> list[int]:
    return [sum(1 << k for k in row) for row in numbers]
