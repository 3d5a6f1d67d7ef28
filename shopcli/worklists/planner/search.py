"""A good order for a list too long to try them all: several rules of thumb, then many small moves.

The moves come from a fixed seed and are counted, not timed, so the same list gets the same plan on every
terminal.
"""

from collections.abc import Sequence
from random import Random

from shopcli.worklists.planner.day import NO_LIMIT, Day, Timed, follow
from shopcli.worklists.planner.problem import Problem

# How much the way to the end counts against starting soon, and what a walk is worth, [min]
_RULES = ((0.05, 0), (0.05, 1), (0.05, 2), (0.05, 4), (0.05, 6), (0.05, 10), (0.3, 2), (0.3, 6), (1.0, 6))
_JUMP = 1  # what staying with a job is worth, [min]
_HALF = 0.5
TRIES = 150


def by_rules_of_thumb(p: Problem) -> list[Timed]:
    """Return the days the rules of thumb find, none when all of them run into a corner."""
    return [day for reach, walk in _RULES if (day := _filled(p, reach, walk)) is not None]


def good_day(p: Problem, days: Sequence[Timed], bound: int, tries: int = TRIES) -> Timed:
    """Return the best day that small moves lead to.

    Half of them start from the day that ends first, half from one that ends a little later and walks less,
    which often leads to the better day of the two.

    Parameters
    ----------
    p : Problem
        The work.
    days : sequence of Timed
        From the rules of thumb, at least one.
    bound : int
        No day ends earlier, [min]
    tries : int, optional
        Moves to try.
    """
    soonest = min(days)
    calmest = min(days, key=lambda day: (day.cost.stale, day.cost.end + day.cost.walks, day))
    if soonest == calmest:
        return _improved(p, soonest, bound, tries)
    return min(_improved(p, soonest, bound, tries // 2), _improved(p, calmest, bound, tries // 2))


def _filled(p: Problem, reach: float, walk: int) -> Timed | None:
    """Return a day filled by one rule of thumb, or None when it runs into a corner.

    Of what may come next it takes what can start soonest, less `reach` times the way from there to the end,
    plus `walk` minutes where somebody has to change places.
    """
    day = Day(p)
    left = [j for j in range(p.n) if not day.begun >> j & 1]
    while left:
        best = (float(NO_LIMIT), -1, 0, 0)
        for j in left:
            if day.fits(j):
                who, start = day.who(j)
                moves = p.place[j] >= 0 and day.stands[who] not in {p.place[j], -1}
                did = day.did[who]
                score = start - reach * (p.minutes[j] + p.tails[j]) + (walk if moves else 0)
                score += _JUMP if did > j or (did >= 0 and p.job[did] != p.job[j]) else 0
                best = min(best, (score, j, who, start))
        if best[1] < 0:
            return None
        day.put(*best[1:])
        left.remove(best[1])
    return day.timed()


def _improved(p: Problem, best: Timed, bound: int, tries: int) -> Timed:
    """Return a day at least as good, found by moving tasks about one at a time.

    A move is kept when it is no worse: many moves that change nothing open the way to one that does.
    """
    random = Random(p.n)  # noqa: S311 - moves to try, not secrets
    early = {j for j, _ in p.early}
    order = [j for j in best.order if j not in early]
    for _ in range(tries if len(order) > 1 else 0):
        late = _decisive(p, best, early) if best.cost.end > bound else []
        j = random.choice(late) if late and random.random() < _HALF else random.choice(order)
        moved = _moved(p, order, j, random, sooner=j in late)
        walks = best.cost.walks if best.cost.end == bound else NO_LIMIT
        day = follow(p, moved, best.cost.end, walks)
        if day is not None and day.cost <= best.cost:
            best, order = day, moved
    return best


def _decisive(p: Problem, day: Timed, early: set[int]) -> list[int]:
    """Return the tasks that would let the day end earlier if they began earlier."""
    began = zip(day.order, day.starts, strict=True)
    return [j for j, at in began if at + p.minutes[j] + p.tails[j] == day.cost.end and j not in early]


def _moved(p: Problem, order: list[int], j: int, random: Random, *, sooner: bool) -> list[int]:
    """Return the order with a task elsewhere between those it must follow and those that must follow it.

    Every other time it goes beside another at its place, which may save a walk.
    """
    first = last = at = order.index(j)
    while first and not p.before[j] >> order[first - 1] & 1:
        first -= 1
    while not sooner and last + 1 < len(order) and not p.before[order[last + 1]] >> j & 1:
        last += 1
    rest = order[:at] + order[at + 1 :]
    spots = [k for k in range(first, last + 1) if k != at]
    if random.random() < _HALF:
        place = [p.place[k] for k in rest] + [-1]
        spots = [k for k in spots if p.place[j] in {place[k], place[k - 1]}] or spots
    if spots:
        rest.insert(random.choice(spots), j)
        return rest
    return order
