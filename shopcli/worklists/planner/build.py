"""From tasks, wishes and the car as it stands to the problem the search works on.

What cannot be done as the car stands is left out here with its reason, and a wish that contradicts the rules
is refused with the chain that stands against it.
"""

from dataclasses import dataclass
from typing import Literal

from shopcli.errors import BadInput, Refused
from shopcli.worklists.planner.chains import Contradiction
from shopcli.worklists.planner.encode import encode
from shopcli.worklists.planner.problem import Problem
from shopcli.worklists.planner.result import RULES_EASED
from shopcli.worklists.planner.rules import car_leaves_last, cold_first, parts_last, states_hold, tags_clear
from shopcli.worklists.planner.site import Site
from shopcli.worklists.planner.tasks import Pin, PlanTask, State

Missing = Literal["last", "out"]


@dataclass(frozen=True, slots=True)
class Ask:
    """Everything a plan is asked with."""

    tasks: tuple[PlanTask, ...]
    hands: int
    start: int
    pins: tuple[Pin, ...]
    state: State
    cool_down: int
    missing: Missing
    as_listed: bool = False


def build(ask: Ask, out: dict[str, str]) -> Problem:
    """Return the problem; what cannot be done as the car stands is added to `out` with its reason.

    Raises
    ------
    BadInput
        If tasks wait for one another in a circle.
    Refused
        If a wish cannot be met; the message names the chain against it.
    """
    careful = not ask.as_listed
    while True:
        _add_dependents(ask, out)
        try:
            problem = _build(ask, out, careful=careful)
        except Contradiction as found:
            if {"cold", "parts"} & found.kinds and careful:
                careful = (
                    False  # rather a cool-down, or a part that must be here earlier, than no work at all
                )
                continue
            if "asked" in found.kinds:
                said = f"that order is not possible: {found.chain}"
                raise Refused(said, hint="Take one of the wishes back.") from found
            left = [task for task in ask.tasks if not task.done and task.key not in out]
            out[left[found.task].key] = found.chain
        else:
            problem.notes += () if careful or ask.as_listed else (RULES_EASED,)
            return problem


def see_it_is_sound(ask: Ask) -> None:
    """Refuse what cannot be meant.

    Raises
    ------
    BadInput
        If something asked for does not exist, or a key is on the list twice.
    """
    keys = [task.key for task in ask.tasks]
    if ask.hands < 1:
        raise BadInput(f"a plan for {ask.hands} people", hint="One person at least.")
    if len(set(keys)) < len(keys):
        twice = next(k for k in keys if keys.count(k) > 1)
        raise BadInput(f'"{twice}" is on the list twice', hint="Give every task a key of its own.")
    open_keys = {task.key for task in ask.tasks if not task.done}
    for pin in ask.pins:
        for key in filter(None, (pin.key, pin.other)):
            if key not in open_keys:
                raise BadInput(f'"{key}" is not on the list or is done', hint="Choose one of the open tasks.")
    people = [t.in_hand_by for t in ask.tasks if t.in_hand_by is not None and not t.done]
    people += [pin.number for pin in ask.pins if pin.kind == "by"]
    for person in people:
        if not 1 <= person <= ask.hands:
            raise BadInput(f"person {person} of {ask.hands}", hint=f"People count from 1 to {ask.hands}.")


def without_parts(ask: Ask) -> dict[str, str]:
    """Return what is left out because its parts are not here."""
    return {
        task.key: f"parts missing: {', '.join(task.parts_missing)}"
        for task in ask.tasks
        if ask.missing == "out" and task.parts_missing and not task.done and task.in_hand_by is None
    }


def _add_dependents(ask: Ask, out: dict[str, str]) -> None:
    titles = {task.key: task.title for task in ask.tasks}
    while True:
        more = {
            task.key: f'waits for "{titles[key]}", which is left out'
            for task in ask.tasks
            for key in task.after
            if key in out and task.key not in out and not task.done and task.in_hand_by is None
        }
        if not more:
            return
        out.update(more)


def _build(ask: Ask, out: dict[str, str], *, careful: bool) -> Problem:
    tasks = [task for task in ask.tasks if not task.done and task.key not in out]
    site = Site(tasks, ask.state, ask.cool_down)
    _tie_the_list(site)
    car_leaves_last(site)
    pins = [pin for pin in ask.pins if pin.key not in out and pin.other not in out]
    for pin in pins:
        if pin.kind == "before":
            site.chains.tie(site.number[pin.key], site.number[pin.other], "asked")
    _settle(site)
    asked = frozenset(pin.key for pin in pins if pin.kind != "by")
    late = parts_last(site, asked) if careful else frozenset()
    _settle(site)
    cold_first(site, whenever_possible=careful)
    _settle(site)
    return encode(site, ask.tasks, pins, hands=ask.hands, start=ask.start, late=late)


def _tie_the_list(site: Site) -> None:
    for j, task in enumerate(site.tasks):
        for key in () if site.in_hand(j) else task.after:
            i = site.number.get(key)
            if i is not None and i != j:
                try:
                    site.chains.tie(i, j, "after", lag=site.tasks[i].waits)
                except Contradiction as circle:
                    raise BadInput(
                        f"the tasks wait for one another: {circle.chain}",
                        hint="Take one of these out of `after` in its job template.",
                    ) from circle


def _settle(site: Site) -> None:
    """Apply the rules until they have nothing more to say: one tie may make another certain."""
    while states_hold(site) | tags_clear(site):
        pass
