"""Pictures of what the facts tell, and none of what they do not; the crank goes round every valve once."""

import pytest

from shopcli.worklists.library import Library
from shopcli.worklists.model import Task, VehicleFacts, WorkingCall
from shopcli.worklists.pictures import (
    BARS,
    CAP,
    ORDER,
    VALVES,
    Bar,
    bars_drawing,
    cap_drawing,
    first_kind,
    in_turn,
    order_drawings,
)
from shopcli.worklists.sheets import facts as facts_of
from shopcli.worklists.valve_turns import valve_turns


def task(working: str = "", system: str = "engine", **given: str) -> Task:
    call = WorkingCall(working, tuple(given.items())) if working else None
    return Task("a:b", "a", "1", "A step", system, working=call)


@pytest.mark.parametrize(
    ("step", "kind"),
    [
        (task("lead-order"), CAP),
        (task("tightening-order"), ORDER),
        (task("compression-spread"), BARS),
        (task("valve-sequence"), VALVES),
        (task(system="ignition"), CAP),
        (task("toe", system="ignition"), CAP),
        (task(), ""),
    ],
)
def test_the_sum_of_the_task_says_what_stands_first(step: Task, kind: str) -> None:
    assert first_kind(step) == kind


def test_one_begins_at_the_first_where_none_fits_better() -> None:
    assert in_turn((CAP, ORDER, VALVES), VALVES) == 2
    assert in_turn((CAP, ORDER), VALVES) == 0
    assert in_turn((CAP,), "") == 0


def test_the_cap_has_every_tower_and_the_high_tension_before_it() -> None:
    facts = VehicleFacts(
        cylinders=("1", "2", "3", "4"), layout="inline four", firing_order=("1", "3", "4", "2"), rotor="cw"
    )
    drawn = cap_drawing(facts)
    assert drawn is not None
    assert "high tension" in drawn.cautions[0]
    assert {c for row in drawn.rows for c in row if c.isdigit()} == {"1", "2", "3", "4"}
    assert any("Keep the leads" in word for word in drawn.words), "the row of cylinders is known"
    plain = cap_drawing(facts, plain=True)
    assert plain is not None
    assert all(row.isascii() for row in plain.rows)


@pytest.mark.parametrize(
    "facts",
    [
        VehicleFacts(),
        VehicleFacts(cylinders=("1", "2"), firing_order=("1", "2")),
        VehicleFacts(cylinders=("1", "2"), rotor="cw"),
        VehicleFacts(cylinders=("front", "rear"), firing_order=("front", "rear"), rotor="cw"),
    ],
    ids=("nothing", "no rotor", "no order", "names"),
)
def test_no_cap_where_the_facts_do_not_tell(facts: VehicleFacts) -> None:
    assert cap_drawing(facts) is None


def test_the_task_s_own_order_stands_before_those_of_the_vehicle() -> None:
    facts = VehicleFacts(other=(("head_bolts", "10"), ("wheel_nuts", "5")))
    own = task("tightening-order", pattern="wheel or drum", count="5")
    assert [d.title for d in order_drawings(own, facts)] == ["Tightening: wheel or drum", "Tightening: head"]
    assert any("Hand-tight nuts" in caution for caution in order_drawings(own, facts)[0].cautions)


def test_a_head_nobody_told_the_rows_of_says_so() -> None:
    guessed = order_drawings(task(), VehicleFacts(other=(("head_bolts", "10"),)))[0]
    assert "two rows of 5" in guessed.cautions[0]
    told = order_drawings(task(), VehicleFacts(other=(("head_bolts", "15"), ("head_bolt_rows", "3"))))[0]
    assert "Drawn as" not in "".join(told.cautions)
    assert order_drawings(task(), VehicleFacts(other=(("head_bolts", "11"),))) == ()


def test_bars_carry_the_names_of_the_engine_and_the_limit() -> None:
    bars = (Bar("A", 150.0, "150 psi"), Bar("12", 75.0, "75 psi"))
    drawn = bars_drawing("compression", bars, 100.0, "at least 100 psi", plain=True)
    assert drawn is not None
    first, second, limit = drawn.rows
    assert first.startswith("No.  A |")
    assert second.startswith("No. 12 |")
    assert first.count("#") > second.count("#")
    assert "at least 100 psi" in limit
    assert all(row.isascii() for row in drawn.rows)


@pytest.mark.parametrize("values", [(), (5.0,), (0.0, 0.0), (5.0, -1.0)])
def test_no_bars_of_what_cannot_be_compared(values: tuple[float, ...]) -> None:
    assert bars_drawing("x", [Bar(str(i), v, "") for i, v in enumerate(values)]) is None


def test_the_crank_goes_round_every_valve_of_every_family_once(library: Library) -> None:
    seen = 0
    for sheet in library.sheets:
        facts = facts_of(library, sheet, {})
        turns = valve_turns(facts)
        if turns:
            seen += 1
            assert sorted(v for t in turns for v in t.valves) == sorted(facts.valves)
            assert sum(t.turn_deg for t in turns) == pytest.approx(720)
            assert [t.cylinder for t in turns] == list(facts.firing_order)
            assert all(t.rocks != t.cylinder for t in turns)
    assert seen >= 5


def test_companions_of_an_inline_six() -> None:
    """1 and 6, 5 and 2, 3 and 4: TM 5-6115-400-12 names No. 1 with No. 6 for 1-5-3-6-2-4."""
    six = tuple("123456")
    facts = VehicleFacts(cylinders=six, firing_order=tuple("153624"), valves=tuple(f"{c} inlet" for c in six))
    assert {frozenset((t.cylinder, t.rocks)) for t in valve_turns(facts)} == {
        frozenset("16"),
        frozenset("52"),
        frozenset("34"),
    }


def test_three_cylinders_rock_nobody() -> None:
    facts = VehicleFacts(cylinders=("1", "2", "3"), firing_order=("1", "3", "2"), valves=("1 inlet",))
    assert [t.rocks for t in valve_turns(facts)] == ["", "", ""]
    assert "rocks" not in valve_turns(facts)[0].words()


@pytest.mark.parametrize(
    "facts",
    [
        VehicleFacts(cylinders=("1", "2"), valves=("1 inlet",)),
        VehicleFacts(cylinders=("1", "2"), firing_order=("1", "2")),
        VehicleFacts(firing_order=("1", "2"), valves=("1 inlet",), other=(("strokes", "two"),)),
        VehicleFacts(firing_order=("left", "right"), valves=("left inlet",)),
    ],
    ids=("no order", "no valves", "two-stroke", "names"),
)
def test_no_turns_where_the_facts_do_not_tell(facts: VehicleFacts) -> None:
    assert valve_turns(facts) == ()
