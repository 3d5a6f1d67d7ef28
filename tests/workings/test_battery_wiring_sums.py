"""Battery and cables."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, NotFound, OutOfRange, ShopError
from shopcli.workings import battery, battery_sums, cable_sums, wiring

STATE, REST, CHARGE, SPREAD = battery.WORKINGS
(DROP,) = wiring.WORKINGS

CELLS = """\
1  1.260  ##################################......
2  1.255  #################################.......
3  1.228  ############################............"""
# IEC 60228 class 5 plain copper, [ohm/km]: three public tables agree
CLASS_5 = {
    0.5: 39.0, 0.75: 26.0, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780,
    35: 0.554, 50: 0.386, 70: 0.272,
}  # fmt: skip
# AWG areas, [mm2]: a public table of cable sizes
AWG_MM2 = {4: 21.15, 6: 13.3018, 8: 8.3656, 10: 5.26, 12: 3.31, 14: 2.08, 16: 1.31}
# inch strand codes and their areas, [mm2]: a public page on old imperial cable
IMPERIAL = {"3/.029": 1.278, "7/.029": 2.983, "3/.036": 1.970, "7/.036": 4.597, "7/.044": 6.867}


@given(st.sampled_from(list(battery_sums.TABLES)), st.floats(0, 1), st.floats(0, 1))
def test_charge_rises_with_gravity(key: str, one: float, other: float) -> None:
    table = battery_sums.TABLES[key]
    low, high = sorted(table[-1][0] + part * (table[0][0] - table[-1][0]) for part in (one, other))
    assert battery_sums.charge_percent(low, table) <= battery_sums.charge_percent(high, table) + 1e-9


def test_interpolation_by_numpy() -> None:
    """Second route: numpy's own straight-line interpolation."""
    numpy = pytest.importorskip("numpy")
    for table in battery_sums.TABLES.values():
        points = sorted(table)
        for gravity in numpy.linspace(points[0][0], points[-1][0], 37):
            expected = numpy.interp(gravity, [p[0] for p in points], [p[1] for p in points])
            assert battery_sums.charge_percent(float(gravity), table) == pytest.approx(float(expected))


def test_the_two_army_tables_differ_by_a_fifth() -> None:
    """1.225 is 75 % of a battery filled to 1.265, about 54 % of one filled to 1.280 (both Army manuals)."""
    weak = STATE.run(reading=1.225, temperature_c=26.667, full_gravity=1.265)["charge_percent"]
    strong = STATE.run(reading=1.225, temperature_c=26.667, full_gravity=1.280)["charge_percent"]
    assert weak == pytest.approx(75, abs=0.1)
    assert strong == pytest.approx(54.2, abs=0.1)


def test_other_fillings_need_the_flat_gravity() -> None:
    with pytest.raises(BadInput, match="no printed table"):
        STATE.run(reading=1.20, temperature_c=20.0, full_gravity=1.230)
    worked = STATE.run(reading=1.16, temperature_c=26.667, full_gravity=1.230, flat_gravity=1.09)
    assert worked["charge_percent"] == pytest.approx(50, abs=0.1)


@given(st.floats(1.0, 1.35), st.floats(-40, 59))
def test_warmer_acid_is_corrected_up(reading: float, temperature: float) -> None:
    one, two = (battery_sums.gravity_at_80f(reading, t) for t in (temperature, temperature + 1))
    assert two - one == pytest.approx(0.00072)


def test_at_80_f_nothing_is_corrected() -> None:
    assert battery_sums.gravity_at_80f(1.25, (80 - 32) * 5 / 9) == pytest.approx(1.25)


@given(st.floats(1.05, 1.35), st.integers(1, 12))
def test_volts_and_gravity_undo_each_other(gravity: float, cells: int) -> None:
    volts = battery_sums.rest_volts(gravity, cells)
    assert battery_sums.gravity_from_volts(volts, cells) == pytest.approx(gravity)


def test_rest_comes_before_the_verdict() -> None:
    assert "Too early" in REST.run(volts=12.6, cells=6, full_gravity=1.265, rested_h=0.5).verdict
    assert "charged" in REST.run(volts=12.6, cells=6, full_gravity=1.265, rested_h=12.0).verdict
    with pytest.raises(OutOfRange) as caught:
        REST.run(volts=6.3, cells=6, full_gravity=1.265)
    assert "other cells" in caught.value.hint


def test_a_soft_battery_is_warned_of_frost() -> None:
    worked = STATE.run(reading=1.15, temperature_c=26.667, full_gravity=1.265)
    assert any("freezes" in c for c in worked.cautions)
    assert "sulphates" in worked.verdict


@given(st.floats(1, 300), st.floats(1, 100), st.floats(0.5, 50))
def test_twice_the_current_half_the_time(ah: float, missing: float, amps: float) -> None:
    assert battery_sums.charge_hours(ah, missing, 2 * amps) == pytest.approx(
        battery_sums.charge_hours(ah, missing, amps) / 2
    )


def test_charging_cautions() -> None:
    worked = CHARGE.run(capacity_ah=60.0, missing_percent=50.0, amps=10.0)
    assert worked["least_h"] == pytest.approx(3.6)
    assert any("explosive" in c for c in worked.cautions)
    assert any("tenth" in c for c in worked.cautions)


@given(st.lists(st.floats(1.0, 1.4), min_size=2, max_size=12).map(tuple))
def test_spread_does_not_mind_the_order(gravities: tuple[float, ...]) -> None:
    assert battery_sums.cell_spread(gravities) == battery_sums.cell_spread(tuple(reversed(gravities)))


def test_cells_in_a_picture() -> None:
    worked = SPREAD.run(gravities=(1.26, 1.255, 1.228), ascii_only=True)
    assert worked.picture == CELLS
    assert worked["weakest"] == 3
    assert worked["over"] is True
    assert SPREAD.run(gravities=(1.26, 1.235))["over"] is False  # 0.025 is still allowed


def test_class_5_as_printed() -> None:
    assert cable_sums.CLASS_5 == CLASS_5


@pytest.mark.parametrize(("gauge", "area"), AWG_MM2.items())
def test_gauge_areas_as_printed(gauge: int, area: float) -> None:
    assert cable_sums.awg_mm2(gauge) == pytest.approx(area, rel=5e-3)


@pytest.mark.parametrize(("code", "area"), IMPERIAL.items())
def test_inch_strands_as_printed(code: str, area: float) -> None:
    assert cable_sums.strand_mm2(code)[0] == pytest.approx(area, rel=2e-3)


@given(st.integers(1, 40))
def test_each_gauge_is_thinner_and_resists_more(gauge: int) -> None:
    assert cable_sums.awg_mil(gauge) < cable_sums.awg_mil(gauge - 1)
    assert cable_sums.awg_ohm_per_kft(gauge) > cable_sums.awg_ohm_per_kft(gauge - 1)


def test_gauge_and_copper_agree() -> None:
    """Second route: resistance from the area of the gauge by the copper constant, within 0.1 %."""
    for gauge in range(0, 41, 4):
        direct = cable_sums.awg_ohm_per_kft(gauge) / 0.3048
        assert cable_sums.copper_ohm_per_km(cable_sums.awg_mm2(gauge)) == pytest.approx(direct, rel=1e-3)


@given(st.floats(0, 500), st.floats(0, 50), st.floats(0.1, 40))
def test_the_return_wire_doubles_the_drop(amps: float, length: float, ohms: float) -> None:
    one, two = (cable_sums.volts_lost(amps, length, ohms, ways) for ways in (1, 2))
    assert two == pytest.approx(2 * one)


def test_strand_codes_between_inch_and_mm_are_asked() -> None:
    with pytest.raises(BadInput, match="inches or millimetres"):
        cable_sums.strand_mm2("44/0.07")


@given(st.text(max_size=40))
def test_any_code_is_read_or_refused(text: str) -> None:
    try:
        area, _ = cable_sums.strand_mm2(text)
    except ShopError:
        return
    assert math.isfinite(area)


def test_six_volts_lose_twice_as_much_of_themselves() -> None:
    common = {"amps": 10.0, "length_m": 4.0, "kind": "mm2", "size": "2.5"}
    six, twelve = (DROP.run(**common, system_v=v) for v in ("6", "12"))
    assert six["drop_v"] == twelve["drop_v"] == pytest.approx(0.3192)
    assert six["drop_percent"] == pytest.approx(2 * twelve["drop_percent"])
    assert twelve.verdict.endswith("good enough.")
    assert six["enough"] == "6 mm²"
    assert six.verdict == "0.32 V lost (5.3 %): too much; 6 mm² would do."


def test_three_ways_to_name_a_cable() -> None:
    for kind, size in (("AWG", "14"), ("strands", "28/0.30"), ("mm2", "1,5")):
        assert DROP.run(amps=5.0, length_m=2.0, kind=kind, size=size)["drop_v"] > 0
    with pytest.raises(NotFound):
        DROP.run(amps=5.0, length_m=2.0, kind="mm2", size="2")
    with pytest.raises(OutOfRange) as caught:
        DROP.run(amps=500.0, length_m=50.0, kind="mm2", size="0.5")
    assert "too thin" in caught.value.hint
