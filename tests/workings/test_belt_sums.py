"""Belts and split pulleys."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import OutOfRange
from shopcli.workings import belt_geometry, belts

LENGTH, DEFLECTION, SPLIT = belts.WORKINGS
PULLEYS = {"spacer_mm": 0.5, "split_mm": 70.0, "other_mm": 150.0, "centres_mm": 300.0}


def test_length_by_adding_up_small_steps() -> None:
    """Second route: the outline of two discs is their convex hull; its length by scipy."""
    spatial = pytest.importorskip("scipy.spatial")
    points = [
        (centre + d / 2 * math.cos(a * math.pi / 1800), d / 2 * math.sin(a * math.pi / 1800))
        for centre, d in ((0.0, 150.0), (300.0, 70.0))
        for a in range(3600)
    ]
    assert spatial.ConvexHull(points).area == pytest.approx(
        belt_geometry.belt_length_mm(150, 70, 300), rel=1e-5
    )


@given(st.floats(40, 300), st.floats(40, 300), st.floats(1.0, 4.0))
def test_pulleys_may_be_swapped_and_the_handbook_agrees(one: float, other: float, part: float) -> None:
    centres = (one + other) * part
    exact = belt_geometry.belt_length_mm(one, other, centres)
    assert exact == pytest.approx(belt_geometry.belt_length_mm(other, one, centres))
    assert belt_geometry.belt_length_handbook_mm(one, other, centres) == pytest.approx(exact, rel=2e-3)


@given(st.floats(50, 1000), st.floats(0, 0.19))
def test_deflection_and_path_undo_each_other(span: float, part: float) -> None:
    path = belt_geometry.slack_path_mm(span, part * span)
    assert belt_geometry.deflection_for_path_mm(span, path) == pytest.approx(part * span, abs=1e-4)


@given(st.floats(-5, 5), st.floats(30, 42))
def test_rise_turns_sign_with_the_spacer_and_falls_with_the_angle(closed: float, angle: float) -> None:
    assert belt_geometry.split_radius_mm(-closed, angle) == -belt_geometry.split_radius_mm(closed, angle)
    assume(abs(closed) > 1e-6 and angle < 41)
    wider = abs(belt_geometry.split_radius_mm(closed, angle + 1))
    assert wider < abs(belt_geometry.split_radius_mm(closed, angle))


@given(st.integers(-2, 0))
def test_each_spacer_taken_out_tightens(moved: int) -> None:
    now = belts.deflection_after(moved=moved, deflection_mm=25.0, **PULLEYS)
    assert belts.deflection_after(moved=moved + 1, deflection_mm=25.0, **PULLEYS) < now


def test_nothing_moved_nothing_changed() -> None:
    assert belts.deflection_after(moved=0, deflection_mm=18.0, **PULLEYS) == pytest.approx(18.0)


def test_best_move_by_trying_all() -> None:
    """Second route: the plain list of outcomes."""
    for wanted in (8.0, 14.0, 20.0, 28.0, 35.0):
        outcomes = {}
        for moved in range(-2, 4):
            try:
                outcomes[moved] = belts.deflection_after(moved=moved, deflection_mm=25.0, **PULLEYS)
            except OutOfRange:
                continue
        nearest = min(outcomes, key=lambda m, goal=wanted: abs(outcomes[m] - goal))
        move = belts.best_move(wanted_mm=wanted, between=3, outside=2, deflection_mm=25.0, **PULLEYS)
        assert move.spacers == nearest


def test_direction_in_words() -> None:
    slack = SPLIT.run(**PULLEYS, deflection_mm=25.0, wanted_mm=16.0, between=3, outside=2)
    assert slack["spacers"] == 1
    assert "from between the halves to the outside" in slack["direction"]
    assert "rides higher and is tighter" in slack["direction"]
    tight = SPLIT.run(**PULLEYS, deflection_mm=10.0, wanted_mm=22.0, between=3, outside=2)
    assert tight["spacers"] < 0
    assert "from the outside to between the halves" in tight["direction"]
    right = SPLIT.run(**PULLEYS, deflection_mm=16.0, wanted_mm=16.0, between=3, outside=2)
    assert right["direction"] == "Leave the spacers as they are."


def test_no_more_spacers_than_there_are() -> None:
    worked = SPLIT.run(**PULLEYS, deflection_mm=40.0, wanted_mm=5.0, between=1)
    assert worked["spacers"] == 1
    assert any("does not come nearer" in c for c in worked.cautions)


def test_belt_in_its_words() -> None:
    worked = LENGTH.run(large_mm=150.0, small_mm=70.0, centres_mm=300.0)
    assert worked["length_mm"] == pytest.approx(950.92, abs=0.01)
    assert worked["span_mm"] == pytest.approx(297.32, abs=0.01)
    assert "slacker" in DEFLECTION.run(span_length_mm=300.0, measured_mm=12.0).verdict


def test_touching_pulleys_are_refused() -> None:
    with pytest.raises(OutOfRange):
        belt_geometry.belt_length_mm(150, 70, 100)
