"""A plan gone over by somebody who did not make it: every rule once more, from the times alone.

Nothing here is shared with the search. What the search proves by construction is looked at as a foreman would
look at a day's sheet: who is under the car when the engine runs, what is cranked while the sump is dry.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shopcli.worklists.planner.result import RULES_EASED, Plan, Step
from shopcli.worklists.planner.tasks import BENCH, COLD, WARM, Pin, PlanTask
from shopcli.worklists.words import OPPOSITES

_FOREVER = 10**9


def check(plan: Plan, tasks: Sequence[PlanTask]) -> list[str]:
    """Return what is wrong with a plan, in sentences; nothing when it keeps every rule.

    Parameters
    ----------
    plan : Plan
        As made.
    tasks : sequence of PlanTask
        The list it was made for.
    """
    sheet = _Sheet(plan, {task.key: task for task in tasks}, {step.key: step for step in plan.steps})
    wrong = list(_complete(sheet))
    if wrong:
        return wrong
    for rule in (_hands, _after, _states, _cold, _tags, _beside, _leaving, _pins, _in_hand, _parts, _figures):
        wrong += rule(sheet)
    return wrong


@dataclass(frozen=True)
class _Sheet:
    plan: Plan
    tasks: dict[str, PlanTask]
    steps: dict[str, Step]

    def rows(self) -> Iterator[tuple[PlanTask, Step]]:
        """Yield task and step together."""
        for key, step in self.steps.items():
            yield self.tasks[key], step

    def bound(self) -> Iterator[tuple[PlanTask, Step]]:
        """Yield what rules bind: not what was in hand before the plan was made."""
        return ((task, step) for task, step in self.rows() if task.in_hand_by is None)

    def waits_for(self, key: str) -> set[str]:
        """Return all a task waits for, directly or not."""
        found: set[str] = set()
        todo = list(self.tasks[key].after)
        while todo:
            other = todo.pop()
            if other in self.tasks and other not in found and other != key:
                found.add(other)
                todo += self.tasks[other].after
        return found


def _complete(sheet: _Sheet) -> Iterator[str]:
    out = {gone.key for gone in sheet.plan.left_out}
    wanted = {key for key, task in sheet.tasks.items() if not task.done} - out
    keys = [step.key for step in sheet.plan.steps]
    if sorted(keys) != sorted(wanted):
        yield f"steps and tasks differ: {sorted(wanted.symmetric_difference(keys))}"
    for key in wanted:
        for other in sheet.tasks[key].after:
            if other in out and sheet.tasks[key].in_hand_by is None:
                yield f"{key} is planned though it waits for {other}, which is left out"


def _hands(sheet: _Sheet) -> Iterator[str]:
    for task, step in sheet.rows():
        if step.end_min != step.start_min + task.minutes or step.free_at_min != step.end_min + task.waits:
            yield f"{task.key} has other times than its task"
        if step.start_min < sheet.plan.start_min or not 1 <= step.person <= sheet.plan.hands:
            yield f"{task.key} is before the start or by nobody"
    for person in range(1, sheet.plan.hands + 1):
        own = sorted((s.start_min, s.end_min, s.key) for s in sheet.plan.steps if s.person == person)
        for (_, end, key), (start, _, other) in pairwise(own):
            if start < end:
                yield f"person {person} has {key} and {other} at once"


def _after(sheet: _Sheet) -> Iterator[str]:
    for task, step in sheet.bound():
        for key in task.after:
            other = sheet.tasks.get(key)
            if key == task.key or other is None:
                continue
            free = sheet.plan.start_min + other.still_waits if other.done else sheet.steps[key].free_at_min
            if step.start_min < free:
                yield f"{task.key} begins before {key} is over"


def _ends(task: PlanTask, state: str) -> bool:
    if state in task.makes:
        return False
    chilled = state == WARM and COLD in task.needs
    return chilled or state in task.lifts or any(OPPOSITES.get(made) == state for made in task.makes)


def _states(sheet: _Sheet) -> Iterator[str]:
    for task, step in sheet.bound():
        for state in task.needs:
            others = [(t, s) for t, s in sheet.rows() if t.key != task.key]
            makers = [s for t, s in others if state in t.makes]
            at_start = state in sheet.plan.state.holds
            if state == COLD or not (makers or at_start):
                continue
            if not makers and not at_start and state in task.makes:
                continue
            enders = [s for t, s in others if _ends(t, state)]
            since = [m.start_min for m in makers if m.free_at_min <= step.start_min]
            since += [-_FOREVER] if at_start else []
            if not any(all(q.start_min >= step.end_min or q.end_min <= at for q in enders) for at in since):
                yield f"{task.key} needs {state}, which does not hold at {step.start_min}"


def _cold(sheet: _Sheet) -> Iterator[str]:
    wait = sheet.plan.cool_down_min
    for task, step in sheet.bound():
        if COLD not in task.needs:
            continue
        coolers = [s for t, s in sheet.rows() if COLD in t.makes and s.free_at_min <= step.start_min]
        if (
            COLD not in sheet.plan.state.holds
            and not coolers
            and step.start_min < sheet.plan.start_min + wait
        ):
            yield f"{task.key} begins on an engine that was not cold at the start"
        for other, warm in sheet.rows():
            if not other.warms or other.key == task.key or warm.start_min >= step.end_min:
                continue
            cooled = any(warm.free_at_min <= k.start_min for k in coolers)
            if not cooled and step.start_min < warm.free_at_min + wait:
                yield f"{task.key} begins on an engine {other.key} has warmed"


def _tags(sheet: _Sheet) -> Iterator[str]:
    for task, step in sheet.bound():
        for tag in task.barred:
            for hung, clear in _hanging(sheet, tag, task.key):
                if step.end_min > hung and step.start_min < clear:
                    yield f"{task.key} is barred by {tag}, hanging from {hung} to {clear}"


def _hanging(sheet: _Sheet, tag: str, but: str) -> Iterator[tuple[int, int]]:
    """Yield from when to when a tag hangs: until the first lifting after."""
    lifters = [(t.key, s) for t, s in sheet.rows() if tag in t.lifts]
    if tag in sheet.plan.state.tags:
        yield -_FOREVER, min((s.free_at_min for _, s in lifters), default=_FOREVER)
    for task, step in sheet.rows():
        if tag in task.hangs and task.key != but:
            later = [s for k, s in lifters if k != task.key and s.start_min >= step.end_min]
            yield step.start_min, min((s.free_at_min for s in later), default=_FOREVER)


def _beside(sheet: _Sheet) -> Iterator[str]:
    rows = list(sheet.rows())
    for one, step in rows:
        for other, its in rows:
            if one.key == other.key or (one.in_hand_by is not None and other.in_hand_by is not None):
                continue
            if one.turns and other.shuns_running and _meet(step, step.free_at_min, its):
                yield f"{other.key} is done while the engine turns for {one.key}"
            if one.moves_car and other.place != BENCH and _meet(step, step.end_min, its):
                yield f"{other.key} is done while {one.key} moves the car"


def _meet(step: Step, until: int, other: Step) -> bool:
    return not (other.start_min >= until or step.start_min >= other.end_min)


def _leaving(sheet: _Sheet) -> Iterator[str]:
    for task, step in sheet.bound():
        for other, its in sheet.rows() if task.hands_over else ():
            later = other.hands_over or task.key in sheet.waits_for(other.key)
            if not later and its.free_at_min > step.start_min:
                yield f"the car leaves with {task.key} before {other.key} is over"


def _pins(sheet: _Sheet) -> Iterator[str]:
    starts = [s.start_min for t, s in sheet.bound()]
    for pin in sheet.plan.pins:
        step = sheet.steps.get(pin.key)
        if step is not None and not _kept(sheet, pin, step, starts):
            yield f"{pin} is not kept"


def _kept(sheet: _Sheet, pin: Pin, step: Step, starts: list[int]) -> bool:
    if pin.kind == "by":
        return step.person == pin.number
    if pin.kind == "before":
        return pin.other not in sheet.steps or step.end_min <= sheet.steps[pin.other].start_min
    place = len(starts) if pin.kind == "last" else pin.number
    earlier, later = (sum(s < step.start_min for s in starts), sum(s > step.start_min for s in starts))
    return earlier <= place - 1 and later <= len(starts) - place


def _in_hand(sheet: _Sheet) -> Iterator[str]:
    for task, step in sheet.rows():
        if task.in_hand_by is not None:
            own = (s for t, s in sheet.bound() if s.person == step.person)
            if step.person != task.in_hand_by or any(s.start_min < step.start_min for s in own):
                yield f"{task.key} is in hand and does not come first"


def _parts(sheet: _Sheet) -> Iterator[str]:
    """See that what no rule ties to a missing part is done before the part is needed."""
    asked = {pin.key for pin in sheet.plan.pins if pin.kind != "by"}
    lacking = {k for k in sheet.steps if sheet.tasks[k].parts_missing and sheet.tasks[k].in_hand_by is None}
    tied = asked | lacking | {pin.other for pin in sheet.plan.pins}
    tied |= {key for key, task in sheet.tasks.items() if _ruled(task)}
    for key in lacking - asked if RULES_EASED not in sheet.plan.notes else ():
        for other, its in sheet.bound():
            free = not (sheet.waits_for(other.key) | {other.key}) & tied
            if free and its.end_min > sheet.steps[key].start_min:
                yield f"{key} lacks parts and does not wait for {other.key}"


def _ruled(task: PlanTask) -> bool:
    return bool(task.needs or task.makes or task.barred or task.hangs or task.lifts or task.acts)


def _figures(sheet: _Sheet) -> Iterator[str]:
    plan = sheet.plan
    if plan.elapsed_min != max((s.free_at_min for s in plan.steps), default=plan.start_min) - plan.start_min:
        yield "the elapsed time is not that of the steps"
    if plan.hands_on_min != sum(sheet.tasks[s.key].minutes for s in plan.steps):
        yield "the hands-on time is not that of the tasks"
    if plan.lower_bound_min > plan.elapsed_min or (plan.proved and plan.lower_bound_min != plan.elapsed_min):
        yield "the lower bound is above the plan"
    walks = 0
    for person in range(1, plan.hands + 1):
        places = [sheet.tasks[s.key].place for s in plan.steps if s.person == person]
        places = [place for place in places if place]
        walks += sum(a != b for a, b in pairwise(places))
    if walks != plan.walks:
        yield f"{walks} walks, the plan says {plan.walks}"
