"""The order of work: waiting costs nothing, cold work comes first, wishes are kept or refused with the reason."""

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.worklists.model import TagKind, Task
from shopcli.worklists.planner import Pin, PlanTask, State, check, plan, top_to_bottom

DRAIN = PlanTask("drain", "Drain the oil", 5, 30, "under the car", hangs=("sump dry",))
FILL = PlanTask("fill", "Fill with oil", 8, 0, "engine bay", ("drain",), lifts=("sump dry",))
POINTS = PlanTask("points", "Set the points", 20, 0, "engine bay")
RUN = PlanTask("run", "Run the engine", 5, 0, "engine bay", acts=("start",), barred=("sump dry",))
VALVES = PlanTask("valves", "Set the valves", 30, 0, "engine bay", needs=("engine cold",))
WARM = PlanTask("warm", "Warm the engine up", 2, 10, "driver's seat", makes=("engine warm",), acts=("start",))


def made(tasks, **kwargs):
    """Return the plan, gone over by the independent check."""
    done = plan(tasks, **kwargs)
    assert check(done, tasks) == []
    return done


def order(tasks, **kwargs):
    return [step.key for step in made(tasks, **kwargs).steps]


def test_what_a_task_is_barred_by_is_settled_from_acts_and_names():
    tags = {
        "sump dry": TagKind("sump dry", "", ("crank", "start")),
        "belt off": TagKind("belt off", "", ("start",)),
        "plugs out": TagKind("plugs out", "", ("drive",)),
    }
    task = Task("t:a", "t", "1", "A", "", acts=("start",), lifts=("belt off",), barred=("plugs out",))
    assert set(PlanTask.of(task, tags).barred) == {"sump dry", "plugs out"}
    in_hand = PlanTask.of(Task("t:b", "t", "1", "B", "", minutes=20), tags, in_hand_by=1, left_min=4)
    assert (in_hand.minutes, in_hand.job) == (4, "t")


def test_waiting_runs_beside_other_work():
    done = made([POINTS, DRAIN, FILL])
    assert [(s.key, s.start_min, s.end_min, s.free_at_min) for s in done.steps] == [
        ("drain", 0, 5, 35),
        ("points", 5, 25, 25),
        ("fill", 35, 43, 43),
    ]
    assert (done.elapsed_min, done.hands_on_min, done.lower_bound_min, done.proved) == (43, 33, 43, True)
    assert done.top_to_bottom_min == 63
    assert done.saved == pytest.approx(20 / 63)
    assert done.steps[0].why == "started first: draining runs 30 min beside other work"
    assert done.steps[2].why == 'after "Drain the oil" and 30 min of draining'
    assert [(w.key, w.says, w.start_min, w.end_min) for w in done.waits] == [("drain", "draining", 5, 35)]


def test_the_wait_after_the_last_task_counts():
    assert made([PlanTask("a", "A", 5, 0), PlanTask("glue", "Let it cure", 3, 60)]).elapsed_min == 63


def test_among_equals_the_plan_walks_least():
    places = ("engine bay", "bench", "engine bay", "bench", "", "engine bay")
    tasks = [PlanTask(str(j), f"T{j}", 5, 0, place) for j, place in enumerate(places)]
    assert made(tasks).walks == 1
    assert made(tasks, hands=2).walks == 0


def test_jobs_are_not_mixed_where_that_costs_nothing():
    tasks = [PlanTask(f"{job}{k}", "", 5, 0, "engine bay", job=job) for k in range(3) for job in "ab"]
    assert order(tasks) == ["a0", "a1", "a2", "b0", "b1", "b2"]


def test_cold_work_comes_before_warm_up():
    done = made([WARM, POINTS, VALVES])
    steps = {s.key: s for s in done.steps}
    assert steps["valves"].end_min <= steps["warm"].start_min
    assert steps["valves"].why == "cold work before the engine is warmed"


def test_cold_work_that_cannot_come_first_waits_for_the_cool_down():
    done = made([WARM, POINTS, VALVES], pins=[Pin.before("warm", "valves")])
    steps = {s.key: s for s in done.steps}
    assert steps["valves"].start_min == steps["warm"].free_at_min + 120
    assert steps["valves"].why == "after the engine has cooled for 120 min"
    assert ("cooling", 12, 132) in [(w.says, w.start_min, w.end_min) for w in done.waits]
    assert made([WARM, VALVES], pins=[Pin.before("warm", "valves")], cool_down_min=45).elapsed_min == 87


def test_a_car_driven_in_cools_while_other_work_goes_on():
    warm_in = State(frozenset({"engine warm", "car on its wheels"}))
    drain = PlanTask("drain", "Drain", 5, 20, "under the car", needs=("engine warm",))
    done = made([VALVES, drain, POINTS], state=warm_in)
    assert done.steps[0].key == "drain"
    assert done.step("valves").start_min == 120
    assert ("", "cooling", 0, 120) in [(w.key, w.says, w.start_min, w.end_min) for w in done.waits]


def test_a_task_that_cools_the_engine_takes_the_place_of_the_cool_down():
    cool = PlanTask("cool", "Stand it before the fan", 1, 40, after=("warm",), makes=("engine cold",))
    valves = PlanTask("valves", "Set the valves", 30, 0, "engine bay", ("cool",), needs=("engine cold",))
    assert made([WARM, cool, valves]).elapsed_min == 12 + 1 + 40 + 30


@pytest.mark.parametrize("count", [3, 12])  # by trying all, and by moves
def test_warm_oil_is_drained_while_it_is_warm(count):
    drain = PlanTask("drain", "Drain", 5, 0, "under the car", needs=("engine warm",))
    others = [PlanTask(str(j), f"T{j}", 30, 0, "driver's seat") for j in range(count)]
    done = made([WARM, *others, drain])
    assert done.step("drain").start_min - done.step("warm").free_at_min <= 60


def test_no_crank_on_a_dry_sump():
    run_first = order([RUN, DRAIN, FILL, POINTS])
    assert not run_first.index("drain") < run_first.index("run") < run_first.index("fill")
    assert order([RUN, DRAIN, FILL], pins=[Pin.before("drain", "run")]) == ["drain", "fill", "run"]
    with pytest.raises(Refused) as caught:
        plan([RUN, DRAIN, FILL], pins=[Pin.before("drain", "run"), Pin.before("run", "fill")])
    assert "sump dry" in caught.value.message
    assert '"Run the engine" is asked to come before "Fill with oil"' in caught.value.message


def test_a_tag_that_hangs_at_the_start_bars_until_it_is_lifted():
    fill = PlanTask("fill", "Fill", 8, 0, "engine bay", lifts=("sump dry",))
    dry = State(tags=frozenset({"sump dry"}))
    assert order([RUN, fill], state=dry) == ["fill", "run"]
    done = made([RUN, POINTS], state=dry)
    assert [s.key for s in done.steps] == ["points"]
    assert "nothing on the list lifts it" in done.left_out[0].why


def test_what_waits_for_a_task_left_out_is_left_out():
    after = PlanTask("strobe", "Strobe it", 5, after=("run",))
    done = made([RUN, after, POINTS], state=State(tags=frozenset({"sump dry"})))
    assert {gone.key: gone.why for gone in done.left_out}[
        "strobe"
    ] == 'waits for "Run the engine", which is left out'


def test_done_tasks_leave_their_states_and_what_is_left_of_their_wait():
    drain = PlanTask("drain", "Drain", 5, 30, hangs=("sump dry",), done=True, still_waits=12)
    done = made([drain, FILL, RUN])
    assert [(s.key, s.start_min) for s in done.steps] == [("fill", 12), ("run", 20)]
    assert [(w.says, w.start_min, w.end_min) for w in done.waits] == [("draining", 0, 12)]
    assert done.state.tags == {"sump dry"}


def test_what_is_in_hand_stays_first_for_its_person():
    mine = PlanTask("points", "Set the points", 20, 0, "engine bay", ("fill",), in_hand_by=2)
    done = made([DRAIN, FILL, mine, RUN], hands=2)
    step = done.step("points")
    assert (step.person, step.start_min, step.why) == (2, 0, "in hand already")
    alone = made([DRAIN, PlanTask("points", "Set the points", 20, in_hand_by=1)])
    assert [s.key for s in alone.steps] == ["points", "drain"]


def test_missing_parts_go_last_or_out_with_all_that_waits_for_them():
    points = PlanTask("points", "Fit the points", 20, 0, "engine bay", parts_missing=("rotor arm",))
    timing = PlanTask("timing", "Set the timing", 10, 0, "engine bay", ("points",))
    tasks = [points, timing, DRAIN, FILL]
    done = made(tasks)
    assert [s.key for s in done.steps] == ["drain", "fill", "points", "timing"]
    assert done.step("points").why == "parts missing: rotor arm"
    assert done.step("timing").why == 'waits for "Fit the points", whose parts are missing'
    out = made(tasks, missing="out")
    assert [s.key for s in out.steps] == ["drain", "fill"]
    assert [gone.why for gone in out.left_out] == [
        "parts missing: rotor arm",
        'waits for "Fit the points", which is left out',
    ]
    assert order(tasks, pins=[Pin.first("points")])[0] == "points"


def test_wishes_are_kept():
    tasks = [POINTS, DRAIN, FILL, VALVES]
    assert order(tasks, pins=[Pin.first("valves")])[0] == "valves"
    assert order(tasks, pins=[Pin.last("points")])[-1] == "points"
    assert order(tasks, pins=[Pin.place("valves", 2)])[1] == "valves"
    assert order(tasks, pins=[Pin.before("fill", "points")]).index("points") == 3
    done = made(tasks, hands=2, pins=[Pin.by("drain", 2), Pin.by("points", 2)])
    assert {done.step("drain").person, done.step("points").person} == {2}
    assert made(tasks, pins=[Pin.first("valves")]).steps[0].why == "first, as asked"
    assert (
        made(tasks, pins=[Pin.before("valves", "fill")]).step("valves").why
        == 'before "Fill with oil", as asked'
    )


@pytest.mark.parametrize(
    ("pins", "said"),
    [
        ([Pin.before("fill", "drain")], '"Fill with oil" comes after "Drain the oil"'),
        ([Pin.first("fill")], '"Fill with oil" cannot have place 1: 1 come before it'),
        ([Pin.last("drain")], '"Drain the oil" cannot have place 4: 1 come after it'),
        ([Pin.first("drain"), Pin.first("points")], "at odds with another wish"),
        ([Pin.by("drain", 1), Pin.by("drain", 2)], "asked of two people"),
        ([Pin.before("points", "drain"), Pin.before("fill", "points")], "is asked to come before"),
    ],
)
def test_an_impossible_wish_is_refused_with_the_reason(pins, said):
    with pytest.raises(Refused) as caught:
        plan([POINTS, DRAIN, FILL, VALVES], hands=2, pins=pins)
    assert said in caught.value.message
    assert caught.value.hint


def test_a_wish_no_order_has_room_for_is_refused_by_name():
    # Second place lies between the hanging and the lifting, or before a drain that is asked to come first.
    tasks = [DRAIN, FILL, RUN, PlanTask("b", "B", 5)]
    pins = [Pin.place("run", 2), Pin.place("drain", 1)]
    with pytest.raises(Refused, match='leaves room for what is asked of "Run the engine"'):
        plan(tasks, pins=pins)


@pytest.mark.parametrize(
    ("tasks", "kwargs"),
    [
        ([POINTS], {"hands": 0}),
        ([POINTS, POINTS], {}),
        ([POINTS], {"pins": [Pin.first("valves")]}),
        ([POINTS], {"pins": [Pin.by("points", 2)]}),
        ([POINTS], {"pins": [Pin.place("points", 2)]}),
        ([PlanTask("a", "A", in_hand_by=3)], {"hands": 2}),
    ],
)
def test_what_cannot_be_meant_is_refused(tasks, kwargs):
    with pytest.raises(BadInput) as caught:
        plan(tasks, **kwargs)
    assert caught.value.hint


def test_a_circle_is_named():
    circle = [PlanTask("a", "A", after=("b",)), PlanTask("b", "B", after=("a",))]
    with pytest.raises(BadInput, match='"A" comes after "B"'):
        plan(circle)


def test_nothing_to_do():
    done = made([])
    assert (done.steps, done.elapsed_min, done.proved, done.saved) == ((), 0, True, 0.0)
    assert made([PlanTask("a", "A", 5, done=True)]).steps == ()


def test_nobody_is_under_the_car_while_the_other_starts_the_engine():
    grease = PlanTask("grease", "Grease", 10, 0, "under the car")
    run = PlanTask("run", "Run it", 5, 3, "engine bay", acts=("start",))
    wash = PlanTask("wash", "Wash parts", 20, 0, "bench")
    assert made([grease, run], hands=2).elapsed_min == 18
    assert made([wash, run], hands=2).elapsed_min == 20


def test_nobody_has_hands_in_a_car_that_is_let_down_or_driven():
    road = PlanTask("road", "Road test", 15, 0, "on the road", acts=("drive",))
    assert made([road, POINTS], hands=2).elapsed_min == 35
    assert made([road, PlanTask("wash", "Wash parts", 20, 0, "bench")], hands=2).elapsed_min == 20


def test_the_car_is_handed_over_last():
    keys = PlanTask("keys", "Keys", 2, 0, acts=("hand over",))
    assert order([keys, POINTS, DRAIN])[-1] == "keys"
    assert made([keys, DRAIN]).step("keys").start_min == 35
    with pytest.raises(Refused, match='the car leaves with "Keys"'):
        plan([keys, POINTS], pins=[Pin.before("keys", "points")])


def test_a_state_comes_from_before_and_lasts():
    up = PlanTask("up", "Raise", 8, makes=("car raised",))
    down = PlanTask("down", "Lower", 5, makes=("car on its wheels",))
    grease = PlanTask("grease", "Grease", 10, needs=("car raised",))
    tyres = PlanTask("tyres", "Tyres", 6, needs=("car on its wheels",))
    for tasks in ([down, grease, up, tyres], [tyres, up, down, grease]):
        found = order(tasks, pins=[Pin.before("up", "down")])
        assert found.index("up") < found.index("grease") < found.index("down")
        assert not found.index("up") < found.index("tyres") < found.index("down")


def test_a_state_only_a_later_task_brings_about_leaves_the_task_out():
    grease = PlanTask("grease", "Grease", 10, needs=("car raised",))
    up = PlanTask("up", "Raise", 8, after=("grease",), makes=("car raised",))
    done = made([grease, up, POINTS])
    assert [s.key for s in done.steps] == ["points"]
    assert '"Grease" needs car raised, which "Raise" brings about' in done.left_out[0].why


def test_a_state_nothing_brings_about_is_noted_and_not_in_the_way():
    done = made([PlanTask("grease", "Grease", 10, needs=("car raised", "handbrake off"))])
    assert done.notes == ('"Grease" needs car raised, and nothing on the list brings it about',)


def test_a_state_ends_with_the_tag_of_its_name():
    off = PlanTask("off", "Battery off", 3, makes=("battery disconnected",), hangs=("battery disconnected",))
    on = PlanTask("on", "Battery on", 3, after=("off",), lifts=("battery disconnected",))
    dynamo = PlanTask("dynamo", "Dynamo", 9, needs=("battery disconnected",))
    assert order([dynamo, on, off]) == ["off", "dynamo", "on"]


def test_a_list_without_any_order_gives_up_the_task_in_the_way():
    # Each bars the other for good once it has begun: only one of the two can be done.
    one = PlanTask("one", "One", 5, hangs=("a",), barred=("b",))
    two = PlanTask("two", "Two", 5, hangs=("b",), barred=("a",))
    done = made([one, two, POINTS])
    assert len(done.steps) == 2
    assert len(done.left_out) == 1


def test_top_to_bottom_takes_the_list_as_it_comes():
    assert top_to_bottom([POINTS, DRAIN, FILL]) == 63
    assert top_to_bottom([DRAIN, POINTS, FILL]) == 43
    assert top_to_bottom([DRAIN, RUN, FILL]) == 48  # barred when its turn comes, done after the filling
    assert top_to_bottom([POINTS, VALVES], hands=2) == 30


def test_times_run_from_the_start_given():
    done = made([POINTS, DRAIN, FILL], start_min=480)
    assert [s.start_min for s in done.steps] == [480, 485, 515]
    assert (done.elapsed_min, done.top_to_bottom_min) == (43, 63)


def test_the_same_list_gets_the_same_plan():
    from tests.worklists.planner_cases import shop_day

    assert plan(shop_day(1, 40), hands=2) == plan(shop_day(1, 40), hands=2)
