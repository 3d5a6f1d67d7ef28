"""Oil and coolant."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import coolant, fluids, oil

GRADE, VISCOSITY, DIPSTICK, STRENGTH, FREEZE = fluids.WORKINGS

# SAE J300 of January 2015 and after: a lubricant maker's public page (grades 20 and up of 2015 also elsewhere)
J300_2015 = {20: (6.9, 9.3, 2.6), 30: (9.3, 12.5, 2.9), 50: (16.3, 21.9, 3.7), 60: (21.9, 26.1, 3.7)}
# cranking limits: the same page and two more
CRANKING = {
    "0W": (6200, -35), "5W": (6600, -30), "10W": (7000, -25), "15W": (7000, -20), "20W": (9500, -15),
    "25W": (13000, -10),
}  # fmt: skip


def test_tables_as_printed() -> None:
    assert {w.grade: (w.cranking, w.cranking_c) for w in oil.WINTER} == CRANKING
    assert all(w.pumping_c == w.cranking_c - 5 for w in oil.WINTER)
    held = {s.grade: (s.low, s.high, s.sheared) for s in oil.SUMMER["2015"]}
    assert {grade: held[grade] for grade in J300_2015} == J300_2015


@given(st.floats(-35, 30), st.floats(-35, 30))
def test_colder_never_asks_for_a_thicker_grade(one: float, other: float) -> None:
    order = list(CRANKING)
    cold, warm = sorted((one, other))
    assert order.index(oil.winter_grade(cold).grade) <= order.index(oil.winter_grade(warm).grade)
    assert oil.winter_grade(cold).cranking_c <= cold


def test_colder_than_the_table_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        oil.winter_grade(-36)
    assert "pre-heat" in caught.value.hint


@given(st.floats(5.6, 26.09), st.sampled_from(["1999", "2015"]))
def test_every_viscosity_has_a_grade_and_lies_in_it(viscosity: float, revision: str) -> None:
    table = {s.grade: s for s in oil.SUMMER[revision]}
    found = oil.grades_of(viscosity, revision)
    assert found
    for grade in found:
        assert table[grade].low <= viscosity < table[grade].high


def test_the_revision_matters() -> None:
    """SAE 20 began at 5.6 in 1999 and begins at 6.9 since 2015 (read in both tables)."""
    assert oil.grades_of(6.0, "1999") == (20,)
    assert oil.grades_of(6.0, "2015") == (8, 12)
    with pytest.raises(OutOfRange):
        oil.grades_of(26.1)
    with pytest.raises(BadInput):
        oil.grades_of(10, "1911")


def test_hot_grade_is_the_handbook_s() -> None:
    assert GRADE.run(coldest_c=-14.0, handbook_upper=50)["grade"] == "SAE 20W-50"
    with pytest.raises(BadInput):
        GRADE.run(coldest_c=-14.0, handbook_upper=45)
    assert "SAE 40" in VISCOSITY.run(viscosity=14.0).verdict


@given(st.floats(0, 200), st.floats(0, 100), st.floats(0.1, 5))
def test_after_adding_the_level_is_the_wanted_one(level: float, target: float, span: float) -> None:
    added = oil.to_add_l(level, target, span)
    assert level + 100 * added / span == pytest.approx(target, abs=1e-6)


def test_dipstick_in_words() -> None:
    assert DIPSTICK.run(level_percent=25.0)["add_l"] == 0.75
    assert "whips the oil" in DIPSTICK.run(level_percent=130.0).verdict
    assert DIPSTICK.run(level_percent=100.0).verdict == "The level is right."
    with pytest.raises(OutOfRange) as caught:
        DIPSTICK.run(level_percent=-10.0)
    assert "Off the stick" in caught.value.hint


def test_freezing_points_against_coolprop() -> None:
    """Second route: ASHRAE's ethylene glycol as CoolProp has it, between the steps of the table too."""
    library = pytest.importorskip("CoolProp.CoolProp")
    for percent in range(10, 61):
        printed = library.PropsSI("T_freeze", "T", 300, "P", 101325, f"INCOMP::AEG[{percent / 100}]") - 273.15
        assert coolant.freeze_c(percent / 100) == pytest.approx(printed, abs=0.15), percent


@given(st.floats(0.10, 0.60))
def test_strength_and_freezing_point_undo_each_other(part: float) -> None:
    assert coolant.part_for(coolant.freeze_c(part)) == pytest.approx(part, abs=1e-6)


@given(st.floats(0.10, 0.59), st.floats(0.001, 0.01))
def test_stronger_stands_more_frost(part: float, more: float) -> None:
    assert coolant.freeze_c(part + more) < coolant.freeze_c(part)


def test_nothing_beyond_the_table() -> None:
    with pytest.raises(OutOfRange) as caught:
        coolant.freeze_c(0.65)
    assert "worse" in caught.value.hint
    with pytest.raises(OutOfRange):
        coolant.freeze_c(0.05)
    with pytest.raises(OutOfRange):
        coolant.part_for(-60)


PARTS = st.floats(0, 1)


@given(st.floats(1, 30), PARTS, PARTS, PARTS)
def test_glycol_is_neither_lost_nor_made(volume: float, now: float, wanted: float, refill: float) -> None:
    assume(abs(refill - now) > 1e-3)
    try:
        amount = coolant.drain_l(volume, now, wanted, refill)
    except OutOfRange:
        assert not min(now, refill) <= wanted <= max(now, refill)
        return
    assert 0 <= amount <= volume * (1 + 1e-9)
    assert (volume - amount) * now + amount * refill == pytest.approx(volume * wanted, abs=1e-9)


@given(st.floats(5, 12), st.floats(0, 0.4), st.floats(0.3, 1.0))
def test_rounds_arrive(volume: float, now: float, part: float) -> None:
    made = coolant.rounds(volume_l=volume, now=now, wanted=0.5, refill=1.0, drainable_l=part * volume)
    strength = now
    for amount in made:
        assert 0 < amount <= part * volume
        strength += (1.0 - strength) * amount / volume
    assert strength == pytest.approx(0.5)


def test_strength_in_words() -> None:
    worked = STRENGTH.run(volume_l=8.5, now_percent=25.0, wanted_percent=50.0)
    assert worked.verdict == "Drain and replace 2.83 L. It then stands -37 °C."
    tapped = STRENGTH.run(volume_l=8.5, now_percent=25.0, wanted_percent=50.0, drainable_l=2.0)
    assert tapped["rounds"] == 2
    with pytest.raises(OutOfRange):
        STRENGTH.run(volume_l=8.5, now_percent=25.0, wanted_percent=60.0, refill_percent=50.0)
    with pytest.raises(OutOfRange):
        STRENGTH.run(volume_l=8.5, now_percent=25.0, wanted_percent=70.0)


def test_freeze_asks_for_one_of_two() -> None:
    assert FREEZE.run(freezing_c=-24.8)["percent"] == pytest.approx(40.0)
    assert "weak against corrosion" in FREEZE.run(percent=25.0).verdict
    with pytest.raises(BadInput):
        FREEZE.run()
    with pytest.raises(BadInput):
        FREEZE.run(percent=30.0, freezing_c=-10.0)
