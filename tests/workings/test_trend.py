"""Readings over the years. Second route: the standard library's own line of least squares."""

import statistics

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.workings.trend import YEAR_DAYS, slope_per_year, trend

VALUES = st.lists(st.floats(-1e3, 1e3), min_size=3, max_size=12)


@given(VALUES, st.data())
def test_the_line_is_that_of_the_standard_library(values: list[float], data: st.DataObject) -> None:
    days = sorted(data.draw(st.lists(st.integers(0, 9000), min_size=len(values), max_size=len(values))))
    assume(len(set(days)) > 1)
    line = statistics.linear_regression(days, values)
    assert slope_per_year(days, values) == pytest.approx(line.slope * YEAR_DAYS, rel=1e-6, abs=1e-6)


@given(
    st.floats(-10, 10),
    st.floats(-100, 100),
    st.lists(st.integers(0, 9000), min_size=2, max_size=9, unique=True),
)
def test_points_on_a_line_give_the_line(a_year: float, start: float, days: list[int]) -> None:
    days.sort()
    values = [start + a_year * day / YEAR_DAYS for day in days]
    assert slope_per_year(days, values) == pytest.approx(a_year, abs=1e-6)


@given(VALUES, st.floats(-1e3, 1e3), st.integers(0, 5000))
def test_neither_the_first_day_nor_the_nought_matters(values: list[float], more: float, later: int) -> None:
    days = [300.0 * i for i in range(len(values))]
    moved = slope_per_year([d + later for d in days], [v + more for v in values])
    assert moved == pytest.approx(slope_per_year(days, values), abs=1e-6)


@given(VALUES)
def test_turned_over_it_goes_the_other_way(values: list[float]) -> None:
    days = [300.0 * i for i in range(len(values))]
    one, other = trend(days, values, 0.5), trend(days, [-v for v in values], 0.5)
    assert one is not None
    assert other is not None
    assert one.way == -other.way
    assert one.keeps == other.keeps


def test_two_visits_are_a_difference_and_no_line() -> None:
    found = trend([0, 700], [0.30, 0.25], 0.01)
    assert found is not None
    assert found.per_year is None
    assert found.change == pytest.approx(-0.05)
    assert not found.keeps


def test_less_than_the_tool_reads_is_steady() -> None:
    found = trend([0, 365, 730], [6.0, 6.4, 5.8], 1.0)
    assert found is not None
    assert found.way == 0
    assert not found.keeps


def test_a_step_back_is_no_keeping_on() -> None:
    found = trend([0, 365, 730, 1100], [9.0, 6.0, 7.0, 3.0], 1.0)
    assert found is not None
    assert found.way == -1
    assert not found.keeps


def test_all_on_one_day_has_no_slope() -> None:
    assert slope_per_year([5, 5, 5], [1, 2, 3]) is None
    found = trend([5, 5, 5], [1, 2, 3], 0.5)
    assert found is not None
    assert found.per_year is None
    assert found.way == 1


@pytest.mark.parametrize("values", [[], [6.0]])
def test_one_visit_goes_nowhere(values: list[float]) -> None:
    assert trend(list(range(len(values))), values, 0.1) is None
