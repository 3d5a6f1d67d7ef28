"""Every shipped job on every kind of car: numbers complete, tags balanced, order sound, nothing done twice."""

from collections import Counter
from itertools import combinations

import pytest

from shopcli.errors import BadInput
from shopcli.units import IMPERIAL, METRIC
from shopcli.worklists.expand import expand, say_text
from shopcli.worklists.model import Task
from tests.worklists.whole import (
    ARMY,
    CARS,
    DEMOS,
    FAMILIES,
    LIBRARY,
    book_of,
    every,
    facts_of,
    faults,
    offered,
    only_later,
    stuck,
    unordered,
    work,
)

SYSTEMS = {
    "engine", "lubrication", "valve gear", "ignition", "fuel", "cooling", "cooling and charging", "electrics",
    "transmission", "brakes", "steering", "suspension", "wheels", "body", "whole car",
}  # fmt: skip


def test_all_files_are_usable_and_there_are_enough():
    assert [str(p) for p in LIBRARY.problems] == []
    assert len(LIBRARY.templates) >= 60
    assert {t.system for t in LIBRARY.templates.values()} == SYSTEMS
    titles = Counter(t.title for t in LIBRARY.templates.values())
    assert max(titles.values()) == 1


def test_each_job_is_offered_to_some_car_and_each_car_is_offered_jobs():
    met = {job for car in CARS for job in offered(car)}
    assert met == set(LIBRARY.templates)
    assert all(len(offered(car)) >= 40 for car in (*DEMOS, *FAMILIES))


@pytest.mark.parametrize("car", CARS)
def test_every_job_offered_expands(car):
    for job in offered(car):
        assert work(car, job).tasks, job


@pytest.mark.parametrize("car", DEMOS)
def test_demo_cars_miss_no_number(car):
    for _, job, listed in every((car,)):
        assert [(t.key, t.missing) for t in listed.tasks if t.missing] == [], job
        assert {s.provenance.kind for t in listed.tasks for s in t.specs} <= {"demo"}, job
        assert [n for n in listed.notes if "does not say" in n or "not known" in n] == [], job


@pytest.mark.parametrize("car", DEMOS)
@pytest.mark.parametrize("prefs", [METRIC, IMPERIAL], ids=["metric", "imperial"])
def test_nothing_open_is_left_in_what_a_demo_car_shows(car, prefs):
    for _, _, listed in every((car,)):
        for task in listed.tasks:
            shown = f"{task.title} {say_text(task, prefs)}"
            assert "{{" not in shown, task.key
            assert "not known" not in shown, task.key


@pytest.mark.parametrize("car", [ARMY, *FAMILIES])
def test_a_missing_number_is_reported_and_said(car):
    """What the sheet does not know is in `missing`, and where the words speak of it they ask for it."""
    met = 0
    for _, _, listed in every((car,)):
        for task in listed.tasks:
            wanted = {r.spec for r in task.readings if r.spec}
            unknown = {name for name in wanted if book_of(car).get(name) is None}
            assert unknown <= set(task.missing), task.key
            shown = say_text(task, METRIC)
            spoken = [n for n in task.missing if f"spec.{n} " in task.say]
            assert all(f"[{n.replace('_', ' ')}: not known, enter it]" in shown for n in spoken), task.key
            met += len(spoken)
    assert met > 0


@pytest.mark.parametrize("car", CARS)
def test_tags_are_balanced_and_nothing_is_needed_before_it_is_there(car):
    for _, job, listed in every((car,)):
        assert faults(listed.tasks, LIBRARY.tags) == [], job
        assert only_later(listed.tasks) == [], job
        assert unordered(listed.tasks) == [], job


def step(key, **more):
    return Task(f"t:{key}", "t", "1", key, "s", **more)


def test_the_checkers_see_what_they_are_there_for():
    drain = step("drain", hangs=("sump dry",), needs=("car raised",))
    fill = step("fill", lifts=("sump dry",))
    start = step("start", acts=("start",), makes=("engine warm",))
    lift = step("lift", makes=("car raised",))
    cold = step("valves", needs=("engine cold",))
    assert faults((lift, drain, fill, start), LIBRARY.tags) == []
    assert faults((lift, drain), LIBRARY.tags) == ["sump dry is left hanging"]
    assert faults((lift, drain, start, fill), LIBRARY.tags) == ["t:start is barred by sump dry"]
    assert faults((drain, fill, lift), LIBRARY.tags) == ["t:drain needs car raised"]
    assert faults((start, cold), LIBRARY.tags) == ["t:valves needs engine cold"]
    assert only_later((drain, fill, lift)) == [("t:drain", "car raised")]
    assert only_later((lift, drain, fill)) == []
    left = step("left", hangs=("hub loose",))
    right = step("right", hangs=("hub loose",))
    assert unordered((left, right, step("on", lifts=("hub loose",), after=("t:left",)))) == [
        ("hub loose", "t:right", "t:on")
    ]
    assert unordered((left, step("on", lifts=("hub loose",), after=("t:left",)))) == []
    assert stuck((drain, start, step("fill", lifts=("sump dry",), after=("t:start",))), LIBRARY.tags) == []
    late = step("start", acts=("start",), after=("t:drain",))
    assert stuck((drain, late, step("fill", lifts=("sump dry",), after=("t:start",))), LIBRARY.tags) == [
        "t:start"
    ]
    barred = step("look", barred=("sump dry",))
    assert faults((lift, drain, barred, fill), LIBRARY.tags) == ["t:look is barred by sump dry"]


@pytest.mark.parametrize("car", CARS)
def test_checks_promised_come_later_or_have_words_of_their_own(car):
    for _, job, listed in every((car,)):
        place = {t.key: i for i, t in enumerate(listed.tasks)}
        for task in listed.tasks:
            for owed in task.owes:
                if owed.before != "hand-over":
                    assert owed.miles or owed.days, (job, owed)
                    assert owed.title, (job, owed)
                elif owed.key:
                    assert place[owed.key] > place[task.key], (job, owed)
                else:
                    raise AssertionError((job, task.key, owed))


@pytest.mark.parametrize("car", CARS)
def test_nothing_is_on_a_list_twice(car):
    for _, job, listed in every((car,)):
        assert [t for t, n in Counter(t.key for t in listed.tasks).items() if n > 1] == [], job
        once = Counter(step_of(t).once for t in listed.tasks if step_of(t).once)
        assert [name for name, n in once.items() if n > 1] == [], job


def step_of(task):
    template, _, rest = task.key.partition(":")
    return next(s for s in LIBRARY.template(template).tasks if s.id == rest.partition("@")[0])


def test_a_part_that_is_needed_holds_a_step_back():
    for job in LIBRARY.templates.values():
        named = {part for step in job.tasks for part in (*step.fits, *(line.part for line in step.kit))}
        loose = {line.part for line in job.kit if not line.optional} - named
        assert not loose, f"{job.name}: which step waits for {', '.join(loose)}?"


def test_shared_steps_go_by_one_name_in_all_jobs():
    """A step that several jobs have and that says "Raise the car" or the like carries the shared name."""
    names = {}
    for template in LIBRARY.templates.values():
        for each in template.tasks:
            if each.once:
                names.setdefault(each.once, set()).add(template.name)
    shared = {name for name, jobs in names.items() if len(jobs) > 1}
    assert shared >= {
        "ignition off", "warm up", "raise the car", "lower the car", "slacken the wheel nuts", "wheels off",
        "wheels on", "torque the wheel nuts", "pedal firm", "run and look", "road test", "battery off",
        "battery on", "leads off", "plugs out", "plugs in", "leads on", "coolant out", "coolant in",
    }  # fmt: skip


# A car that has stood for years is not handed to the starter: its test waits until the engine has turned by hand.
APART = {"recommissioning", "starter"}


@pytest.mark.parametrize("car", ["demo-lark-1200", "demo-brindle-1600", "side-valve-four-water"])
def test_any_two_jobs_stand_on_one_card(car):
    """No circle, and an order in which nothing is barred; what one leaves open the other does not call closed."""
    for pair in combinations(offered(car), 2):
        if set(pair) == APART:
            with pytest.raises(BadInput, match="wait for one another"):
                expand(LIBRARY, pair, facts_of(car), book_of(car))
            continue
        listed = expand(LIBRARY, pair, facts_of(car), book_of(car))
        assert unordered(listed.tasks) == [], pair
        assert stuck(listed.tasks, LIBRARY.tags) == [], pair


@pytest.mark.parametrize("car", [*DEMOS, *FAMILIES])
def test_all_jobs_stand_on_one_card(car):
    names = [name for name in offered(car) if name != "starter"]
    listed = expand(LIBRARY, names, facts_of(car), book_of(car))
    assert len(listed.templates) >= len(names)
    assert unordered(listed.tasks) == []


def test_times_are_those_of_a_workshop():
    for template in LIBRARY.templates.values():
        assert all(1 <= t.minutes <= 60 for t in template.tasks), template.name
        assert all(t.waits <= 600 for t in template.tasks), template.name
        assert all(t.place for t in template.tasks), template.name
    hours = {job: work("demo-brindle-1600", job).minutes / 60 for job in offered("demo-brindle-1600")}
    assert 6 <= hours["cylinder-head"] <= 14
    assert 3 <= hours["brakes-drum-overhaul"] <= 8
    assert 3 <= hours["tune-up"] <= 7
    assert 1 <= hours["brake-bleed"] <= 3.5
    assert 8 <= hours["recommissioning"] <= 20
    assert 0.5 <= hours["thermostat"] <= 1.5


def test_waiting_is_written_where_hands_are_free():
    waits = {t.key.partition("@")[0]: t.waits for car, job, listed in every(DEMOS) for t in listed.tasks}
    for key in (
        "oil-change:drain", "battery-charging:charge", "carburettor-overhaul:soak", "cylinder-head:cool",
        "recommissioning:bores", "gearbox-axle-oils:axle-drain", "cooling-flush:coolant-out",
        "water-leaks:dry", "fuel-tank:clean", "tune-up:cool",
    ):  # fmt: skip
        assert waits[key] > 0, key
