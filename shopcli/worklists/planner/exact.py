"""The best order of a short list, found by trying all that could still be better.

Tasks are put down in the order they start. A day is given up as soon as what is left cannot end early enough
or walk little enough, or when the same tasks have been put down before to the same effect at no greater cost.
"""

from collections.abc import Iterator

from shopcli.worklists.planner.chains import bits
from shopcli.worklists.planner.day import NO_LIMIT, Cost, Day, Timed
from shopcli.worklists.planner.problem import Problem

Key = tuple[object, ...]


class _Search:
    """A search under way: the best day yet, and what was met on the way."""

    def __init__(self, p: Problem, best: Timed | None) -> None:
        self.p = p
        self.best = best
        self.cost = best.cost if best else Cost(NO_LIMIT, NO_LIMIT, NO_LIMIT, NO_LIMIT)
        self.met: dict[Key, list[Cost]] = {}
        self.everything = (2 << p.n) - 1
        self.lifters = sorted({k for windows in p.windows for _, lifters in windows for k in lifters})
        self.alike = all(len(people) == p.hands for people in p.people)

    def go_on(self, day: Day) -> None:
        """Try everything that can follow."""
        left = self.everything & ~day.begun
        if not left:
            if day.cost < self.cost:
                self.best, self.cost = day.timed(), day.cost
            return
        last = day.starts[-1] if day.starts else self.p.start
        if self._hopeless(day, left, last) or self._met_before(day, left, last):
            return
        for _, _, j, k, start in sorted(self._next(day, left, last)):
            further = day.copy()
            further.put(j, k, start)
            self.go_on(further)

    def _next(self, day: Day, left: int, last: int) -> Iterator[tuple[int, int, int, int, int]]:
        """Yield what may come next, most promising first: start, way to the end, task, person, start again."""
        p = self.p
        for j in bits(left):
            if day.fits(j):
                ready = day.soonest(j)
                tried = set()
                for k in p.people[j]:
                    start = max(day.free[k], ready)
                    alike = (max(day.free[k], last), day.stands[k], day.did[k])
                    if start >= last and (alike not in tried or not self.alike):
                        tried.add(alike)
                        yield start, -p.tails[j], j, k, start

    def _hopeless(self, day: Day, left: int, last: int) -> bool:
        """Whether nothing that follows can be better than the best day."""
        p = self.p
        soonest = max(last, min(day.free))
        end, work, tail = day.end, 0, NO_LIMIT
        for j in bits(left):
            start = max(soonest, day.ready[j])
            end = max(end, start + p.minutes[j] + p.tails[j])
            work += p.minutes[j]
            tail = min(tail, p.tails[j])
        shared = -(-(work + sum(max(free, last) for free in day.free)) // p.hands)
        end = max(end, shared + tail)
        return Cost(day.stale, end, day.walks + self._walks_to_come(day, left), day.jumps) >= self.cost

    def _walks_to_come(self, day: Day, left: int) -> int:
        places = {self.p.place[j] for j in bits(left)} - {-1} - set(day.stands)
        return max(0, len(places) - day.stands.count(-1))

    def _met_before(self, day: Day, left: int, last: int) -> bool:
        """Whether the same was reached before at no greater cost; times gone by make no difference."""
        people = [
            (max(free, last), stands, did)
            for free, stands, did in zip(day.free, day.stands, day.did, strict=True)
        ]
        if self.alike:
            people.sort()
        ready = tuple(max(day.ready[j], last) for j in bits(left))
        ran = max(day.ran, last - self.p.warm_for - 1)
        holds = tuple(max(at, last) for at in day.holds)
        over = tuple(max(day.over[k], last) for k in self.lifters)
        costs = self.met.setdefault((day.begun, tuple(people), ready, holds, over, ran, last), [])
        for cost in costs:
            if all(then <= now for then, now in zip(cost, day.cost, strict=True)):
                return True
        costs.append(day.cost)
        return False


def best_order(p: Problem, known: Timed | None) -> Timed | None:
    """Return the best day there is, or None when no order of the tasks keeps all rules.

    Parameters
    ----------
    p : Problem
        The work, short enough.
    known : Timed or None
        A good day to begin with: the better it is, the sooner the search is over.
    """
    search = _Search(p, known)
    search.go_on(Day(p))
    return search.best
