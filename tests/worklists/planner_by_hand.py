"""Plans found the slow, plain way: every order of the tasks and every hand, or every minute each could start.

Nothing is shared with the search but the description of a task.
"""

from dataclasses import replace
from itertools import permutations, product

from shopcli.worklists.planner import Step

OPPOSITE = {"car raised": "car on its wheels", "car on its wheels": "car raised"}
PAIRS = {**OPPOSITE, "engine cold": "engine warm", "engine warm": "engine cold"}


def best_of_all(tasks, hands, cool):
    """Return the least (end, walks) over every order and every sharing out, or None when no order keeps the rules."""
    best = None
    for order in permutations(range(len(tasks))):
        if any(tasks[i].key in tasks[j].after for k, j in enumerate(order) for i in order[k + 1 :]):
            continue
        for people in product(range(hands), repeat=len(tasks)):
            if people[0]:
                continue  # people are alike: the first task is the first person's
            cost = _carried_out(tasks, order, people, hands, cool)
            if cost is not None and (best is None or cost < best):
                best = cost
    return best


def _carried_out(tasks, order, people, hands, cool):
    free, done, walks, stands = [0] * hands, [], 0, [""] * hands
    for j, who in zip(order, people, strict=True):
        task = tasks[j]
        ready = _ready(task, done, cool)
        if ready is None:
            return None
        start = max(free[who], ready)
        free[who] = start + task.minutes
        done.append((task, start, free[who], free[who] + task.waits))
        if task.place:
            walks += stands[who] not in {"", task.place}
            stands[who] = task.place
    return max(over for *_, over in done), walks


def _ready(task, done, cool):
    """Return the earliest start of a task after what is done in this order, or None when it may not come now."""
    times = [0]
    for other, _, end, over in done:
        if other.hands_over and not task.hands_over:
            return None
        if other.key in task.after or task.hands_over or (other.turns and task.shuns_running):
            times.append(over)
        if other.warms and "engine cold" in task.makes:
            times.append(over)
        if (
            (other.shuns_running and task.turns)
            or (other.moves_car and task.place != "bench")
            or (task.moves_car and other.place != "bench")
            or ("engine cold" in other.needs and task.warms)
            or any(_ends(task, state) for state in other.needs)
            or any(_ends(other, state) for state in task.makes)
            or set(task.hangs) & set(other.barred)
        ):
            times.append(end)
    times += [_since(state, done, cool) for state in task.needs]
    times += [_clear(tag, done) for tag in task.barred]
    return None if None in times else max(times)


def _ends(task, state):
    if state in task.makes or state == "engine cold":
        return False
    return (state == "engine warm" and "engine cold" in task.needs) or any(
        PAIRS.get(made) == state for made in task.makes
    )


def _since(state, done, cool):
    """Return since when a state holds, or None."""
    if state == "engine cold":
        return _cold_since(done, cool)
    if state == "ignition off":
        return 0
    at = 0 if state == "car on its wheels" else None
    for other, _, _, over in done:
        if _ends(other, state):
            at = None
        if state in other.makes:
            at = over if at is None else min(at, over)
    return at


def _cold_since(done, cool):
    at = 0
    for other, _, _, over in done:
        if other.warms:
            at = max(at, over + cool)
        if "engine cold" in other.makes:
            at = min(at, over)
    return at


def _clear(tag, done):
    """Return since when a tag is off, or None."""
    at = 0
    for other, _, _, over in done:
        if tag in other.hangs:
            at = None
        if tag in other.lifts:
            at = over
    return at


def better_minute_by_minute(plan, tasks, check):
    """Return a plan that `check` finds nothing wrong with and that is better, by trying every minute; else None."""
    last = [range(plan.elapsed_min - t.minutes - t.waits + 1) for t in tasks]
    for starts in product(*last):
        for people in product(range(1, plan.hands + 1), repeat=len(tasks)):
            tried = _as_plan(plan, tasks, starts, people)
            better = tried is not None and (tried.elapsed_min, tried.walks) < (plan.elapsed_min, plan.walks)
            if better and not check(tried, tasks):
                return tried
    return None


def _as_plan(plan, tasks, starts, people):
    rows = sorted(zip(starts, people, tasks, strict=True), key=lambda row: (row[0], row[1]))
    walks, free, stands = 0, {}, {}
    for start, who, task in rows:
        if start < free.get(who, 0):
            return None
        free[who] = start + task.minutes
        if task.place:
            walks += stands.get(who, task.place) != task.place
            stands[who] = task.place
    ends = {task.key: start + task.minutes + task.waits for start, _, task in rows}
    begins = {task.key: start for start, _, task in rows}
    if any(begins[t.key] < ends[k] for t in tasks for k in t.after):
        return None
    steps = tuple(
        Step(t.key, who, start, start + t.minutes, start + t.minutes + t.waits, "", t.title, t.place)
        for start, who, t in rows
    )
    elapsed = max(ends.values())
    return replace(plan, steps=steps, elapsed_min=elapsed, walks=walks, lower_bound_min=0, proved=False)
