"""Every rule holds in every plan, by a check that shares nothing with the search; and the check sees what is wrong."""

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.worklists.planner import Pin, PlanTask, State, check, plan
from tests.worklists.planner_cases import sane, shop_day, wild

KINDS = {"wild": wild, "sane": sane, "day": lambda seed, n: shop_day(seed, n + 8)}
STATES = ("engine cold", "engine warm", "car raised", "car on its wheels")


@st.composite
def asked(draw):
    """Return tasks of any kind, some done, in hand or without parts, with wishes and a car in any state."""
    tasks = KINDS[draw(st.sampled_from(sorted(KINDS)))](draw(st.integers(0, 10**6)), draw(st.integers(2, 13)))
    hands = draw(st.integers(1, 3))
    random = Random(draw(st.integers(0, 10**6)))
    for j in random.sample(range(len(tasks)), 2):
        more = (
            {"parts_missing": ("rotor arm",)},
            {"done": True, "still_waits": 7},
            {"in_hand_by": hands},
            {},
        )
        if not any(t.in_hand_by for t in tasks):
            tasks[j] = replace(tasks[j], **random.choice(more))
    keys = [t.key for t in tasks if not t.done]
    pins = []
    for _ in range(random.choice((0, 0, 1, 2)) if len(keys) > 1 else 0):
        a, b = random.sample(keys, 2)
        place = Pin.place(a, random.randint(1, len(keys)))
        pins.append(random.choice((Pin.before(a, b), Pin.first(a), Pin.last(a), Pin.by(a, hands), place)))
    state = None
    if draw(st.booleans()):
        tags = frozenset(x for x in ("sump dry", "on charge") if random.random() < 0.3)
        state = State(frozenset(x for x in STATES if random.random() < 0.5), tags)
    missing = draw(st.sampled_from(("last", "out")))
    return tasks, {"hands": hands, "pins": pins, "state": state, "missing": missing, "start_min": 480}


@settings(max_examples=300, deadline=None)
@given(asked())
def test_every_plan_keeps_every_rule(case):
    tasks, kwargs = case
    try:
        done = plan(tasks, **kwargs)
    except ShopError as refused:
        assert kwargs["pins"]  # only wishes are refused
        assert refused.message
        assert refused.hint
        return
    assert check(done, tasks) == []
    assert all(step.why for step in done.steps)
    assert all(gone.why for gone in done.left_out)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("hands", [1, 2, 3])
def test_long_plans_keep_every_rule(seed, hands):
    tasks = shop_day(seed, 60)
    done = plan(tasks, hands=hands)
    assert check(done, tasks) == []
    assert done.left_out == ()


def steps_of(*rows):
    """Return a plan of steps (task, person, start) as if somebody had written it down."""
    tasks = [task for task, _, _ in rows]
    done = plan([replace(t, after=(), needs=(), acts=(), hangs=(), lifts=(), barred=()) for t in tasks])
    steps = []
    for task, person, start in rows:
        end = start + task.minutes
        step = next(s for s in done.steps if s.key == task.key)
        steps.append(replace(step, person=person, start_min=start, end_min=end, free_at_min=end + task.waits))
    free = max(s.free_at_min for s in steps)
    return replace(done, steps=tuple(steps), elapsed_min=free, lower_bound_min=0, proved=False), tasks


def wrong(*rows, hands=2, **changes):
    done, tasks = steps_of(*rows)
    return check(replace(done, hands=hands, walks=0, **changes), tasks)


def task(key, **fields):
    return PlanTask(key, key.capitalize(), 10, **fields)


def test_the_check_sees_what_is_wrong():
    a, b = task("a"), task("b")
    assert wrong((a, 1, 0), (b, 1, 10)) == []
    assert wrong((a, 1, 0), (b, 1, 9)) == ["person 1 has a and b at once"]
    assert wrong((a, 3, 0), (b, 1, 9)) == ["a is before the start or by nobody"]
    assert "begins before a is over" in wrong((a, 1, 0), (task("b", after=("a",)), 2, 5))[0]
    assert wrong((replace(a, waits=5), 1, 0), (task("b", after=("a",)), 2, 12)) != []


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (
            [(task("up", makes=("car raised",)), 1, 10), (task("b", needs=("car raised",)), 1, 0)],
            "needs car raised",
        ),
        (
            [(task("warm", acts=("start",)), 1, 0), (task("b", needs=("engine cold",)), 1, 50)],
            "warm has warmed",
        ),
        ([(task("dry", hangs=("dry",)), 1, 0), (task("b", barred=("dry",)), 1, 10)], "barred by dry"),
        (
            [(task("run", acts=("start",)), 1, 0), (task("b", place="under the car"), 2, 5)],
            "while the engine turns",
        ),
        ([(task("road", acts=("drive",)), 1, 0), (task("b", place="engine bay"), 2, 5)], "moves the car"),
        ([(task("keys", acts=("hand over",)), 1, 0), (task("b"), 1, 10)], "the car leaves with keys"),
        ([(task("a", in_hand_by=1), 1, 10), (task("b"), 1, 0)], "in hand and does not come first"),
        ([(task("a", parts_missing=("rotor",)), 1, 0), (task("b"), 1, 10)], "lacks parts"),
    ],
)
def test_the_check_sees_each_rule_broken(rows, said):
    found = wrong(*rows)
    assert any(said in sentence for sentence in found), found


@pytest.mark.parametrize(
    "pin", [Pin.before("b", "a"), Pin.first("b"), Pin.last("a"), Pin.by("a", 2), Pin.place("a", 2)]
)
def test_the_check_sees_a_wish_not_kept(pin):
    assert any("is not kept" in said for said in wrong((task("a"), 1, 0), (task("b"), 1, 10), pins=(pin,)))


def test_the_check_sees_wrong_figures_and_lost_tasks():
    done, tasks = steps_of((task("a", place="bench"), 1, 0), (task("b", place="engine bay"), 1, 10))
    assert check(replace(done, walks=1), tasks) == []
    assert check(replace(done, walks=0), tasks) != []
    assert check(replace(done, walks=1, elapsed_min=19), tasks) != []
    assert check(replace(done, walks=1, hands_on_min=19), tasks) != []
    assert check(replace(done, walks=1, lower_bound_min=21), tasks) != []
    assert check(replace(done, walks=1, steps=done.steps[:1]), tasks) != []
