"""Toe, tyres, speed; drums and discs."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange, ShopError
from shopcli.workings import brake_sums, brakes, tyre_sums, wheel_sums, wheels
from shopcli.workings.brake_sums import DISCARD, MACHINE, USABLE

TOE, TYRE, SPEED, SPEEDOMETER = wheels.WORKINGS
DRUM, DISC = brakes.WORKINGS


@given(st.floats(-20, 20), st.floats(300, 1000))
def test_toe_undoes_itself_and_turns_sign(toe: float, diameter: float) -> None:
    angle = wheel_sums.toe_deg(toe, diameter)
    assert wheel_sums.toe_mm(angle, diameter) == pytest.approx(toe, abs=1e-9)
    assert wheel_sums.toe_deg(-toe, diameter) == -angle


def test_toe_by_turning_two_wheels() -> None:
    """Second route: two wheels each turned by half the angle, the rim points measured across."""
    diameter, track, half = 600.0, 1300.0, math.radians(0.2865 / 2)
    front = track - 2 * diameter / 2 * math.sin(half)
    rear = track + 2 * diameter / 2 * math.sin(half)
    assert wheel_sums.toe_deg(rear - front, diameter) == pytest.approx(0.2865, rel=1e-5)


def test_the_same_angle_is_more_at_the_tread() -> None:
    assert wheel_sums.toe_mm(0.3, 600) > wheel_sums.toe_mm(0.3, 380)


def test_toe_in_words() -> None:
    worked = TOE.run(diameter_mm=600.0, rear_mm=1303.0, front_mm=1300.0, low_mm=1.0, high_mm=2.0)
    assert worked.verdict == "toe-in 3.0 mm at 600 mm, 0.29 deg in all. Out of limits."
    assert TOE.run(diameter_mm=600.0, total_mm=-2.0)["toe_deg"] < 0
    assert "toe-out 2.0 mm" in TOE.run(diameter_mm=600.0, total_mm=-2.0).verdict
    assert TOE.run(diameter_mm=600.0, total_mm=0.0).verdict.startswith("parallel")


@pytest.mark.parametrize("inputs", [{}, {"rear_mm": 1300.0}, {"total_mm": 2.0, "total_deg": 0.2}])
def test_toe_asks_for_one_way_of_saying_it(inputs: dict[str, float]) -> None:
    with pytest.raises(BadInput):
        TOE.run(diameter_mm=600.0, **inputs)


@pytest.mark.parametrize(
    ("size", "ratio", "diameter"),
    [
        ("165/80R13", None, 594.2),
        ("155R15", None, 635.2),
        ("185/70 R 14 88T", None, 614.6),
        ("165/80SR13", None, 594.2),
        ("5.60-15", 92.0, 642.7),
        ("5.60 x 15", 92.0, 642.7),
    ],
)
def test_sizes_as_written_on_the_wall(size: str, ratio: float | None, diameter: float) -> None:
    """Geometry of the marking: rim x 25.4 + 2 x width x height."""
    worked = TYRE.run(size=size) if ratio is None else TYRE.run(size=size, ratio_percent=ratio)
    assert worked["diameter_mm"] == pytest.approx(diameter, abs=0.1)


def test_cross_ply_height_is_asked() -> None:
    with pytest.raises(BadInput, match="cross-ply"):
        TYRE.run(size="5.60-15")


@given(st.text(max_size=40))
def test_any_size_is_read_or_refused(text: str) -> None:
    try:
        tyre = tyre_sums.read_tyre(text, 90.0)
    except ShopError as error:
        assert error.message
        return
    assert 80 <= tyre.width_mm <= 400


@given(st.floats(100, 6000), st.floats(2, 20), st.floats(1000, 2500))
def test_revs_and_speed_undo_each_other(rpm: float, ratio: float, way: float) -> None:
    speed = wheel_sums.road_kmh(rpm, ratio, way)
    assume(speed <= 300)
    assert wheel_sums.engine_rpm(speed, ratio, way) == pytest.approx(rpm)


def test_revs_by_the_printed_constant() -> None:
    """Second route: rpm = mph x ratio x 336 / diameter in inches, printed worked example 2011 rpm."""
    printed = 70 * 2.394 * 336 / 28
    way = math.pi * 28 * 25.4
    assert wheel_sums.engine_rpm(70 * 1.609344, 2.394, way) == pytest.approx(printed, rel=5e-4)


def test_speed_in_words() -> None:
    worked = SPEED.run(gear_ratio=1.0, axle_ratio=4.125, circumference_mm=1801.0, rpm=3000.0)
    assert worked.verdict == "3000 rpm is 78.6 km/h (48.8 mph)."
    back = SPEED.run(gear_ratio=1.0, axle_ratio=4.125, circumference_mm=1801.0, speed_kmh=worked["speed_kmh"])
    assert back["rpm"] == pytest.approx(3000)
    with pytest.raises(BadInput):
        SPEED.run(gear_ratio=1.0, axle_ratio=4.125, circumference_mm=1801.0)


def test_speedometer_reads_low_on_larger_tyres() -> None:
    worked = SPEEDOMETER.run(reference_mm=575.0, fitted_mm=594.2)
    assert "too little" in worked.verdict
    assert worked["true_at_100"] > 100


LIMITS = st.tuples(st.floats(100, 400), st.floats(0.1, 3), st.floats(0.1, 3))


@given(LIMITS, st.floats(-1, 8))
def test_drum_states_follow_in_order(limits: tuple[float, float, float], worn: float) -> None:
    new, machine, discard = limits[0], limits[0] + limits[1], limits[0] + limits[1] + limits[2]
    order = [MACHINE, USABLE, DISCARD]
    here = brake_sums.drum_state(new + worn, machine, discard)
    later = brake_sums.drum_state(new + worn + 0.5, machine, discard)
    assert order.index(here) <= order.index(later)


@given(LIMITS, st.floats(-1, 8))
def test_a_disc_is_a_drum_in_the_mirror(limits: tuple[float, float, float], worn: float) -> None:
    machine, discard = 20 - limits[1], 20 - limits[1] - limits[2]
    drum = brake_sums.drum_state(100 + worn, 100 + limits[1], 100 + limits[1] + limits[2])
    assert brake_sums.disc_state(20 - worn, machine, discard) == drum


def test_on_the_limit_counts_as_reached() -> None:
    assert brake_sums.drum_state(16.58, 16.58, 16.62) == USABLE
    assert brake_sums.drum_state(16.62, 16.58, 16.62) == DISCARD


DRUM_LIMITS = {"nominal_mm": 228.6, "machine_mm": 230.1, "discard_mm": 230.6}
DISC_LIMITS = {"nominal_mm": 12.7, "machine_mm": 11.7, "discard_mm": 11.2}


def test_drum_that_is_not_round() -> None:
    worked = DRUM.run(
        **DRUM_LIMITS, measured_mm=(228.9, 229.4), across_mm=229.0, across_limit_mm=0.25, cut_mm=0.5
    )
    assert worked["state"] == MACHINE
    assert worked["true"] is False
    assert worked["alike"] is False
    assert worked.verdict.startswith("Not true: machine")
    assert "make them alike" in worked.verdict
    assert "After taking off 0.50 mm: 229.90 mm, within the machining limit." in worked.steps


def test_drum_cut_beyond_its_limit() -> None:
    worked = DRUM.run(**DRUM_LIMITS, measured_mm=(229.9,), cut_mm=0.5)
    assert any("beyond the machining limit" in step for step in worked.steps)


def test_disc_with_runout() -> None:
    worked = DISC.run(**DISC_LIMITS, measured_mm=(11.5, 11.51), runout_mm=0.2)
    assert worked["state"] == USABLE
    assert worked.verdict.startswith("Not true, and too far gone")
    assert any("seat on the hub" in step for step in worked.steps)
    assert any("DOT 4" in c for c in worked.cautions)
    assert DISC.run(**DISC_LIMITS, measured_mm=(11.1, 11.11)).verdict.startswith("Discard")


def test_limits_in_the_wrong_order_are_refused() -> None:
    with pytest.raises(BadInput):
        DRUM.run(nominal_mm=228.6, machine_mm=230.6, discard_mm=230.1, measured_mm=(229.0,))
    with pytest.raises(BadInput):
        DISC.run(nominal_mm=12.7, machine_mm=11.2, discard_mm=11.7, measured_mm=(12.0,))


def test_a_reading_of_another_drum_is_refused() -> None:
    with pytest.raises(OutOfRange):
        DRUM.run(**DRUM_LIMITS, measured_mm=(203.2,))
