"""Beneath the readings stands what they come to: the sum of every shipped job, over the four demo cars."""

import pytest

from shopcli.units import IMPERIAL, METRIC, to_canonical
from shopcli.worklists.derived import derived, still_wanted, taken_by_name
from shopcli.worklists.expand import expand
from shopcli.worklists.flatten import applicable
from shopcli.worklists.known_inputs import known_inputs
from shopcli.worklists.load import load_library
from shopcli.worklists.model import ReadingSlot, Task, WorkingCall
from shopcli.worklists.sheets import facts, lookup
from shopcli.worklists.sums import aim
from shopcli.worklists.typed_inputs import read_inputs
from shopcli.worklists.workings_at_hand import work, working_named
from shopcli.worklists.workings_examples import example_inputs

DEMO = ("demo-brindle-1600", "demo-corvane-24", "demo-hallam-35", "demo-lark-1200")
# What a reading without a number on the sheet comes to, in canonical units.
GUESSED = {
    "density": 1.26,
    "length": 0.013,
    "resistance": 3.0,
    "voltage": 12.3,
    "current": 3.0,
    "pressure": 900_000.0,
    "rotation": 800.0,
    "temperature": 20.0,
}


@pytest.fixture(scope="module")
def library():
    return load_library()


def tasks_of(library, sheet):
    """Return every task of every job that fits the car, each job by itself, by key."""
    car = facts(library, sheet)
    names = [t.name for t in applicable(library, car) if not t.include]
    lists = [expand(library, [name], car, lookup(library, sheet)) for name in names]
    return {t.key: t for work in lists for t in work.tasks}


def plausible(task):
    """Return a reading for every slot: what the sheet aims at, or a good guess of its kind."""
    taken = {}
    for slot in task.readings:
        spec = task.spec(slot.spec)
        taken[slot.key] = aim(spec) if spec else GUESSED[slot.quantity]
    return taken_by_name(task, taken)


def measured(task):
    """Return what nobody has written down and somebody has to measure at the car: as in the sum's example."""
    working = working_named(task.working.name)
    example = read_inputs(working, example_inputs(working))
    return {i.name: example[i.name] for i in still_wanted(task, plausible(task))}


def with_sums(library, sheet):
    return [t for t in tasks_of(library, sheet).values() if t.working is not None]


@pytest.mark.parametrize("sheet", DEMO)
def test_the_sum_of_every_shipped_task_answers(library, sheet):
    answered = set()
    for task in with_sums(library, sheet):
        done = derived(task, plausible(task), measured(task))
        assert done is not None, task.key
        assert not done.refused, (task.key, done.refused)
        assert done.results
        assert done.text
        answered.add(task.working.name)
    assert answered >= {"lead-order", "dwell-percent", "gap-and-dwell", "timing-arc", "cell-spread"}


def test_the_lark_in_figures(library):
    lark = tasks_of(library, "demo-lark-1200")
    dwell = derived(lark["points:check-dwell"], {"dwell": (50.0,)})
    assert (
        dwell.text == "dwell 50.0°; dwell 55.6 %; sector of one lobe 90°; points open 40.0°"
    )  # 100 x 50 / 90
    leads = derived(lark["plugs-leads:fit-leads"], {})
    assert {r.name: r.text for r in leads.results}["clockwise"] == "1-4-3-2"
    assert "╔═══╗" in leads.picture
    assert derived(lark["plugs-leads:fit-leads"], {}, plain=True).picture.isascii()


def test_no_answer_before_everything_is_read(library):
    lark = tasks_of(library, "demo-lark-1200")
    gap = lark["points:set-gap"]
    assert derived(gap, {}) is None
    assert derived(gap, {"points gap": (to_canonical(14, "thou"),)}).verdict.startswith(
        "trend: timing retarded"
    )
    assert derived(lark["points:cap-off"], {}) is None
    timing = lark["points:check-timing"]
    assert derived(timing, {}) is None
    assert [i.name for i in still_wanted(timing, {})] == ["diameter_mm"]


def test_three_cells_of_six_are_no_spread(library):
    cells = tasks_of(library, "demo-lark-1200")["battery-charging:cells"]
    keys = [slot.key for slot in cells.readings]
    assert len(keys) > 2
    assert derived(cells, taken_by_name(cells, dict.fromkeys(keys[:-1], 1.26))) is None
    assert derived(cells, taken_by_name(cells, dict.fromkeys(keys, 1.26))) is not None


def test_as_left_stands_before_as_found_place_by_place():
    slots = tuple(
        ReadingSlot(f"gap@{place}|{phase}", "gap", place, phase, "", "length", "mm")
        for phase in ("as found", "as left")
        for place in ("1", "2")
    )
    task = Task("a:b", "a", "1", "T", "s", readings=slots)
    taken = {"gap@1|as found": 0.2, "gap@2|as found": 0.3, "gap@2|as left": 0.25}
    assert taken_by_name(task, taken) == {"gap": (0.2, 0.25)}
    assert taken_by_name(task, {"gap@1|as left": 0.2}) == {}


def test_a_sum_that_does_not_hold_says_why():
    call = WorkingCall("lead-order", (("firing_order", "1-3-3-2"), ("rotor", "cw")))
    done = derived(Task("a:b", "a", "1", "T", "s", working=call), {})
    assert done.refused
    assert done.text == done.refused
    assert not done.results


# What a form is filled in with ---------------------------------------------------------------------------


def test_a_form_is_filled_in_with_what_is_known(library):
    lark = tasks_of(library, "demo-lark-1200")
    car = facts(library, "demo-lark-1200")
    leads = known_inputs(working_named("lead-order"), facts=car)
    assert {n: k.text for n, k in leads.items()} == {"firing_order": "1-4-3-2", "rotor": "cw"}
    gap = lark["points:set-gap"]
    read = {"points gap": (to_canonical(14, "thou"),)}
    known = known_inputs(working_named("gap-and-dwell"), facts=car, task=gap, readings=read, prefs=IMPERIAL)
    assert known["gap_before_mm"].text == "16 thou"
    assert known["gap_after_mm"].text == "14 thou"
    assert known["gap_after_mm"].whence == "read here: points gap"
    assert "demo" in known["gap_before_mm"].whence
    blades = known_inputs(working_named("feeler-stack"), facts=car, task=gap, prefs=METRIC)
    assert set(blades) == {"gap_mm", "low_mm", "high_mm"}
    assert blades["gap_mm"].text == "0.4064 mm"


def test_another_sum_takes_the_reading_that_can_be_meant(library):
    lark = tasks_of(library, "demo-lark-1200")
    known = known_inputs(
        working_named("dwell-degrees"),
        facts=facts(library, "demo-lark-1200"),
        task=lark["points:check-dwell"],
        readings={"dwell": (50.0,)},
    )
    assert known["lobes"].text == "4"
    assert set(known) == {"lobes", "low_deg", "high_deg"}
    assert known_inputs(working_named("displacement")) == {}


@pytest.mark.parametrize("sheet", DEMO)
@pytest.mark.parametrize("prefs", [METRIC, IMPERIAL], ids=["metric", "imperial"])
def test_what_is_filled_in_reads_back_and_works(library, sheet, prefs):
    car = facts(library, sheet)
    for task in with_sums(library, sheet):
        working = working_named(task.working.name)
        known = known_inputs(working, facts=car, task=task, readings=plausible(task), prefs=prefs)
        inputs = read_inputs(working, {name: k.text for name, k in known.items()})
        worked = work(working, {**measured(task), **inputs})
        same = derived(task, plausible(task), measured(task))
        assert {r.name for r in worked.results} >= {r.name for r in same.results}
        assert all(k.whence for k in known.values())
