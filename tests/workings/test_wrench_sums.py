"""Torque wrenches: setting with an adapter, range, graduation and calibration."""

import math
from datetime import date, timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import wrench_sums, wrenches
from shopcli.workings.wrench_sums import Wrench

WITH_EXTENSION, CHOICE = wrenches.WORKINGS
TODAY = date(2024, 6, 1)


def wrench(name: str = "mid", **changes: object) -> Wrench:
    made = {
        "low": 20.0,
        "high": 100.0,
        "unit": "Nm",
        "graduation": 0.5,
        "calibrated": date(2024, 1, 1),
        "cycles": 10,
    }
    return Wrench(name, **{**made, **changes})


@given(st.floats(1, 500), st.floats(100, 1000), st.floats(0, 100), st.floats(0, 180))
def test_setting_and_torque_undo_each_other(
    torque: float, length: float, adapter: float, angle: float
) -> None:
    """Second route: the moment about the fastener from the force in the hand (statics)."""
    across = adapter * math.cos(math.radians(angle))
    assume(length + across >= 0.11 * length)  # an adapter folded back nearly to the hand is refused
    force = wrench_sums.wrench_setting(torque, length, adapter, angle) / length
    assert force * (length + across) == pytest.approx(torque, rel=1e-9)


@given(st.floats(0, 179), st.floats(0.5, 1))
def test_setting_rises_as_the_adapter_folds_back(angle: float, more: float) -> None:
    assert wrench_sums.wrench_setting(50, 400, 60, angle + more) >= wrench_sums.wrench_setting(
        50, 400, 60, angle
    )


def test_no_adapter_no_correction() -> None:
    assert wrench_sums.wrench_setting(50, 400, 0, 0) == 50
    assert wrench_sums.wrench_setting(50, 400, 60, 90) == pytest.approx(50)


def test_adapter_longer_than_the_wrench_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        wrench_sums.wrench_setting(50, 100, 150)
    assert "hand" in caught.value.hint


@given(st.integers(1, 4000), st.sampled_from([0.1, 0.25, 0.5, 1.0, 2.0, 5.0]))
def test_marks_lie_on_the_scale_and_near(tenths: int, step: float) -> None:
    value = tenths / 10
    mark = wrench_sums.to_graduation(value, step)
    assert round(mark / step, 6) == round(mark / step)
    assert abs(mark - value) <= step / 2 + 1e-9


@given(st.dates(date(2000, 1, 1), date(2090, 12, 31)))
def test_calibration_runs_about_a_year(day: date) -> None:
    due = wrench_sums.due_date(day)
    assert timedelta(364) <= due - day <= timedelta(366)
    assert due.month == day.month


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"calibrated": date(2023, 6, 1)}, "ran out on 2024-06-01"),
        ({"cycles": 5000}, "5000 cycles"),
        ({"calibrated": date(2024, 7, 1)}, "still to come"),
        ({"low": 50.0}, "range"),
        ({"high": 40.0}, "range"),
        ({"graduation": 20.0}, "too coarse"),
    ],
)
def test_why_a_wrench_will_not_do(changes: dict[str, object], reason: str) -> None:
    choice = wrench_sums.judge_wrench(wrench(**changes), 47.2, TODAY)
    assert not choice.usable
    assert reason in choice.reason


def test_one_day_before_it_runs_out_it_may_be_used() -> None:
    assert wrench_sums.judge_wrench(wrench(calibrated=date(2023, 6, 2)), 47.2, TODAY).usable


def test_a_setting_is_in_the_unit_of_the_scale() -> None:
    """1 lbf.ft = 1.3558179483 N.m (definition)."""
    pounds = wrench(low=10.0, high=80.0, unit="lbf.ft", graduation=1.0)
    choice = wrench_sums.judge_wrench(pounds, 47.2, TODAY)
    assert choice.setting == 35.0
    assert choice.error_percent == pytest.approx(100 * (35 * 1.3558179483 / 47.2 - 1))


def test_a_setting_never_leaves_the_scale() -> None:
    choice = wrench_sums.judge_wrench(wrench(low=20.3, high=99.9, graduation=1.0), 20.4, TODAY)
    assert choice.setting == 20.3


def test_lowest_fifth_comes_after_a_better_one() -> None:
    register = (wrench("large", high=300.0, low=20.0), wrench("mid"))
    ranked = wrenches.choose_wrench(40.0, register, TODAY)
    assert [c.wrench.name for c in ranked] == ["mid", "large"]
    assert "smaller wrench" in ranked[1].reason


@given(st.floats(1, 400))
def test_no_unusable_wrench_comes_first_while_one_will_do(torque: float) -> None:
    register = (wrench("a", low=5.0, high=25.0), wrench("b"), wrench("c", high=300.0, low=60.0, cycles=6000))
    ranked = wrenches.choose_wrench(torque, register, TODAY)
    assert len(ranked) == 3
    usable = [c.usable for c in ranked]
    assert usable == sorted(usable, reverse=True)


def test_choice_as_told() -> None:
    register = "small; 5; 25; Nm; 0.1; 2024-01-01; 10\nmid; 20; 100; Nm; 0.5; 2024-01-01; 10"
    worked = CHOICE.run(torque_nm=47.2, register=register, today="2024-06-01")
    assert worked.verdict == "mid, set to 47 N·m."
    assert "small: not to be used, range 5.0 to 25.0 N·m, wanted 47.2 N·m." in worked.steps


def test_none_will_do() -> None:
    worked = CHOICE.run(torque_nm=470.0, register="mid; 20; 100; Nm; 0.5; 2024-01-01; 10", today="2024-06-01")
    assert worked["wrench"] == "none"


@pytest.mark.parametrize(
    "line",
    [
        "mid; 20; 100; Nm",
        "mid; a; 100; Nm; 0.5; 2024-01-01; 10",
        "mid; 20; 100; ftlb; 0.5; 2024-01-01; 1",
        "",
    ],
)
def test_unreadable_register_is_named(line: str) -> None:
    with pytest.raises(BadInput):
        wrenches.read_register(line)


def test_extension_with_its_mark() -> None:
    worked = WITH_EXTENSION.run(torque=40.0, length_mm=400.0, extension_mm=60.0, graduation=0.5)
    assert worked["setting"] == pytest.approx(34.78, abs=0.01)
    assert worked["mark"] == 35.0
    assert worked["at_fastener"] == pytest.approx(40.25)
