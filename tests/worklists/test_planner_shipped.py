"""The shipped jobs planned: whatever hangs on the car, no task needs something a later one provides."""

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.worklists.expand import applicable
from shopcli.worklists.planner import State, check, plan, top_to_bottom
from shopcli.worklists.sheets import facts
from tests.worklists.planner_cases import LIBRARY, shipped

DEMOS = ("demo-lark-1200", "demo-brindle-1600", "demo-corvane-24", "demo-hallam-35")
FITS = {demo: sorted(t.name for t in applicable(LIBRARY, facts(LIBRARY, demo))) for demo in DEMOS}
SERVICE = "engine-service"
FLAT_FOUR, INLINE_SIX = "demo-lark-1200", "demo-corvane-24"


def waited_for(tasks, key):
    """Return all a task waits for by its template, directly or not."""
    after = {task.key: task.after for task in tasks}
    found, todo = set(), list(after[key])
    while todo:
        other = todo.pop()
        if other in after and other not in found:
            found.add(other)
            todo += after[other]
    return found


@pytest.mark.parametrize("demo", DEMOS)
def test_each_shipped_job_can_be_done_as_planned(demo):
    for name in FITS[demo]:
        tasks = shipped(demo, name)
        for hands in (1, 2):
            done = plan(tasks, hands=hands)
            assert check(done, tasks) == [], name
            assert done.left_out == (), name
            assert done.notes == (), name


tags = st.frozensets(st.sampled_from(sorted(LIBRARY.tags)), max_size=4)
engine = st.sampled_from((frozenset({"engine cold"}), frozenset({"engine warm"}), frozenset()))
stands = st.sampled_from((frozenset({"car raised"}), frozenset({"car on its wheels"})))


@settings(max_examples=120, deadline=None)
@given(st.data(), st.sampled_from(DEMOS), st.integers(1, 2), tags, engine, stands)
def test_no_task_needs_what_a_later_one_provides(data, demo, hands, hanging, warmth, standing):
    names = data.draw(st.lists(st.sampled_from(FITS[demo]), min_size=1, max_size=3, unique=True))
    try:
        tasks = shipped(demo, *names)
    except BadInput:
        reject()  # jobs that cannot go together have no list to plan
    done = plan(tasks, hands=hands, state=State(warmth | standing, hanging))
    assert check(done, tasks) == []


@settings(max_examples=60, deadline=None)
@given(st.sampled_from((FLAT_FOUR, INLINE_SIX)), st.integers(1, 2), tags, engine, stands)
def test_the_full_service_from_any_start(demo, hands, hanging, warmth, standing):
    tasks = shipped(demo, SERVICE)
    state = State(warmth | standing, hanging)
    done = plan(tasks, hands=hands, state=state)
    assert check(done, tasks) == []
    if hanging == frozenset() and standing == {"car on its wheels"}:
        assert done.left_out == ()


@pytest.mark.parametrize("demo", DEMOS)
def test_the_charger_goes_on_first_and_the_service_is_a_fifth_shorter(demo):
    tasks = shipped(demo, SERVICE)
    done = plan(tasks)
    charge = done.step("battery-charging:charge")
    earlier = {s.key for s in done.steps if s.start_min < charge.start_min}
    assert earlier - {"valve-clearances:make-safe"} <= waited_for(tasks, charge.key)
    assert "runs 480 min beside other work" in charge.why
    beside = sum(min(s.end_min, charge.free_at_min) - s.start_min for s in done.steps if charge.end_min <= s.start_min < charge.free_at_min)  # fmt: skip
    assert beside > 180
    assert done.elapsed_min <= 0.8 * done.top_to_bottom_min
    assert done.top_to_bottom_min == top_to_bottom(tasks)
    assert done.elapsed_min <= 1.03 * done.lower_bound_min


@pytest.mark.parametrize("demo", [FLAT_FOUR, INLINE_SIX])
def test_the_drain_runs_while_the_ignition_is_done(demo):
    """With no battery to charge the drain goes first, and points and levels are done beside it."""
    tasks = shipped(demo, "oil-change", "points")
    done = plan(tasks)
    drain = done.step("oil-change:drain")
    earlier = {s.key for s in done.steps if s.start_min < drain.start_min}
    assert earlier - {"points:make-safe"} <= waited_for(tasks, drain.key)
    assert drain.why == "started as soon as it can be: draining runs 20 min beside other work"
    beside = [s for s in done.steps if drain.end_min <= s.start_min < drain.free_at_min]
    assert {s.key.split(":")[0] for s in beside} == {"points"}


@pytest.mark.parametrize("demo", DEMOS)
def test_valves_are_set_cold_and_timing_is_checked_warm(demo):
    done = plan(shipped(demo, SERVICE), hands=2)
    at = {s.key.split(":")[1]: s for s in done.steps}
    assert at["set"].end_min <= min(at["warm-oil"].start_min, at["run-and-look"].start_min)
    assert at["check-timing"].start_min >= at["run-and-look"].free_at_min
