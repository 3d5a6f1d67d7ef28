"""Dwell, coil, cap and timing: laws, second routes, golden pictures."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import catalogue
from shopcli.workings.advance import on_curve, parse_curve, total_advance_deg
from shopcli.workings.banks import parse_banks
from shopcli.workings.cap import cap_picture, crossfire_pairs, tower_angles_deg, towers_clockwise
from shopcli.workings.coil import coil_current_a, sparks_per_minute
from shopcli.workings.firing import parse_order, spark_interval_deg
from shopcli.workings.gap_dwell import timing_shift_deg
from shopcli.workings.ignition import dwell_degrees, dwell_ms, dwell_percent, sector_deg
from shopcli.workings.timing import angle_of_arc_deg, arc_length, chord_length

orders = st.integers(2, 12).flatmap(lambda n: st.permutations(range(2, n + 1))).map(lambda rest: (1, *rest))
lobes = st.integers(1, 12)


@given(lobes, st.floats(0.5, 99.5))
def test_dwell_goes_there_and_back(count: int, percent: float) -> None:
    assert dwell_percent(dwell_degrees(percent, count), count) == pytest.approx(percent)


@given(lobes, st.floats(0.01, 0.98), st.floats(0.001, 0.01))
def test_dwell_percent_rises_with_dwell(count: int, share: float, more: float) -> None:
    sector = sector_deg(count)
    assert dwell_percent((share + more) * sector, count) > dwell_percent(share * sector, count)


@given(st.integers(1, 12), st.floats(100, 9000), st.floats(1, 99))
def test_dwell_time_is_the_same_share_of_the_time_between_sparks(
    count: int, rpm: float, percent: float
) -> None:
    between_ms = 60_000 / sparks_per_minute(rpm, count)
    assert dwell_ms(dwell_degrees(percent, count), rpm) == pytest.approx(between_ms * percent / 100)


@given(st.integers(1, 12))
def test_sparks_fill_the_cycle(count: int) -> None:
    assert spark_interval_deg(count) * count == pytest.approx(720)
    assert spark_interval_deg(count, strokes=2) * count == pytest.approx(360)
    assert spark_interval_deg(count) == pytest.approx(2 * sector_deg(count))


@given(st.floats(-40, 40))
def test_timing_shift_is_odd_and_comes_from_the_opening_edge(change: float) -> None:
    assert timing_shift_deg(-change) == -timing_shift_deg(change)
    # second route: a lobe open from -a to +a about its middle; the points open where the lobe comes up
    sector, dwell = 90.0, 45.0
    opens_before = -(sector - dwell) / 2
    opens_after = -(sector - (dwell + change)) / 2
    assert timing_shift_deg(change) == pytest.approx(2 * (opens_after - opens_before))


def test_gap_and_dwell_tell_a_trend_and_never_a_size_from_the_gap() -> None:
    alone = catalogue.run("gap-and-dwell", gap_before_mm=0.40, gap_after_mm=0.45)
    assert "advanced" in alone.verdict
    assert not re_figures(alone.verdict)
    both = catalogue.run(
        "gap-and-dwell", gap_before_mm=0.40, gap_after_mm=0.45, dwell_before_deg=52, dwell_after_deg=49
    )
    assert both["shift_deg"] == -3.0
    assert both.verdict == "timing advanced by about 3.0° at the crank"
    odd = catalogue.run("gap-and-dwell", dwell_before_deg=52, dwell_after_deg=49, symmetric_lobe=False)
    assert odd.verdict == "timing advanced, size unknown"
    clash = catalogue.run(
        "gap-and-dwell", gap_before_mm=0.40, gap_after_mm=0.45, dwell_before_deg=50, dwell_after_deg=52
    )
    assert "do not agree" in clash.verdict
    with pytest.raises(BadInput, match="neither"):
        catalogue.run("gap-and-dwell")
    with pytest.raises(BadInput, match="before or after"):
        catalogue.run("gap-and-dwell", gap_after_mm=0.4)


def re_figures(text: str) -> bool:
    return any(character.isdigit() for character in text)


@pytest.mark.parametrize(
    ("dwell", "word"), [(48.9, "low by 0.1°"), (49, "in limits"), (55, "in limits"), (60, "tight")]
)
def test_dwell_is_judged_by_its_limits(dwell: float, word: str) -> None:
    """49 to 55 degrees: TM 10-3930-653-14&P, service data."""
    assert word in catalogue.run("dwell-percent", dwell_deg=dwell, lobes=4, low_deg=49, high_deg=55).verdict


@given(st.floats(1, 30), st.floats(0.1, 20), st.floats(0, 20))
def test_coil_voltages_add_up_and_ballast_lowers_the_current(
    volts: float, coil: float, ballast: float
) -> None:
    amps = coil_current_a(volts, coil, ballast)
    assert amps * coil + amps * ballast == pytest.approx(volts)
    assert amps <= coil_current_a(volts, coil)


def test_ballast_missing_is_told() -> None:
    worked = catalogue.run("coil-current", supply_v=12, coil_ohm=1.5, coil_rated_v=6, limit_a=5)
    assert worked["current_a"] == 8.0
    assert "above the limit" in worked.verdict
    assert any("ballast may be missing" in caution for caution in worked.cautions)
    assert any("overheat" in caution for caution in worked.cautions)


@given(orders)
def test_cap_read_against_the_rotor_is_the_mirror(order: tuple[int, ...]) -> None:
    clockwise, other = towers_clockwise(order, "cw"), towers_clockwise(order, "ccw")
    assert clockwise == order
    assert (other[0], *other[:0:-1]) == order
    assert towers_clockwise(other, "ccw") == order


@given(orders, st.sampled_from(["cw", "ccw"]), st.floats(0, 12))
def test_picture_names_every_tower_once_and_fits(order: tuple[int, ...], rotor: str, clock: float) -> None:
    picture = cap_picture(order, rotor, clock, ascii_only=True)
    found = sorted(int(word) for word in picture.replace("|", " ").split() if word.isdigit())
    assert found == list(range(1, len(order) + 1))
    assert picture.count("+===+") == 2
    assert picture.count("+---+") == 2 * (len(order) - 1)
    assert max(map(len, picture.splitlines())) <= 80
    assert picture.isascii()


@given(st.integers(2, 12), st.floats(0, 12))
def test_towers_stand_evenly(towers: int, clock: float) -> None:
    angles = tower_angles_deg(towers, clock)
    turns = [(b - a) % 360 for a, b in zip(angles, (*angles[1:], angles[0]), strict=True)]
    assert turns == pytest.approx([360 / towers] * towers)


FOUR = """\
     ╔═══╗                     ╭───╮
     ║ 1 ║                     │ 2 │
     ╚═══╝                     ╰───╯
                  ←───

           rotor anticlockwise

                  ───→
     ╭───╮                     ╭───╮
     │ 3 │                     │ 4 │
     ╰───╯                     ╰───╯"""


def test_cap_of_a_four_turning_anticlockwise() -> None:
    drawn = cap_picture((1, 3, 4, 2), "ccw", 10.5)
    assert drawn == FOUR


EIGHT = """\
                  +===+
                  | 1 |
     +---+        +===+        +---+
     | 2 |                     | 8 |
     +---+                     +---+
                  --->
+---+                               +---+
| 7 |        rotor clockwise        | 4 |
+---+                               +---+
                  <---
     +---+                     +---+
     | 5 |                     | 3 |
     +---+        +---+        +---+
                  | 6 |
                  +---+"""


def test_cap_of_an_eight_in_plain_characters() -> None:
    """1-8-4-3-6-5-7-2: automotive textbook figure."""
    assert cap_picture((1, 8, 4, 3, 6, 5, 7, 2), "cw", 12, ascii_only=True) == EIGHT


def test_leads_to_keep_apart() -> None:
    """Neighbours of one bank firing in turn: TM 5-4210-230-14&P-1; order 1-8-4-3-6-5-7-2: textbook figure."""
    banks = parse_banks("1-3-5-7/2-4-6-8", 8)
    assert crossfire_pairs((1, 8, 4, 3, 6, 5, 7, 2), banks) == ((5, 7),)
    worked = catalogue.run("lead-order", firing_order="1-8-4-3-6-5-7-2", rotor="cw", banks="1-3-5-7/2-4-6-8")
    assert worked["keep_apart"] == ("5 and 7",)
    assert any("5 and 7" in caution for caution in worked.cautions)
    with pytest.raises(BadInput, match="banks"):
        catalogue.run("lead-order", firing_order="1-3-4-2", rotor="cw", banks="1-2/3-3")


@pytest.mark.parametrize("text", ["1-3-4-2", "1 3 4 2", "1,3,4,2", "1342", "3-4-2-1", " 1 – 3 – 4 – 2 "])
def test_firing_order_is_read_as_written(text: str) -> None:
    assert parse_order(text) == (1, 3, 4, 2)


@pytest.mark.parametrize("text", ["", "1", "1-2-2", "0-1-2", "1-3", "1-2-x", "1-2-3-4-5-6-7-8-9-10-11-12-13"])
def test_what_is_no_firing_order_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse_order(text)


@given(st.floats(30, 900), st.floats(0, 90))
def test_arc_goes_there_and_back_and_is_longer_than_the_chord(diameter: float, angle: float) -> None:
    arc = arc_length(diameter, angle)
    assert angle_of_arc_deg(diameter, arc) == pytest.approx(angle)
    assert chord_length(diameter, angle) <= arc + 1e-9
    assert arc_length(2 * diameter, angle) == pytest.approx(2 * arc)


def test_chord_is_short_by_little() -> None:
    """Chord 0.03 to 0.13 % short at 5 to 10 degrees: geometry."""
    assert 1 - chord_length(150, 10) / arc_length(150, 10) == pytest.approx(0.00127, abs=1e-5)
    worked = catalogue.run("timing-arc", diameter_mm=150, arc_mm=9.8175)
    assert worked["angle_deg"] == pytest.approx(7.5, abs=1e-3)
    with pytest.raises(BadInput, match="either"):
        catalogue.run("timing-arc", diameter_mm=150)
    with pytest.raises(OutOfRange):
        catalogue.run("timing-arc", diameter_mm=20, arc_mm=500)


curves = st.lists(
    st.tuples(st.integers(0, 6000), st.floats(0, 30)), min_size=2, max_size=8, unique_by=lambda p: p[0]
)


@settings(deadline=None)  # the first call imports the library
@given(curves, st.floats(0, 1))
def test_curve_agrees_with_scipy(points: list[tuple[int, float]], share: float) -> None:
    interpolate = pytest.importorskip("scipy.interpolate")
    curve = tuple(sorted((float(at), degrees) for at, degrees in points))
    at = curve[0][0] + share * (curve[-1][0] - curve[0][0])
    second = interpolate.make_interp_spline(*zip(*curve, strict=True), k=1)(at)
    assert on_curve(curve, at) == pytest.approx(float(second), abs=1e-9)


@given(st.floats(-10, 20), st.floats(0, 20), st.floats(-10, 10), st.floats(0, 5))
def test_a_distributor_degree_counts_double(
    static: float, weights: float, vacuum: float, more: float
) -> None:
    total = total_advance_deg(static, weights, vacuum)
    assert total_advance_deg(static, weights + more, vacuum) == pytest.approx(total + 2 * more)
    assert total_advance_deg(static + more, weights, vacuum) == pytest.approx(total + more)


@given(st.floats(600, 4000))
def test_the_same_curve_printed_for_crank_or_distributor_gives_the_same(rpm: float) -> None:
    at_distributor = catalogue.run(
        "total-advance", static_deg=6, centrifugal="300:0 800:7 2000:14", basis="distributor", crank_rpm=rpm
    )
    at_crank = catalogue.run(
        "total-advance", static_deg=6, centrifugal="600:0 1600:14 4000:28", basis="crank", crank_rpm=rpm
    )
    assert at_distributor["total_deg"] == pytest.approx(at_crank["total_deg"])


def test_nothing_is_read_beyond_the_ends_of_a_curve() -> None:
    for rpm in (500, 4100):
        with pytest.raises(OutOfRange, match="distributor speed") as caught:
            catalogue.run(
                "total-advance", static_deg=6, centrifugal="300:0 2000:14", basis="distributor", crank_rpm=rpm
            )
        assert "add a point" in caught.value.hint


def test_vacuum_is_off_with_the_hose_and_a_retard_unit_takes_away() -> None:
    base = {"static_deg": 8, "centrifugal": "0:0 1000:12", "basis": "distributor", "crank_rpm": 2000}
    curve = {"vacuum": "100:0 200:7", "vacuum_at": 200}
    assert catalogue.run("total-advance", **base, vacuum="100:0 200:7")["total_deg"] == 32
    assert catalogue.run("total-advance", **base, **curve)["total_deg"] == 46
    late = catalogue.run("total-advance", **base, **curve, vacuum_retards=True, low_deg=20, high_deg=40)
    assert late["total_deg"] == 18
    assert late["hose_off_deg"] == 32
    assert "late" in late.verdict
    early = catalogue.run("total-advance", **base, **curve, low_deg=20, high_deg=40)
    assert "early" in early.verdict


@pytest.mark.parametrize(
    "text", ["", "400", "400:0", "800:6 400:0", "400:0 400:2", "400:0 800:x", "0:400 6:800"]
)
def test_what_is_no_curve_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse_curve(text)


def test_spark_interval_wants_an_engine() -> None:
    with pytest.raises(BadInput, match="neither"):
        catalogue.run("spark-interval")
    with pytest.raises(BadInput, match="not for"):
        catalogue.run("spark-interval", cylinders=6, firing_order="1-3-4-2")
    worked = catalogue.run("spark-interval", firing_order="1-3-4-2", crank_rpm=3000)
    assert worked["angles_deg"] == (0.0, 180.0, 360.0, 540.0)
    assert worked["sparks_per_min"] == 6000.0
    assert math.isclose(worked["distributor_deg"], 90.0)
