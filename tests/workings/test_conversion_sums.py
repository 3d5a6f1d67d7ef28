"""Inch fractions, fuel use and feeler stacks: laws, second routes, and what a person reads."""

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange, ShopError
from shopcli.units.kinds import from_canonical, to_canonical
from shopcli.workings import catalogue
from shopcli.workings.conversions import fraction_text, inches_to_mm, nearest_fraction, parse_inches
from shopcli.workings.feelers import Stack, all_stacks, best_stack, owned_blades
from shopcli.workings.fuel import l_per_100km, miles_per_gallon, use_over_fills


@given(st.integers(0, 999), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_a_fraction_written_is_the_fraction_read(whole: int, part: int, denominator: int) -> None:
    exact = whole + Fraction(part % denominator, denominator)
    assert parse_inches(fraction_text(exact)) == exact
    assert nearest_fraction(inches_to_mm(exact), 64) == exact


@given(st.floats(0, 1000), st.sampled_from([2, 4, 8, 16, 32, 64, 128]))
def test_nearest_fraction_is_never_off_by_more_than_half_a_division(
    length_mm: float, denominator: int
) -> None:
    off = abs(inches_to_mm(nearest_fraction(length_mm, denominator)) - length_mm)
    assert off <= 25.4 / denominator / 2 + 1e-9


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("1 1/16", Fraction(17, 16)), ("1-1/16\"", Fraction(17, 16)), ("17/16 in", Fraction(17, 16)),
        ("3½", Fraction(7, 2)), ("½″", Fraction(1, 2)), (".006", Fraction(6, 1000)), ("5.", Fraction(5)),
        ("2 inches", Fraction(2)), ("7 / 8", Fraction(7, 8)),
    ],
)  # fmt: skip
def test_inches_are_read_as_written(text: str, inches: Fraction) -> None:
    assert parse_inches(text) == inches


@pytest.mark.parametrize(
    "text", ["", ".", "1/0", "-1/2", "1//2", "half", "1 2", "١/٢", "2²", "12345/2", "1e3"]
)
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse_inches(text)


@given(st.text(max_size=30))
def test_reading_inches_never_breaks(text: str) -> None:
    try:
        assert 0 <= parse_inches(text) <= 1000
    except ShopError as error:
        assert error.message


def test_fraction_working_wants_one_of_two() -> None:
    with pytest.raises(BadInput, match="either"):
        catalogue.run("inch-fraction")
    with pytest.raises(BadInput, match="either"):
        catalogue.run("inch-fraction", inches="1", length_mm=3)
    worked = catalogue.run("inch-fraction", length_mm=13, denominator="64")
    assert worked["fraction"] == "33/64 in"
    assert worked["off_mm"] == pytest.approx(0.0969, abs=1e-4)


@given(st.floats(1, 500), st.sampled_from(["imp", "us"]))
def test_fuel_use_is_its_own_inverse(mpg: float, gallon: str) -> None:
    assert miles_per_gallon(l_per_100km(mpg, gallon), gallon) == pytest.approx(mpg)


@given(st.floats(1, 200))
def test_fuel_use_agrees_with_the_units_layer(mpg: float) -> None:
    for gallon in ("imp", "us"):
        second = from_canonical(to_canonical(mpg, f"mpg_{gallon}"), "L/100km")
        assert l_per_100km(mpg, gallon) == pytest.approx(second, rel=1e-9)


@given(st.lists(st.tuples(st.floats(1, 900), st.floats(1, 90)), min_size=1, max_size=8))
def test_use_over_fills_lies_between_the_best_and_the_worst(fills: list[tuple[float, float]]) -> None:
    distances, fuels = (tuple(column) for column in zip(*fills, strict=True))
    single = [100 * fuel / distance for distance, fuel in fills]
    assert min(single) * (1 - 1e-9) <= use_over_fills(distances, fuels) <= max(single) * (1 + 1e-9)


INCH = (1.5, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15)
METRIC = (0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)
few_blades = st.lists(st.sampled_from(INCH), max_size=5, unique=True)
few_metric = st.lists(st.sampled_from(METRIC), min_size=1, max_size=4, unique=True)


@given(few_blades, few_metric, st.integers(1, 4))
def test_stacks_are_all_the_thicknesses_there_are(inch: list[float], metric: list[float], most: int) -> None:
    blades = owned_blades(inch, metric)
    tried = {(n, sum(b.tenths for b in some)) for n in range(1, most + 1) for some in combinations(blades, n)}
    stacks = all_stacks(blades, most, 10**6)
    assert {(len(stack.blades), stack.tenths) for stack in stacks} == tried
    assert all(len(set(map(id, stack.blades))) == len(stack.blades) for stack in stacks)


@given(few_blades, few_metric, st.integers(300, 9000), st.integers(0, 300))
def test_setting_stack_is_the_best_by_trying_all(
    inch: list[float], metric: list[float], gap: int, tolerance: int
) -> None:
    blades = owned_blades(inch, metric)

    def rank(stack: Stack) -> tuple[float, ...]:
        return len(stack.blades), abs(stack.tenths - gap)

    every = [Stack(some) for n in (1, 2, 3) for some in combinations(blades, n)]
    fitting = [rank(s) for s in every if abs(s.tenths - gap) <= tolerance]
    best = best_stack(all_stacks(blades, 3, 10**6), gap - tolerance, gap + tolerance, rank)
    assert (rank(best) if best else None) == min(fitting, default=None)


@given(st.floats(0.05, 1.0), st.floats(0, 0.1), st.floats(0, 0.1))
def test_go_and_no_go_keep_inside_the_limits(gap: float, below: float, above: float) -> None:
    low, high = max(gap - below, 0.0), gap + above
    worked = catalogue.run(
        "feeler-stack", gap_mm=gap, low_mm=low, high_mm=high, inch_blades_thou=INCH, metric_blades_mm=METRIC
    )
    for name in ("setting", "go", "no_go"):
        if worked[name] is not None:
            assert low - 1e-4 <= worked[name] <= high + 1e-4
    if worked["go"] is not None and worked["no_go"] is not None:
        assert worked["go"] < worked["no_go"]


def test_common_gap_with_inch_blades() -> None:
    """0.15 mm and 6 thou are spoken of as one: common practice, no source."""
    worked = catalogue.run("feeler-stack", gap_mm=0.15, inch_blades_thou=INCH)
    assert worked["setting_blades"] == ("6 thou",)
    assert worked["setting"] == 0.1524
    assert "0.0024 mm over" in worked.verdict


def test_stack_out_of_reach_names_the_nearest() -> None:
    worked = catalogue.run("feeler-stack", gap_mm=2.0, metric_blades_mm=(0.1, 0.3, 0.5))
    assert worked["setting"] is None
    assert "nearest is 0.50 mm + 0.30 mm + 0.10 mm" in worked.verdict


def test_no_blades_no_stack() -> None:
    with pytest.raises(BadInput, match="0 blades"):
        catalogue.run("feeler-stack", gap_mm=0.15)
    with pytest.raises(BadInput, match="between its limits"):
        catalogue.run("feeler-stack", gap_mm=0.15, low_mm=0.2, high_mm=0.3, metric_blades_mm=(0.1,))
    with pytest.raises(OutOfRange):
        owned_blades([], [0.001])
