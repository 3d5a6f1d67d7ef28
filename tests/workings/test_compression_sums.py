"""Compression, leakage and engine size: laws, second routes, golden pictures."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.units.kinds import from_canonical, to_canonical
from shopcli.workings import catalogue
from shopcli.workings.altitude import (
    SEA_LEVEL_PSI,
    air_density_ratio,
    air_pressure_ratio,
    sea_level_gauge_psi,
)
from shopcli.workings.compression import compression_picture
from shopcli.workings.engine import (
    CC_PER_IN3,
    clearance_for_ratio,
    compression_ratio,
    cranking_pressure,
    displacement,
)
from shopcli.workings.leakage import HEARD, leak_band, leak_percent, leak_picture, wet_rise_percent
from shopcli.workings.spread import PSI_IN, RULES, judge_spread, low_cylinders, lowest_percent

readings = st.lists(st.floats(1, 300), min_size=2, max_size=12)


@given(readings, st.randoms(use_true_random=False))
def test_spread_does_not_care_for_the_order(values: list[float], dice) -> None:
    mixed = list(values)
    dice.shuffle(mixed)
    assert lowest_percent(mixed) == lowest_percent(values) <= 100


@given(readings, st.floats(0.5, 2), st.floats(0, 100))
def test_percent_rules_do_not_care_for_the_gauge(values: list[float], factor: float, allowed: float) -> None:
    scaled = [factor * value for value in values]
    for rule in RULES[:2]:
        one = judge_spread(values, rule, allowed_percent=allowed).threshold_psi
        assert judge_spread(scaled, rule, allowed_percent=allowed).threshold_psi == pytest.approx(
            factor * one
        )


@given(readings, st.floats(0, 90), st.floats(0, 10))
def test_a_stricter_rule_never_passes_more(values: list[float], allowed: float, more: float) -> None:
    mild = judge_spread(values, RULES[0], allowed_percent=allowed).threshold_psi
    strict = judge_spread(values, RULES[0], allowed_percent=allowed + more).threshold_psi
    assert set(low_cylinders(values, mild)) <= set(low_cylinders(values, strict))


@given(readings)
def test_readings_at_the_limit_pass(values: list[float]) -> None:
    share = lowest_percent(values)
    assert low_cylinders(values, judge_spread(values, RULES[0], allowed_percent=share).threshold_psi) == ()
    span = max(values) - min(values)
    assert low_cylinders(values, judge_spread(values, RULES[2], allowed_psi=span).threshold_psi) == ()


def test_same_readings_pass_one_rule_and_fail_another() -> None:
    """Readings of TM 5-3895-359-14&P; 75 %: TM 5-4210-230-14&P-1; within 25 psi: a two-stroke diesel manual."""
    values = (445, 440, 405, 435)
    share = catalogue.run("compression-spread", readings_psi=values, rule=RULES[0], allowed_percent=75)
    span = catalogue.run("compression-spread", readings_psi=values, rule=RULES[2], allowed_psi=25)
    assert share["passes"] is True
    assert span["passes"] is False
    assert span["low"] == (3,)
    assert share.verdict == "passes by the rule: lowest at least 75 % of the highest"
    assert span.verdict == "No. 3 low by the rule: highest and lowest within 25 psi"


def test_least_of_the_handbook_is_judged_too() -> None:
    worked = catalogue.run(
        "compression-spread", readings_psi=(92, 90), rule=RULES[1], allowed_percent=20, minimum_psi=100
    )
    assert worked["passes"] is False
    assert worked["low"] == ()
    assert worked["weak"] == (1, 2)
    assert "No. 1 and 2 below 100 psi" in worked.verdict


def test_a_rule_without_its_figure_is_refused() -> None:
    for rule, wrong in ((RULES[0], {"allowed_psi": 10}), (RULES[2], {"allowed_percent": 10})):
        with pytest.raises(BadInput, match="missing"):
            catalogue.run("compression-spread", readings_psi=(100, 90), rule=rule, **wrong)
    with pytest.raises(BadInput, match="1 readings"):
        catalogue.run("compression-spread", readings_psi=(100,), rule=RULES[0], allowed_percent=75)
    with pytest.raises(OutOfRange):
        catalogue.run("compression-spread", readings_psi=(0, 0), rule=RULES[0], allowed_percent=75)


@pytest.mark.parametrize("unit", PSI_IN)
def test_pressure_units_agree_with_the_units_layer(unit: str) -> None:
    assert PSI_IN[unit] == pytest.approx(from_canonical(to_canonical(1.0, "psi"), unit), rel=1e-12)


BARS = """\
No.  1 │██████████████████████████████┊█████████│ 150 psi  100 %
No.  2 │██████████████████████████████┊██████░░░│ 140 psi   93 %
No.  3 │██████████████████████████████┊████░░░░░│ 130 psi   87 %
No.  4 │██████████████████████████████┊░░░░░░░░░│ 112 psi   75 % low
┊ limit by this rule 113 psi"""


def test_bars_of_a_compression_test() -> None:
    """150 and 112 fail the 75 % rule: TM 5-4210-230-14&P-1 Addendum 2."""
    worked = catalogue.run(
        "compression-spread", readings_psi=(150, 140, 130, 112), rule=RULES[0], allowed_percent=75
    )
    assert worked.picture == BARS
    assert worked.verdict.startswith("No. 4 low")


def test_bars_speak_the_unit_asked_for() -> None:
    assert "10.3 bar" in compression_picture([150.0, 140.0], 100.0, "bar")


@settings(deadline=None)  # the first call imports the library
@given(st.floats(-400, 5000))
def test_standard_air_agrees_with_fluids(height_m: float) -> None:
    fluids = pytest.importorskip("fluids")
    here, sea = fluids.ATMOSPHERE_1976(Z=height_m), fluids.ATMOSPHERE_1976(Z=0)
    assert air_pressure_ratio(height_m) == pytest.approx(here.P / sea.P, rel=1e-5)
    assert air_density_ratio(height_m) == pytest.approx(here.rho / sea.rho, rel=1e-5)


@given(st.floats(1, 300), st.floats(0, 4900), st.floats(1, 100))
def test_sea_level_reading_rises_with_height(gauge: float, height: float, more: float) -> None:
    def at(metres: float) -> float:
        return sea_level_gauge_psi(gauge, SEA_LEVEL_PSI * air_pressure_ratio(metres))

    assert at(height + more) > at(height) >= gauge - 1e-9


def test_true_air_pressure_counts_before_the_standard_air() -> None:
    worked = catalogue.run("compression-altitude", reading_psi=120, altitude_m=1524, barometer_kpa=101.325)
    assert worked["sea_level_psi"] == pytest.approx(120)
    assert worked["by_density_psi"] == pytest.approx(120 / 0.8617, rel=1e-3)


@given(st.floats(1, 300), st.floats(1, 300))
def test_wet_rise_has_the_sign_of_the_change(dry: float, wet: float) -> None:
    assert (wet_rise_percent(dry, wet) > 0) == (wet > dry)
    assert dry * (1 + wet_rise_percent(dry, wet) / 100) == pytest.approx(wet)


def test_wet_test_tells_rings_from_valves_from_gasket() -> None:
    """Rise: rings; none: valves, or the gasket if neighbours are low: TM 5-4210-230-14&P-1 Addendum 2."""
    rings = catalogue.run("wet-test", dry_psi=(150, 80, 148, 150), wet_psi=(155, 130, 150, 152))
    assert "No. 2: 80 to 130 psi, 63 %: clear rise, rings or bore" in rings.verdict
    valves = catalogue.run("wet-test", dry_psi=(150, 80, 148, 150), wet_psi=(155, 83, 150, 152))
    assert valves.verdict.endswith("no clear rise, valves")
    low_pair = {"dry_psi": (150, 80, 82, 150), "wet_psi": (155, 83, 84, 152)}
    gasket = catalogue.run("wet-test", **low_pair, banks="1-2-3-4")
    assert gasket.verdict.count("head gasket") == 2
    apart = catalogue.run("wet-test", **low_pair, banks="1-2/3-4")
    assert "head gasket" not in apart.verdict
    unknown = catalogue.run("wet-test", **low_pair)
    assert "head gasket" not in unknown.verdict
    assert any("head gasket" in caution for caution in unknown.cautions)
    dead = catalogue.run("wet-test", dry_psi=(150, 0), wet_psi=(150, 0))
    assert "holed piston" in dead.verdict
    with pytest.raises(BadInput, match="wet readings"):
        catalogue.run("wet-test", dry_psi=(150, 80), wet_psi=(150,))


@given(st.floats(1, 200), st.floats(0, 1))
def test_leak_and_held_make_up_the_whole(supply: float, share: float) -> None:
    leak = leak_percent(supply, share * supply)
    assert 0 <= leak <= 100
    assert leak + 100 * share == pytest.approx(100)
    assert leak_band(min(leak, 100.0)) in ("good", "fair", "bad")


LEAKS = """\
No.  1 |###.......:.............................| 8 %
No.  2 |##########:.............................| 25 %
No.  3 |##########:####.........................| 38 %
: limit 25 %"""


def test_leak_down_by_the_printed_limit() -> None:
    """At most 25 % at 80 psi: published leak-down procedure."""
    assert leak_picture([7.5, 25, 37.5], 25, ascii_only=True) == LEAKS
    worked = catalogue.run("leak-down", supply_psi=80, held_psi=(74, 60, 50), limit_percent=25)
    assert worked["over"] == (3,)
    assert worked.picture == leak_picture([7.5, 25, 37.5], 25)
    bands = catalogue.run("leak-down", supply_psi=100, held_psi=(95, 85, 75))
    assert [step.rsplit(", ", 1)[1] for step in bands.steps] == ["good", "fair", "bad"]
    assert "common practice" in bands.verdict


@pytest.mark.parametrize("heard", HEARD)
def test_where_air_is_heard_names_the_leak(heard: str) -> None:
    assert catalogue.run("leak-down", supply_psi=80, held_psi=(50,), heard=heard)["points_to"] == HEARD[heard]


@given(st.floats(1, 200), st.floats(1, 200), st.integers(1, 12))
def test_displacement_is_a_volume(bore: float, stroke: float, cylinders: int) -> None:
    one = displacement(bore, stroke, cylinders)
    assert displacement(2 * bore, 2 * stroke, cylinders) == pytest.approx(8 * one)
    assert displacement(bore, stroke) * cylinders == pytest.approx(one)


@given(st.floats(50, 1000), st.floats(2.1, 20))
def test_clearance_and_ratio_are_inverse(swept: float, ratio: float) -> None:
    assert compression_ratio(swept, clearance_for_ratio(swept, ratio)) == pytest.approx(ratio)


def test_displacement_in_both_systems() -> None:
    """3-1/8 x 4-3/8 in four: 134.2 cu in published."""
    worked = catalogue.run("displacement", bore_mm=79.375, stroke_mm=111.125, cylinders=4)
    assert worked["total_in3"] == pytest.approx(134.2, abs=0.05)
    assert from_canonical(to_canonical(1.0, "in3"), "cc") == pytest.approx(CC_PER_IN3)


@given(st.floats(0, 3), st.floats(0, 5), st.floats(0.1, 2))
def test_room_above_the_piston_lowers_the_ratio(gasket: float, deck: float, more: float) -> None:
    base = {"bore_mm": 77.0, "stroke_mm": 64.0, "chamber_cc": 43.0, "gasket_mm": gasket}
    tight = catalogue.run("compression-ratio", **base, deck_mm=deck)
    roomy = catalogue.run("compression-ratio", **base, deck_mm=deck + more)
    assert roomy["ratio"] < tight["ratio"]
    assert tight["ratio"] == pytest.approx(1 + tight["swept_cc"] / tight["clearance_cc"])


def test_what_to_take_off_for_a_wanted_ratio_gets_there() -> None:
    base = {"bore_mm": 77.0, "stroke_mm": 64.0, "chamber_cc": 53.0}
    change = catalogue.run("compression-ratio", **base, wanted_ratio=7.5)["change_cc"]
    assert change < 0
    after = catalogue.run("compression-ratio", **{**base, "chamber_cc": 53.0 + change})
    assert after["ratio"] == pytest.approx(7.5)
    with pytest.raises(OutOfRange, match="room above"):
        catalogue.run("compression-ratio", **base, dish_cc=-60)


@given(st.floats(2, 20), st.floats(0.1, 2), st.floats(1.05, 1.35))
def test_cranking_guess_rises_with_ratio_and_exponent(ratio: float, more: float, exponent: float) -> None:
    guess = cranking_pressure(ratio, exponent, 14.7)
    assert cranking_pressure(ratio + more, exponent, 14.7) > guess
    assert cranking_pressure(ratio, exponent + 0.01, 14.7) > guess
