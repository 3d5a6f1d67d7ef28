"""The rules of the trade as ties: what a state, a tag, a cold engine or a missing part puts before what.

A rule adds only what is certain. Where two orders are both right (before the tag is hung, or after it is
lifted) it adds nothing, and the search decides.
"""

from shopcli.worklists.planner.chains import Contradiction, bits
from shopcli.worklists.planner.site import Site
from shopcli.worklists.planner.tasks import COLD


def states_hold(site: Site) -> bool:
    """Put each task that needs a state after what brings it about and before what ends it.

    Returns
    -------
    bool
        Whether anything was added.

    Raises
    ------
    Contradiction
        If the state is brought about only by tasks that come later.
    """
    changed = False
    for state in site.states():
        makers = site.making[state]
        held = state in site.state.holds
        if not makers and not held:
            continue  # nothing on the list can do anything about it: the plan notes it
        for j in site.needing[state]:
            others = [p for p in makers if p != j]
            if not held and others:
                changed |= _brought_about(site, j, state, others)
            for q in site.ending[state]:
                if q != j:
                    changed |= _not_ended(site, j, q, state, others)
    return changed


def _brought_about(site: Site, j: int, state: str, makers: list[int]) -> bool:
    able = [p for p in makers if not site.chains.is_before(j, p)]
    if not able:
        raise site.chains.circle(makers[0], j, "needs", state)
    return len(able) == 1 and _after_maker(site, able[0], j, state)


def _after_maker(site: Site, maker: int, j: int, state: str) -> bool:
    return site.chains.tie(maker, j, "needs", lag=site.tasks[maker].waits, what=state)


def _not_ended(site: Site, j: int, q: int, state: str, makers: list[int]) -> bool:
    """See that what ends the state comes after the task, or that the state comes back in between."""
    chains = site.chains
    again = [p for p in makers if p != q and not chains.is_before(p, q) and not chains.is_before(j, p)]
    if not chains.is_before(q, j):
        return not again and chains.tie(j, q, "ends", what=state)
    if not again:
        raise chains.circle(j, q, "ends", state, blame=j)
    if len(again) > 1:
        return False
    tied = chains.tie(q, again[0], "again", what=state)
    return _after_maker(site, again[0], j, state) or tied


def tags_clear(site: Site) -> bool:
    """Put each task a tag bars before the hanging or after the lifting, where only one of them is possible.

    Returns
    -------
    bool
        Whether anything was added.

    Raises
    ------
    Contradiction
        If neither is.
    """
    changed = False
    for tag in tuple(site.barred_by):
        barred = site.barred_by[tag]
        if tag in site.state.tags:
            lifters = site.lifting[tag]
            for j in barred:
                changed |= _after_one(site, j, lifters, f"{tag} hangs at the start")
        for h in site.hanging[tag]:
            lifters = site.lifters_of(h, tag)
            if len(lifters) == 1:
                changed |= site.chains.tie(h, lifters[0], "tag", what=f"it hangs {tag}, the other lifts it")
            for j in barred:
                if j != h and j not in lifters:
                    changed |= _clear_of(site, j, h, tag, lifters)
    return changed


def _clear_of(site: Site, j: int, h: int, tag: str, lifters: list[int]) -> bool:
    chains = site.chains
    if chains.is_before(j, h):
        return False
    if chains.is_before(h, j):
        return _after_one(site, j, lifters, f'{tag} hangs from "{site.tasks[h].title}" on')
    if all(chains.is_before(j, lifter) for lifter in lifters):
        return chains.tie(j, h, "tag", what=f"{tag}, hung by the second, bars the first")
    return False


def _after_one(site: Site, j: int, lifters: list[int], since: str) -> bool:
    chains = site.chains
    able = [k for k in lifters if k != j and not chains.is_before(j, k)]
    if not able:
        title = site.tasks[j].title
        if not lifters:
            raise Contradiction(j, f'"{title}" is barred: {since}, and nothing on the list lifts it')
        raise chains.circle(lifters[0], j, "tag", f"{since} and only the first lifts it")
    if len(able) > 1:
        return False
    return chains.tie(
        able[0], j, "tag", lag=site.tasks[able[0]].waits, what=f"{since}, and the first lifts it"
    )


def car_leaves_last(site: Site) -> None:
    """Put handing the car over behind everything else, as far as nothing is said to come after it."""
    leaving = [j for j, task in enumerate(site.tasks) if task.hands_over]
    for j in leaving:
        for i, task in enumerate(site.tasks):
            if i not in leaving and not site.chains.is_before(j, i):
                site.chains.tie(i, j, "leaves", lag=task.waits)


def parts_last(site: Site, asked: frozenset[str]) -> frozenset[int]:
    """Put what its parts are missing for, and all that waits for it, behind the rest; return which.

    What a person has put somewhere by name (`asked`) stays there.
    """
    lacking = [
        j for j, t in enumerate(site.tasks) if t.parts_missing and t.key not in asked and not site.in_hand(j)
    ]
    late = 0
    for j in lacking:
        late |= 1 << j | site.chains.behind[j]
    sources = [j for j in bits(late) if not site.chains.before[j] & late]
    rest = (1 << len(site.tasks)) - 1 & ~late
    ends = [j for j in bits(rest) if not site.chains.behind[j] & rest]
    for i in ends:
        for j in sources:
            if not site.chains.is_before(j, i):
                site.chains.tie(i, j, "parts")
    return frozenset(bits(late))


def cold_first(site: Site, *, whenever_possible: bool) -> None:
    """Put cold work before warm-up; where warm-up is bound to come first, let the engine cool in between.

    An engine that has stood for two hours is second best to one left overnight, so the cool-down is used only
    where there is no other way: that is `whenever_possible`. Without it only the cool-downs are added.
    """
    warmers = [w for w, task in enumerate(site.tasks) if task.warms]
    for j in site.needing[COLD]:
        earlier = [w for w in warmers if w != j and site.chains.is_before(w, j)]
        for w in earlier:
            if not site.may_cool(w, j):
                site.chains.tie(w, j, "cools", lag=site.tasks[w].waits + site.cool_down)
        if whenever_possible and site.cold_now and not earlier:
            for w in warmers:
                if w != j:
                    site.chains.tie(j, w, "cold")
