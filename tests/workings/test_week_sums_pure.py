"""Little's law and listed times: published values, laws, and what is refused."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import OutOfRange
from shopcli.workings.listed_times import against, median_between
from shopcli.workings.little import little

ratios = st.lists(st.floats(0.2, 5.0), min_size=1, max_size=40)


def test_littles_law_on_a_shop_counted_day_by_day():
    """Cards of known stay, counted each day and held against rate and stay: two routes to one number."""
    rng = random.Random(7)
    stays, came = [], []
    for day in range(2_000):
        for _ in range(rng.choice((0, 1, 1, 2, 4))):
            came.append(day)
            stays.append(rng.randint(1, 20))
    window = range(200, 1_800)
    there = [sum(c <= day < c + s for c, s in zip(came, stays, strict=True)) for day in window]
    went = [s for c, s in zip(came, stays, strict=True) if window.start <= c + s < window.stop]
    said = little(sum(there) / len(there), len(went) / len(window) * 7, sum(went) / len(went))
    assert abs(said.off) < 0.01
    assert said.settled


def test_littles_law_says_which_way_it_is_off():
    assert "wait longer" in little(30, 10, 14).says
    assert "old cards" in little(10, 10, 14).says
    assert little(10, 0, 14).off is None
    assert "nothing went out" in little(10, 0, 14).says
    with pytest.raises(OutOfRange):
        little(-1, 1, 1)


@pytest.mark.parametrize(("cases", "coverage"), [(6, 0.96875), (8, 0.9921875), (10, 0.978516)])
def test_ranges_of_the_median_cover_what_the_binomial_says(cases, coverage):
    """Coverage of the range between order statistics: 1 - 2 sum of C(n, k) / 2^n (Thompson 1936); worked by hand."""
    left = median_between(cases)
    assert 1 - 2 * sum(math.comb(cases, k) for k in range(left + 1)) / 2**cases == pytest.approx(
        coverage, abs=1e-6
    )


def test_a_range_of_the_median_holds_it_as_often_as_it_says():
    rng, held, tries = random.Random(3), 0, 1_500
    for _ in range(tries):
        said = against([rng.lognormvariate(0.2, 0.4) for _ in range(15)])
        held += said.surely_from <= math.exp(0.2) <= said.surely_to
    # 15 cases between the 4th and the 12th: 1 - 2 (1 + 15 + 105 + 455) / 2^15 = 0.9648.
    assert held / tries == pytest.approx(0.9648, abs=0.015)


def test_a_listed_time_that_fits_is_seldom_said_to_be_wrong():
    rng = random.Random(5)
    wrong = sum(against([rng.lognormvariate(0, 0.4) for _ in range(12)]).to is not None for _ in range(600))
    assert wrong / 600 < 0.05


def test_one_that_is_far_off_is_found_and_named():
    rng = random.Random(6)
    found = [against([rng.lognormvariate(math.log(1.5), 0.3) for _ in range(20)]).to for _ in range(200)]
    there = [factor for factor in found if factor is not None]
    assert len(there) > 190
    assert sorted(there)[len(there) // 2] == pytest.approx(1.5, abs=0.05)


@given(ratios)
@settings(max_examples=40)
def test_order_of_the_figures(values):
    said = against(values)
    assert said.low <= said.middle <= said.high
    if said.surely_from is not None:
        assert min(values) <= said.surely_from <= said.middle <= said.surely_to <= max(values)
    if said.to is not None:
        assert said.cases >= 8
        assert abs(said.to - 1) >= 0.0999


@given(ratios, st.floats(0.5, 2.0))
@settings(max_examples=40)
def test_a_time_listed_twice_as_long_halves_every_ratio(values, scale):
    one, other = against(values), against([v * scale for v in values])
    assert other.middle == pytest.approx(one.middle * scale)
    assert other.high == pytest.approx(one.high * scale)


def test_no_cases_are_refused():
    for wrong in ([], [1.0, 0.0]):
        with pytest.raises(OutOfRange):
            against(wrong)
    with pytest.raises(OutOfRange):
        median_between(9, 1.0)
