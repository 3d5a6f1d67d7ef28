"""A task's sum is fed with the sheet's numbers, the vehicle's facts and the readings, in the units it wants."""

import pytest

from shopcli.units import Limits, to_canonical
from shopcli.workings import catalogue
from shopcli.worklists.expand import applicable, expand
from shopcli.worklists.load import load_library
from shopcli.worklists.model import Provenance, Spec, Task, WorkingCall
from shopcli.worklists.sheets import facts, lookup
from shopcli.worklists.sums import aim, feed

LARK = "demo-lark-1200"


@pytest.fixture(scope="module")
def lark():
    library = load_library()
    car = facts(library, LARK)
    jobs = [t.name for t in applicable(library, car)]
    # Each job by itself: on one card the steps they share would go by the name of the first.
    lists = [expand(library, [name], car, lookup(library, LARK)) for name in jobs]
    return {t.key: t for work in lists for t in work.tasks}


def spec(**sides):
    return Spec("x", "x", Limits.of("length", "mm", **sides), "", Provenance("demo"), "s")


def taken(task):
    """Return what the sheet aims at for each reading, and something likely where it has no number."""
    found = {}
    for slot in task.readings:
        number = task.spec(slot.spec)
        found.setdefault(slot.name, []).append(
            aim(number) if number else 12.3 if slot.quantity == "voltage" else 1.0
        )
    return found


def test_a_number_aims_at_its_nominal_or_its_middle():
    assert aim(spec(low=1, nominal=2, high=5)) == pytest.approx(0.002)
    assert aim(spec(low=1, high=5)) == pytest.approx(0.003)
    assert aim(spec(low=1)) == pytest.approx(0.001)
    assert aim(spec(high=5)) == pytest.approx(0.005)


def test_dwell(lark):
    known = feed(lark["points:check-dwell"], {"dwell": (48.0, 50.0)})
    assert known == {"dwell_deg": 50.0, "lobes": 4}
    assert catalogue.run("dwell-percent", **known)["dwell_pct"] == pytest.approx(100 * 50 / 90)


def test_gap_in_the_units_of_the_sum(lark):
    known = feed(lark["points:set-gap"], {"points gap": (to_canonical(18, "thou"),)})
    assert known == {"gap_before_mm": pytest.approx(0.4064), "gap_after_mm": pytest.approx(0.4572)}
    assert catalogue.run("gap-and-dwell", **known).results


def test_lead_order_needs_nothing_more(lark):
    known = feed(lark["plugs-leads:fit-leads"], {})
    assert known == {"firing_order": "1-4-3-2", "rotor": "cw"}
    assert catalogue.run("lead-order", **known)["clockwise"] == (1, 4, 3, 2)


def test_all_cells_at_once(lark):
    known = feed(lark["battery-charging:cells"], {"gravity": (1.26, 1.25, 1.22)})
    assert known == {"gravities": (1.26, 1.25, 1.22)}
    assert catalogue.run("cell-spread", **known)["weakest"] == 3


def test_what_is_not_known_is_left_to_be_asked():
    given = (("dwell_deg", "reading.dwell"), ("lobes", "four"), ("odd", "1"), ("crank_rpm", "spec.idle"))
    task = Task("a:b", "a", "1", "T", "s", working=WorkingCall("dwell-percent", given))
    assert feed(task, {}) == {}
    assert feed(Task("a:b", "a", "1", "T", "s"), {}) == {}


def test_every_shipped_sum_takes_what_it_is_fed(lark):
    """Each input fed is one the sum has, of a kind it accepts; only what is missing may be complained of."""
    checked = 0
    for task in lark.values():
        if task.working is None:
            continue
        known = feed(task, taken(task))
        assert known.keys() == {name for name, _ in task.working.given}, task.key
        inputs = {i.name: i for i in catalogue.get(task.working.name).inputs}
        required = {n for n, i in inputs.items() if i.required} - known.keys()
        if not required:
            assert catalogue.run(task.working.name, **known).results
        checked += 1
    assert checked >= 8
