"""Numbers and bits out of ties and rules: the last step before the search."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from shopcli.errors import Refused
from shopcli.worklists.planner.pairs import pushes, windows
from shopcli.worklists.planner.problem import GONE, LONG_AGO, Problem, Push
from shopcli.worklists.planner.seats import places_asked
from shopcli.worklists.planner.site import Site
from shopcli.worklists.planner.tasks import BY_HAND, COLD, WARM, Pin, PlanTask


def encode(
    site: Site,
    listed: Sequence[PlanTask],
    pins: Sequence[Pin],
    *,
    hands: int,
    start: int,
    late: frozenset[int],
) -> Problem:
    """Return the problem of a settled site."""
    tasks = site.tasks
    states = {state: k for k, state in enumerate((COLD, *site.states()))}
    unmet = [s for s in site.states() if s not in site.state.holds and not site.making[s]]
    release = _releases(site, listed, start)
    heads, tails = _reach(site, release)
    places = {place: k for k, place in enumerate(dict.fromkeys(t.place for t in tasks if t.place))}
    return Problem(
        tasks=tasks,
        chains=site.chains,
        hands=hands,
        start=start,
        place=[places.get(t.place, -1) for t in tasks],
        push=pushes(site, hands),
        windows=[windows(site, j) for j in range(len(tasks))],
        needs=[
            tuple(states[s] for s in t.needs if s in states and s not in unmet and _is_open(site, j, s))
            for j, t in enumerate(tasks)
        ],
        makes=[tuple(states[s] for s in t.makes if s in states) for t in tasks],
        ends=[tuple(states[s] for s in t.ends if s in states and s != COLD) for t in tasks],
        holds=[start + (0 if site.cold_now else site.cool_down), *_held(site, start)],
        release=release,
        people=_people(tasks, pins, hands),
        at=places_asked(site, pins),
        wants_warm=[WARM in t.needs and not t.fires and WARM not in unmet for t in tasks],
        ran=start if WARM in site.state.holds else LONG_AGO,
        cool_down=site.cool_down,
        heads=heads,
        tails=tails,
        notes=tuple(_notes(tasks, unmet)),
        late=late,
    )


def _held(site: Site, start: int) -> list[int]:
    return [start if state in site.state.holds else GONE for state in site.states()]


def _is_open(site: Site, j: int, state: str) -> bool:
    """Whether the ties alone do not see to it that the state holds when the turn of task `j` comes."""
    if site.in_hand(j) or state == COLD:
        return not site.in_hand(j)
    chains, enders = site.chains, [q for q in site.ending[state] if q != j]
    if state in site.state.holds and all(chains.is_before(j, q) for q in enders):
        return False
    tied = (p for p in site.making[state] if chains.lag(p, j) >= site.tasks[p].waits)
    return not any(
        all(chains.is_before(q, p) or chains.is_before(j, q) for q in enders if q != p) for p in tied
    )


def _notes(tasks: Sequence[PlanTask], unmet: Sequence[str]) -> Iterator[str]:
    for state in unmet:
        if state not in BY_HAND:
            first = next(t for t in tasks if state in t.needs)
            yield f'"{first.title}" needs {state}, and nothing on the list brings it about'


def _people(tasks: Sequence[PlanTask], pins: Sequence[Pin], hands: int) -> list[tuple[int, ...]]:
    anybody = tuple(range(hands))
    wished = {(pin.key, pin.number - 1) for pin in pins if pin.kind == "by"}
    wished |= {(t.key, t.in_hand_by - 1) for t in tasks if t.in_hand_by is not None}
    people = []
    for task in tasks:
        named = tuple(k for key, k in wished if key == task.key)
        if len(named) > 1:
            raise Refused(
                f'"{task.title}" is asked of two people, or is in the hands of another',
                hint="Leave it to one of them.",
            )
        people.append(named or anybody)
    return people


def _releases(site: Site, listed: Sequence[PlanTask], start: int) -> list[int]:
    """Return the earliest start of each task: waits that still run, an engine that has yet to cool."""
    waiting = {t.key: start + t.still_waits for t in listed if t.done}
    release = [start] * len(site.tasks)
    for j, task in enumerate(site.tasks):
        if site.in_hand(j):
            continue
        release[j] = max(start, *(waiting.get(key, start) for key in task.after), start)
        if COLD in task.needs and not site.cold_now and not site.may_cool(None, j):
            release[j] = max(release[j], start + site.cool_down)
    return release


def _reach(site: Site, release: Sequence[int]) -> tuple[list[int], list[int]]:
    """Return the longest way from the start to each task, and from the end of each to the end of all waits."""
    minutes = [t.minutes for t in site.tasks]
    heads, tails = list(release), [t.waits for t in site.tasks]
    order = sorted(range(len(minutes)), key=lambda j: site.chains.before[j].bit_count())
    behind: dict[int, list[Push]] = defaultdict(list)
    for (i, j), tie in site.chains.ties.items():
        behind[i].append((j, tie.lag))
    for i in order:
        for j, lag in behind[i]:
            heads[j] = max(heads[j], heads[i] + minutes[i] + lag)
    for i in reversed(order):
        tails[i] = max((lag + minutes[j] + tails[j] for j, lag in behind[i]), default=0)
        tails[i] = max(tails[i], site.tasks[i].waits)
    return heads, tails
