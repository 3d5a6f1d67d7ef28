"""The shipped jobs on the shipped demo cars: complete numbers, sound order, nothing unsafe in between."""

from itertools import combinations, permutations

import pytest

from shopcli.units import IMPERIAL, METRIC
from shopcli.worklists.expand import applicable, expand, say_text
from shopcli.worklists.load import load_library
from shopcli.worklists.sheets import chain, facts, lookup
from shopcli.worklists.words import OPPOSITES

DEMOS = ("demo-lark-1200", "demo-brindle-1600", "demo-corvane-24", "demo-hallam-35")
JOBS = (
    "oil-change",
    "points",
    "plugs-leads",
    "valve-clearances",
    "drive-belt",
    "battery-charging",
    "brakes-adjust",
    "pre-delivery",
    "engine-service",
)
CHOICES = [
    *((job,) for job in JOBS),
    *combinations(JOBS, 2),
    ("brakes-adjust", "oil-change", "points"),
    tuple(reversed(JOBS)),
    *permutations(("points", "oil-change", "plugs-leads")),
]
LIBRARY = load_library()


def work_for(demo, names):
    return expand(LIBRARY, names, facts(LIBRARY, demo), lookup(LIBRARY, demo))


def test_the_nine_jobs_are_shipped():
    assert set(JOBS) <= set(LIBRARY.templates)


@pytest.mark.parametrize("demo", DEMOS)
def test_each_demo_car_has_every_number_of_every_job(demo):
    assert {t.name for t in applicable(LIBRARY, facts(LIBRARY, demo))} >= set(JOBS)
    for job in JOBS:
        work = work_for(demo, [job])
        assert [(t.key, t.missing) for t in work.tasks if t.missing] == []
        assert work.notes == ()
        assert {s.provenance.kind for t in work.tasks for s in t.specs} <= {"demo"}


@pytest.mark.parametrize("demo", DEMOS)
def test_nothing_open_is_left_in_what_is_shown(demo):
    for task in work_for(demo, JOBS).tasks:
        for prefs in (METRIC, IMPERIAL):
            shown = f"{task.title} {say_text(task, prefs)}"
            assert "{{" not in shown
            assert "not known" not in shown
            assert "at least at least" not in shown


def test_the_demo_cars_are_of_four_kinds():
    layouts = {facts(LIBRARY, d).layout for d in DEMOS}
    assert layouts == {"flat four", "inline four", "inline six", "vee eight"}
    assert all(chain(LIBRARY, d)[-1] == "general" and len(chain(LIBRARY, d)) == 3 for d in DEMOS)


def test_valves_are_named_as_the_engine_names_them():
    (measure,) = [
        t for t in work_for("demo-brindle-1600", ["valve-clearances"]).tasks if t.key.endswith(":measure")
    ]
    assert [s.label for s in measure.readings][:3] == ["valve 1 exhaust", "valve 1 inlet", "valve 2 inlet"]
    (measure,) = [
        t for t in work_for("demo-hallam-35", ["valve-clearances"]).tasks if t.key.endswith(":measure")
    ]
    assert len(measure.readings) == 16


@pytest.mark.parametrize("names", CHOICES, ids="+".join)
@pytest.mark.parametrize("demo", DEMOS[:2])
def test_no_step_is_barred_by_a_tag_when_its_turn_comes(demo, names):
    """Walk the list as it stands, hanging and lifting tags: no start on a dry sump, no drive on loose nuts."""
    hanging: set[str] = set()
    for task in work_for(demo, names).tasks:
        others = hanging - set(task.lifts)
        barring = [
            tag for tag in others if set(LIBRARY.tags[tag].bars) & set(task.acts) or tag in task.barred
        ]
        assert barring == [], task.key
        hanging = (hanging - set(task.lifts)) | set(task.hangs)
    assert hanging == set()


@pytest.mark.parametrize("job", JOBS)
def test_the_car_is_in_the_state_each_step_needs(job):
    """From a car that stands cold on its wheels, each job alone brings about what its steps ask for."""
    states = {"engine cold", "car on its wheels", "ignition off"}
    for task in work_for(DEMOS[0], [job]).tasks:
        if "start" in task.acts:
            states.discard("engine cold")
        missing = set(task.needs) - states - {"ignition off", "handbrake off"}
        assert missing == set(), task.key
        for state in task.makes:
            states.discard(OPPOSITES.get(state, ""))
            states.add(state)


@pytest.mark.parametrize("names", CHOICES, ids="+".join)
def test_every_check_promised_is_on_the_card_or_due_later(names):
    work = work_for(DEMOS[0], names)
    place = {t.key: i for i, t in enumerate(work.tasks)}
    for task in work.tasks:
        for owed in task.owes:
            if owed.before == "hand-over":
                assert place[owed.key] > place[task.key], (task.key, owed)
            else:
                assert owed.miles or owed.days


def keys(demo, job):
    return [t.key.partition(":")[2] for t in work_for(demo, [job]).tasks]


def before(order, *steps):
    places = [order.index(s) for s in steps]
    return places == sorted(places)


def test_order_in_which_a_mechanic_works():
    assert before(
        keys(DEMOS[0], "points"),
        "gap-found",
        "fit-points",
        "set-gap",
        "fit-cap",
        "check-dwell",
        "check-timing",
    )
    assert before(
        keys(DEMOS[0], "oil-change"),
        "warm-oil",
        "drain",
        "clean-strainer",
        "refit-plug",
        "refill",
        "run-and-look",
        "level-again",
    )
    assert before(keys(DEMOS[1], "oil-change"), "drain", "renew-filter", "refit-plug", "lower-car", "refill")
    assert before(
        keys(DEMOS[0], "battery-charging"),
        "rest-volts-6",
        "disconnect",
        "charge",
        "charger-off",
        "reconnect",
        "charging-volts-6",
    )
    assert before(
        keys(DEMOS[0], "brakes-adjust"),
        "loosen-nuts",
        "raise-car",
        "wheels-off",
        "handbrake",
        "wheels-on",
        "lower-car",
        "torque-nuts",
        "road-test",
        "nuts-again",
    )
    assert before(
        keys(DEMOS[0], "valve-clearances"), "cover-off", "measure", "set", "cover-on", "run-and-look"
    )
    assert before(keys(DEMOS[0], "plugs-leads"), "leads-off", "plugs-out", "fit-plugs", "fit-leads", "run-and-look")  # fmt: skip


def test_the_service_does_shared_steps_once():
    work = work_for(DEMOS[0], ["engine-service", "brakes-adjust"])
    for once in ("Run the engine and look for leaks", "Road test", "Ignition off, key out"):
        assert sum(t.title == once for t in work.tasks) == 1
    assert sum("Raise the car" in t.title for t in work.tasks) == 1
    assert sum(t.title.startswith("Torque the wheel nuts again") for t in work.tasks) == 1


def test_only_what_the_car_has_is_on_the_list():
    assert "pulley-apart" in keys("demo-lark-1200", "drive-belt")
    assert "pulley-apart" not in keys("demo-brindle-1600", "drive-belt")
    assert not any("front-drum" in k for k in keys("demo-brindle-1600", "brakes-adjust"))
    assert sum("front-pads" in k for k in keys("demo-brindle-1600", "brakes-adjust")) == 2
    assert "coolant-level" not in keys("demo-lark-1200", "pre-delivery")
    assert "coolant-level" in keys("demo-corvane-24", "pre-delivery")


# What can hurt, and the caution that must stand before it.
HURTS = [
    (lambda t: "drain" in t.key.split(":")[1], {"used oil", "hot oil"}),
    (lambda t: "start" in t.acts and "drive" not in t.acts, {"exhaust gas", "fans and belts"}),
    (lambda t: "car on stands" in (*t.hangs, *t.lifts), {"car on stands"}),
    (lambda t: "drum@" in t.key, {"brake dust", "springs under load"}),
    (lambda t: "pads@" in t.key, {"brake dust"}),
    (lambda t: {"leads off", "ignition apart"} & set(t.hangs), {"high tension"}),
    (lambda t: "by hand" in t.say and "Turn the engine" in t.say, {"turning by hand"}),
    (lambda t: t.key.startswith("battery-charging:charge"), {"battery gas"}),
    (lambda t: "battery disconnected" in (*t.hangs, *t.lifts), {"battery shorts"}),
    (lambda t: "plugs" in t.key.split(":")[1] and t.place == "engine bay", {"aluminium threads"}),
    (lambda t: "coolant" in t.key, {"hot coolant"}),
]


@pytest.mark.parametrize("number", range(len(HURTS)))
def test_cautions_stand_before_what_can_hurt(number):
    hurts, wanted = HURTS[number]
    names = [j for j in JOBS if j != "engine-service"]
    met = [t for d in DEMOS for n in names for t in work_for(d, [n]).tasks if hurts(t)]
    assert met
    for task in met:
        assert wanted <= {c.name for c in task.cautions}, task.key


def test_brakes_and_wheels_want_a_second_person():
    work = work_for(DEMOS[0], ["brakes-adjust", "pre-delivery"])
    second = {t.key.split("@")[0] for t in work.tasks if t.second}
    assert {"brakes-adjust:torque-nuts", "brakes-adjust:rear-adjust", "brakes-adjust:handbrake"} <= second
    assert "brakes-adjust:nuts-again" in second


def test_numbers_without_a_source_say_so():
    for sheet in LIBRARY.sheets.values():
        for spec in sheet.specs:
            assert spec.provenance.kind in {"practice", "handbook", "demo"}
            if spec.provenance.kind == "practice":
                assert "ommon practice, no source" in spec.note, (sheet.name, spec.name)
            if spec.provenance.kind == "demo":
                assert sheet.name.startswith("demo-")


def test_times_are_those_of_a_workshop():
    for template in LIBRARY.templates.values():
        assert all(1 <= t.minutes <= 60 for t in template.tasks)
        assert all(t.waits <= 600 for t in template.tasks)
    assert 30 <= work_for(DEMOS[0], ["oil-change"]).minutes <= 90
    assert 45 <= work_for(DEMOS[0], ["points"]).minutes <= 120
    assert 60 <= work_for(DEMOS[0], ["valve-clearances"]).minutes <= 120
    assert 120 <= work_for(DEMOS[0], ["brakes-adjust"]).minutes <= 240


def test_the_army_engine_is_served_as_far_as_its_page_goes():
    sheet = "tm-10-3930-653"
    with_facts = facts(
        LIBRARY, sheet, {"valve_gear": "pushrod", "fuel": "carburettor", "drive_belt": "adjusting arm"}
    )
    work = expand(LIBRARY, ["points", "valve-clearances", "drive-belt"], with_facts, lookup(LIBRARY, sheet))
    assert {m for t in work.tasks for m in t.missing} == {"idle_speed"}
    assert sum("is given hot" in note for note in work.notes) == 4  # measuring and setting, inlet and exhaust
