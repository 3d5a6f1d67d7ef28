"""The order of work: the one door to the planner.

Draining, soaking, charging, cooling and curing need no hands. What sets them going is done as early as it can
be, the rest is done meanwhile, and among the orders that finish earliest the one that walks least is taken.
"""

from collections.abc import Sequence
from dataclasses import replace

from shopcli.errors import Refused
from shopcli.worklists.planner.bound import lower_bound
from shopcli.worklists.planner.build import Ask, Missing, build, see_it_is_sound, without_parts
from shopcli.worklists.planner.corner import any_order
from shopcli.worklists.planner.day import Timed
from shopcli.worklists.planner.exact import best_order
from shopcli.worklists.planner.problem import Problem
from shopcli.worklists.planner.result import LeftOut, Plan, Step
from shopcli.worklists.planner.search import by_rules_of_thumb, good_day
from shopcli.worklists.planner.tasks import Pin, PlanTask, State
from shopcli.worklists.planner.why import reasons, waits_of

COOL_DOWN_MIN = 120  # common practice, no source
EXACT_UP_TO = 9


def plan(
    tasks: Sequence[PlanTask],
    *,
    hands: int = 1,
    start_min: int = 0,
    pins: Sequence[Pin] = (),
    state: State | None = None,
    cool_down_min: int = COOL_DOWN_MIN,
    missing: Missing = "last",
) -> Plan:
    """Return the order of work that finishes earliest and, among those, walks least.

    Parameters
    ----------
    tasks : sequence of PlanTask
        As listed; done ones only leave their states behind.
    hands : int, optional
        How many people work on the car, [-]
    start_min : int, optional
        When work begins, on any scale of minutes, [min]
    pins : sequence of Pin, optional
        A person's own wishes.
    state : State, optional
        The car as it stands now. Without it: cold, on its wheels, and what the done tasks have left.
    cool_down_min : int, optional
        How long an engine that has run stands until it counts as cold, [min]
    missing : {"last", "out"}, optional
        Whether a task whose parts are not here goes last or is left out, with everything that waits for it.

    Returns
    -------
    Plan
        Best of all orders for up to 9 tasks; above that a good one, with the bound no order can beat.

    Raises
    ------
    BadInput
        If tasks wait for one another in a circle, or something asked for does not exist.
    Refused
        If a wish cannot be met; the message names the chain against it.

    Examples
    --------
    >>> drain = PlanTask("drain", "Drain the oil", 5, 30, "under the car")
    >>> points = PlanTask("points", "Set the points", 20, 0, "engine bay")
    >>> done = plan([points, drain])
    >>> [(s.key, s.start_min) for s in done.steps], done.elapsed_min, done.top_to_bottom_min
    ([('drain', 0), ('points', 5)], 35, 55)
    >>> done.steps[0].why
    'started first: draining runs 30 min beside other work'
    """
    now = State().left_by(tasks) if state is None else state
    ask = Ask(tuple(tasks), hands, start_min, tuple(pins), now, cool_down_min, missing)
    see_it_is_sound(ask)
    out = without_parts(ask)
    problem, day, low = _solved(ask, out)
    return Plan(
        steps=_steps(problem, day, ask),
        elapsed_min=day.cost.end - start_min,
        hands_on_min=sum(problem.minutes),
        walks=day.cost.walks,
        lower_bound_min=low - start_min,
        top_to_bottom_min=_listed(replace(ask, pins=()), out),
        waits=waits_of(problem, day, ask),
        left_out=tuple(LeftOut(key, why) for key, why in out.items()),
        notes=problem.notes,
        proved=low == day.cost.end,
        hands=hands,
        start_min=start_min,
        state=now,
        pins=ask.pins,
        cool_down_min=cool_down_min,
    )


def top_to_bottom(
    tasks: Sequence[PlanTask],
    *,
    hands: int = 1,
    state: State | None = None,
    cool_down_min: int = COOL_DOWN_MIN,
) -> int:
    """Return how long the list takes in its listed order, waiting as it comes, [min].

    What is barred when its turn comes is done as soon as it is not; what cannot be done at all is not counted.
    """
    now = State().left_by(tasks) if state is None else state
    ask = Ask(tuple(tasks), hands, 0, (), now, cool_down_min, "last")
    see_it_is_sound(ask)
    return _listed(ask, {})


def _listed(ask: Ask, out: dict[str, str]) -> int:
    problem = build(replace(ask, as_listed=True), dict(out))
    day = any_order(problem).day or min(by_rules_of_thumb(problem), default=None)
    return day.cost.end - ask.start if day else 0


def _solved(ask: Ask, out: dict[str, str]) -> tuple[Problem, Timed, int]:
    """Return the problem, its day and the end no day beats; a task that finds no room in any order is left out."""
    while True:
        problem = build(ask, out)
        days = by_rules_of_thumb(problem)
        corner = None if days else any_order(problem)
        if corner and corner.day:
            days = [corner.day]
        if problem.n <= EXACT_UP_TO:
            day = best_order(problem, min(days, default=None))
            if day is not None:
                return problem, day, day.cost.end
        elif days:
            low = lower_bound(problem, min(days).cost.end)
            return problem, good_day(problem, days, low), low
        _see_wishes_are_not_to_blame(ask, out)
        stuck = problem.tasks[corner.stuck if corner else 0]
        out[stuck.key] = (
            f'"{stuck.title}" finds no place among the rest: a tag bars it or its state is lacking'
        )


def _see_wishes_are_not_to_blame(ask: Ask, out: dict[str, str]) -> None:
    for pin in ask.pins:
        rest = replace(ask, pins=tuple(other for other in ask.pins if other != pin))
        if any_order(build(rest, dict(out))).day is not None:
            title = next(task.title for task in ask.tasks if task.key == pin.key)
            raise Refused(
                f'no order of the rest leaves room for what is asked of "{title}": a tag or a state stands against it',
                hint="Take that wish back, or put it elsewhere.",
            )


def _steps(p: Problem, day: Timed, ask: Ask) -> tuple[Step, ...]:
    why = reasons(p, day, ask)
    steps = []
    for j, who, start in zip(day.order, day.people, day.starts, strict=True):
        task, end = p.tasks[j], start + p.minutes[j]
        steps.append(Step(task.key, who + 1, start, end, end + task.waits, why[j], task.title, task.place))
    return tuple(sorted(steps, key=lambda step: step.start_min))
