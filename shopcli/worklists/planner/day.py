"""A day as it fills up: tasks are put down one after another, each as soon as those before it let it.

Every search walks through days, so this works on plain lists and asks nothing twice.
"""

from collections.abc import Sequence
from typing import NamedTuple

from shopcli.worklists.planner.problem import COLD_STATE, GONE, Problem

NO_LIMIT = 10**9


class Cost(NamedTuple):
    """What counts, in this order: work that finds its engine gone cold, time until the end, walks, jumps.

    A jump is a step to another job or back in the list.
    """

    stale: int
    end: int
    walks: int
    jumps: int


class Timed(NamedTuple):
    """An order of the tasks with its people and starts."""

    cost: Cost
    order: tuple[int, ...]
    people: tuple[int, ...]
    starts: tuple[int, ...]


class Day:
    """What is put down so far: who is free when and stands where, what holds, what must wait how long."""

    __slots__ = (
        "begun",
        "did",
        "end",
        "floor",
        "free",
        "holds",
        "jumps",
        "order",
        "over",
        "p",
        "people",
        "ran",
        "ready",
        "stale",
        "stands",
        "starts",
        "walks",
    )

    def __init__(self, p: Problem) -> None:
        self.p = p
        self.ready = p.release[:]
        self.free = [p.start] * p.hands
        self.stands = [-1] * p.hands
        self.did = [-1] * p.hands
        self.holds = p.holds[:]
        self.over = [NO_LIMIT] * p.n
        self.begun, self.ran = p.begun, p.ran
        self.stale = self.walks = self.jumps = 0
        self.end = self.floor = p.start
        self.order: list[int] = []
        self.people: list[int] = []
        self.starts: list[int] = []
        for j, k in p.early:
            self.put(j, k, self.free[k])

    def copy(self) -> "Day":
        """Return a day that goes on from here on its own."""
        new = object.__new__(Day)
        new.p, new.ready, new.free, new.stands = self.p, self.ready[:], self.free[:], self.stands[:]
        new.holds, new.over, new.begun, new.ran = self.holds[:], self.over[:], self.begun, self.ran
        new.stale, new.walks, new.jumps, new.did = self.stale, self.walks, self.jumps, self.did[:]
        new.end, new.floor = self.end, self.floor
        new.order, new.people, new.starts = self.order[:], self.people[:], self.starts[:]
        return new

    def fits(self, j: int) -> bool:
        """Whether task `j` may come next."""
        p = self.p
        if p.before[j] & ~self.begun:
            return False
        for state in p.needs[j]:
            if self.holds[state] == GONE:
                return False
        for hung, lifters in p.windows[j]:
            if hung & self.begun and not any(self.begun >> k & 1 for k in lifters):
                return False
        return not p.at or self._seat_fits(j)

    def soonest(self, j: int) -> int:
        """Return the earliest start of a task that fits, hands apart."""
        p = self.p
        ready = max(self.ready[j], self.floor)
        for state in p.needs[j]:
            ready = max(ready, self.holds[state])
        for hung, lifters in p.windows[j]:
            if hung & self.begun:
                ready = max(ready, min(self.over[k] for k in lifters))
        return ready

    def _seat_fits(self, j: int) -> bool:
        seat, at = len(self.order) - len(self.p.early), self.p.at
        return at[j] == seat if j in at else seat not in at.values()

    def who(self, j: int) -> tuple[int, int]:
        """Return who can begin task `j` first, and when; among equals who stands there, then who is free last."""
        p, free = self.p, self.free
        ready = self.soonest(j)
        who, start = 0, NO_LIMIT
        for k in p.people[j]:
            at = free[k] if free[k] > ready else ready  # noqa: FURB136 - a call here costs more than the rest
            if at < start or (at == start and self._rather(k, who, p.place[j])):
                who, start = k, at
        return who, start

    def _rather(self, k: int, than: int, here: int) -> bool:
        """Whether, both being free in time, `k` stands better for a task at a place."""
        walks, other = self.stands[k] not in {here, -1}, self.stands[than] not in {here, -1}
        return walks < other if walks != other and here >= 0 else self.free[k] > self.free[than]

    def put(self, j: int, who: int, start: int) -> None:
        """Put task `j` down."""
        p = self.p
        if p.at:
            start = self._seated(j, start)
        done = start + p.minutes[j]
        free_at = done + p.waits[j]
        if p.wants_warm[j] and start > self.ran + p.warm_for:
            self.stale += 1
        if p.warms[j]:
            self.ran = max(self.ran, free_at)
            self.holds[COLD_STATE] = max(self.holds[COLD_STATE], free_at + p.cool_down)
        here = p.place[j]
        if here >= 0:
            if self.stands[who] not in {here, -1}:
                self.walks += 1
            self.stands[who] = here
        did = self.did[who]
        if did > j or (did >= 0 and p.job[did] != p.job[j]):
            self.jumps += 1
        self.did[who] = j
        self.free[who] = done
        self.end = max(self.end, free_at)
        self.begun |= 1 << j
        self.over[j] = free_at
        for state in p.ends[j]:
            self.holds[state] = GONE
        for state in p.makes[j]:
            self.holds[state] = min(self.holds[state], free_at)
        ready = self.ready
        for k, lag in p.push[j]:
            ready[k] = max(ready[k], done + lag)
        self.order.append(j)
        self.people.append(who)
        self.starts.append(start)

    def _seated(self, j: int, start: int) -> int:
        """Keep a place asked for: what comes before it in the order has started, what comes after has not."""
        if j in self.p.at:
            start = max(start, *self.starts, start)
            self.floor = max(self.floor, start)
        return start

    @property
    def cost(self) -> Cost:
        """What the day costs so far."""
        return Cost(self.stale, self.end, self.walks, self.jumps)

    def timed(self) -> Timed:
        """Return the day as it stands."""
        return Timed(self.cost, tuple(self.order), tuple(self.people), tuple(self.starts))


def follow(p: Problem, order: Sequence[int], end: int = NO_LIMIT, walks: int = NO_LIMIT) -> Timed | None:
    """Return the day that follows an order, or None when that breaks a rule, or is certain to end or walk beyond.

    What is in hand comes first and need not be in the order.
    """
    day = Day(p)
    minutes, tails = p.minutes, p.tails
    for j in order:
        if not day.fits(j):
            return None
        who, start = day.who(j)
        if start + minutes[j] + tails[j] > end or day.walks > walks:
            return None
        day.put(j, who, start)
    return day.timed()
