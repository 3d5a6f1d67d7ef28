"""Which tasks cannot run beside one another, and which push each other back, whichever comes first.

With one pair of hands most of this is true by itself; with two it keeps a person from under a car whose
engine the other starts.
"""

from collections.abc import Iterator

from shopcli.worklists.planner.problem import Push, Window
from shopcli.worklists.planner.site import Site
from shopcli.worklists.planner.tasks import BENCH, COLD

Pushed = tuple[int, int, int]  # first, second, minutes between the end of one and the start of the other


def pushes(site: Site, hands: int) -> list[list[Push]]:
    """Return for each task whom it pushes back when it comes first, each once and only where it tells."""
    chains = site.chains
    lags: dict[tuple[int, int], int] = {pair: tie.lag for pair, tie in chains.ties.items()}
    for rule in (_running, _moving, _state_pairs, _tag_pairs, _cold_pairs):
        for i, j, lag in rule(site):
            if i != j and not site.in_hand(j) and not chains.is_before(j, i):
                lags[i, j] = max(lag, lags.get((i, j), lag))
    push: list[list[Push]] = [[] for _ in site.tasks]
    for (i, j), lag in lags.items():
        between = chains.behind[i] & chains.before[j]
        if lag or (hands > 1 and (site.in_hand(i) or not between)):
            push[i].append((j, lag))
    return push


def _running(site: Site) -> Iterator[Pushed]:
    """Nobody works under the car, jacks it or has the ignition apart while the engine turns."""
    for i, runs in enumerate(site.tasks):
        if runs.turns:
            for j, other in enumerate(site.tasks):
                if other.shuns_running:
                    yield i, j, runs.waits
                    yield j, i, 0


def _moving(site: Site) -> Iterator[Pushed]:
    """Nobody has hands in a car that is raised, let down or driven; the bench does not mind."""
    for i, moves in enumerate(site.tasks):
        if moves.moves_car:
            for j, other in enumerate(site.tasks):
                if other.place != BENCH:
                    yield i, j, 0
                    yield j, i, 0


def _state_pairs(site: Site) -> Iterator[Pushed]:
    """What ends a state comes after those who still need it, and bringing it back after what has ended it."""
    for state in site.states():
        enders = site.ending[state]
        for j, task in enumerate(site.tasks):
            if state in task.needs:
                yield from ((j, q, 0) for q in enders)
        yield from ((q, p, 0) for q in enders for p in site.making[state])


def _tag_pairs(site: Site) -> Iterator[Pushed]:
    """A tag is hung when those it bars are through, and lifted when it hangs; the windows see to the rest."""
    for j, task in enumerate(site.tasks):
        for tag in task.barred:
            yield from ((j, h, 0) for h in site.hanging[tag])
    for tag, hangers in site.hanging.items():
        yield from ((h, k, 0) for h in hangers for k in site.lifting[tag])


def _cold_pairs(site: Site) -> Iterator[Pushed]:
    """Warm-up waits for cold work, and cooling for the engine to stop; how long it cools, the day looks."""
    for w, warmer in enumerate(site.tasks):
        if warmer.warms:
            yield from ((j, w, 0) for j, task in enumerate(site.tasks) if COLD in task.needs)
            yield from ((w, k, warmer.waits) for k in site.making[COLD])


def windows(site: Site, j: int) -> list[Window]:
    """Return the tags that still leave a choice to task `j`: bits of who hangs each, and who lifts it."""
    if site.in_hand(j):
        return []
    found = []
    for tag in site.tasks[j].barred:
        hangers = [(h, site.lifters_of(h, tag)) for h in site.hanging[tag] if h != j]
        hangers = [(h, lifters) for h, lifters in hangers if not site.chains.is_before(j, h)]
        if tag in site.state.tags:
            hangers.append((len(site.tasks), site.lifting[tag]))  # the bit that stands for the start
        for h, lifters in hangers:
            if not any(site.chains.lag(k, j) >= site.tasks[k].waits for k in lifters):
                found.append((1 << h, tuple(k for k in lifters if k != j)))
    return list(dict.fromkeys(found))
