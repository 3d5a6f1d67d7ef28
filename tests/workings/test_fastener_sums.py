"""Bolt strength, torque and stretch."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import bolt_strength, bolt_stretch, fasteners

PROOF, TORQUE, STRETCH = fasteners.WORKINGS


@given(st.floats(0.1, 0.3), st.floats(3, 30), st.floats(10, 1e5), st.floats(1.1, 3))
def test_torque_grows_in_step_with_load_and_size(k: float, size: float, load: float, times: float) -> None:
    base = bolt_strength.torque_for_clamp(k, size, load)
    assert bolt_strength.torque_for_clamp(k, size, load * times) == pytest.approx(base * times)
    assert bolt_strength.torque_for_clamp(k, size * times, load) == pytest.approx(base * times)


@given(st.floats(0.04, 0.39), st.floats(4, 24))
def test_more_friction_more_torque(friction: float, size: float) -> None:
    pitch = size * 0.15

    def factor(mu: float) -> float:
        return bolt_strength.nut_factor(mu, size, pitch, size - 0.65 * pitch, 1.3 * size)

    assert factor(friction + 0.01) > factor(friction)


def test_nut_factor_against_the_textbook_split() -> None:
    """Second route: K d = P/2pi + 0.577 mu d2 + mu Dm/2, the usual linear form (from memory), within 2 %."""
    mu, d, pitch, d2, face = 0.12, 10.0, 1.5, 9.026, 13.0
    linear = (0.159 * pitch + 0.577 * mu * d2 + mu * face / 2) / d
    assert bolt_strength.nut_factor(mu, d, pitch, d2, face) == pytest.approx(linear, rel=0.02)


@given(st.floats(1, 1e5), st.floats(1, 500), st.floats(5, 500), st.floats(0.5, 3))
def test_turn_undoes_stretch(load: float, length: float, area: float, pitch: float) -> None:
    stretch = bolt_stretch.stretch_mm(load, length, area)
    if not 1e-9 < stretch < 20:
        return
    assert bolt_stretch.turn_deg(stretch, pitch) * pitch / 360 == pytest.approx(stretch)
    assert bolt_stretch.stretch_mm(load, 2 * length, area) == pytest.approx(2 * stretch)


def test_a_known_clamp_by_numerical_inversion() -> None:
    """Second route: the load that gives a torque, found by scipy's root search instead of the formula."""
    optimize = pytest.importorskip("scipy.optimize")
    wanted = 50_000.0
    load = optimize.brentq(lambda f: bolt_strength.torque_for_clamp(0.2, 10, f) - wanted, 1, 1e6)
    assert load == pytest.approx(25_000)


def test_class_8_8_changes_above_16_mm() -> None:
    assert bolt_strength.proof_stress_mpa("8.8", 16) == 580
    assert bolt_strength.proof_stress_mpa("8.8", 18) == 600


def test_grade_and_thread_must_belong_together() -> None:
    with pytest.raises(BadInput, match="does not belong"):
        PROOF.run(thread="M8", grade="grade 5")
    with pytest.raises(BadInput, match="no dependable proof stress"):
        PROOF.run(thread="3/8 BSF", grade="8.8")


def test_handbook_comes_first_loudly() -> None:
    worked = TORQUE.run(thread="M10", grade="8.8", handbook_nm=25.0)
    assert worked.verdict.startswith("Use the handbook's 25.0 N·m")
    assert "more than a quarter" in worked.verdict
    assert worked.cautions[0].startswith("THE HANDBOOK'S TORQUE COMES FIRST")


def test_m10_dry_as_worked_by_hand() -> None:
    """0.20 x 10 mm x 75 % of 33 600 N (58.0 mm2 x 580 MPa) = 50.5 N.m (geometry and EN ISO 898-1)."""
    worked = TORQUE.run(thread="M10", grade="8.8")
    assert worked["torque_nm"] == pytest.approx(50.5, abs=0.1)


@pytest.mark.parametrize(
    ("finish", "into", "part"),
    [
        ("engine oil", "steel or iron", 0.9),
        ("new plated", "steel or iron", 0.8),
        ("engine oil", "aluminium", 0.7),
    ],
)
def test_only_the_largest_reduction_counts(finish: str, into: str, part: float) -> None:
    dry = TORQUE.run(thread="M8", grade="8.8")["torque_nm"]
    assert TORQUE.run(thread="M8", grade="8.8", finish=finish, into=into)["torque_nm"] == pytest.approx(
        dry * part
    )


def test_a_given_k_stands_for_the_finish() -> None:
    oiled = TORQUE.run(thread="M8", grade="8.8", finish="engine oil", k=0.15)["torque_nm"]
    dry = TORQUE.run(thread="M8", grade="8.8")["torque_nm"]
    assert oiled == pytest.approx(0.75 * dry)


def test_beyond_three_quarters_of_proof_is_refused() -> None:
    with pytest.raises(OutOfRange):
        TORQUE.run(thread="M8", grade="8.8", part_percent=90.0)


def test_waisted_shank_stretches_more() -> None:
    plain = STRETCH.run(thread="M10", grip_mm=60.0, load_n=20_000.0)["stretch_mm"]
    assert STRETCH.run(thread="M10", grip_mm=60.0, load_n=20_000.0, shank_area_mm2=40.0)["stretch_mm"] > plain
