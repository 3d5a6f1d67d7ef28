"""How short a day could be at best: what no order of the tasks can beat.

An end is supposed; where two orders of a pair are thinkable and one of them would miss that end, the other is
certain, and may make more certain. Supposed ends that lead to "neither" are proved too early. (The reasoning is
that of immediate selection in the disjunctive scheduling literature; from memory.)
"""

from collections.abc import Iterator
from dataclasses import dataclass

from shopcli.worklists.planner.chains import bits
from shopcli.worklists.planner.problem import Problem

_PASSES = 12


@dataclass(frozen=True, slots=True)
class _Either:
    """Either `a` ends `lag` before `b` begins, or `c` ends `other` before `d` begins."""

    a: int
    b: int
    lag: int
    c: int
    d: int
    other: int


def lower_bound(p: Problem, known: int) -> int:
    """Return an end that no day beats, [min].

    Parameters
    ----------
    p : Problem
        The work.
    known : int
        The end of a day that is known to be possible, [min]
    """
    low = max(_by_chain(p, p.heads, p.tails), _by_hands(p, p.heads, p.tails)) if p.n else p.start
    if low >= known:
        return low
    choices = [*_pairs(p), *_windows(p)]
    high = known
    while low < high:
        middle = (low + high) // 2
        if _thinkable(p, middle, choices):
            high = middle
        else:
            low = middle + 1
    return low


def _by_chain(p: Problem, heads: list[int], tails: list[int]) -> int:
    return max(heads[j] + p.minutes[j] + tails[j] for j in range(p.n))


def _by_hands(p: Problem, heads: list[int], tails: list[int]) -> int:
    """Share work out: what cannot start before some time and has some way behind it fits between the two.

    While the car is raised, let down or driven the other hands have only the bench to turn to.
    """
    best = p.start
    by_tail = sorted(range(p.n), key=lambda j: -tails[j])
    others = p.hands - 1
    for head in set(heads):
        work = idle = bench = 0
        for j in by_tail:
            if heads[j] >= head:
                work += p.minutes[j]
                idle += p.keeps_off[j] * p.minutes[j] * others
                bench += p.at_bench[j] * p.minutes[j]
                needed = work + (idle - bench if idle > bench else 0)
                best = max(best, head - (-needed // p.hands) + tails[j])
    return best


def _pairs(p: Problem) -> Iterator[_Either]:
    """Yield the pairs that cannot run beside one another and whose order is open."""
    lags = [dict(pushed) for pushed in p.push]
    everybody = (1 << p.n) - 1
    for i in range(p.n):
        for j in bits(everybody & ~p.before[i] & ~p.chains.behind[i] & ~((2 << i) - 1)):
            one, other = lags[i].get(j), lags[j].get(i)
            if p.hands == 1 or (one is not None and other is not None):
                yield _Either(i, j, one or 0, j, i, other or 0)


def _windows(p: Problem) -> Iterator[_Either]:
    """Yield for each tag with one lifter the choice it leaves: before the hanging or after the lifting."""
    for j, windows in enumerate(p.windows):
        for hung, lifters in windows:
            h = hung.bit_length() - 1
            if h < p.n and len(lifters) == 1:
                yield _Either(j, h, 0, lifters[0], j, p.waits[lifters[0]])


def _thinkable(p: Problem, end: int, choices: list[_Either]) -> bool:
    """Whether nothing speaks against a day that ends at `end`."""
    heads, tails = p.heads[:], p.tails[:]
    ties = sorted(
        ((i, j, t.lag) for (i, j), t in p.chains.ties.items()), key=lambda t: p.before[t[0]].bit_count()
    )
    for _ in range(_PASSES):
        still: list[_Either] = []
        for e in choices:
            first = heads[e.a] + p.minutes[e.a] + e.lag + p.minutes[e.b] + tails[e.b] <= end
            second = heads[e.c] + p.minutes[e.c] + e.other + p.minutes[e.d] + tails[e.d] <= end
            if first and second:
                still.append(e)
            elif first or second:
                ties.append((e.a, e.b, e.lag) if first else (e.c, e.d, e.other))
            else:
                return False
        longer = _lengthened(p, heads, tails, ties)
        if max(_by_chain(p, heads, tails), _by_hands(p, heads, tails)) > end:
            return False
        if not longer and len(still) == len(choices):
            break
        choices = still
    return True


def _lengthened(p: Problem, heads: list[int], tails: list[int], ties: list[tuple[int, int, int]]) -> bool:
    """Lengthen the ways along the ties; return whether any has grown."""
    longer = False
    for _ in range(_PASSES):
        grown = False
        for i, j, lag in ties:
            if heads[i] + p.minutes[i] + lag > heads[j]:
                heads[j] = heads[i] + p.minutes[i] + lag
                grown = True
        for i, j, lag in reversed(ties):
            if lag + p.minutes[j] + tails[j] > tails[i]:
                tails[i] = lag + p.minutes[j] + tails[j]
                grown = True
        if not grown:
            break
        longer = True
    return longer
