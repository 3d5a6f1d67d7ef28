"""End float: packs of shims from stock, both ways a pack may act."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import end_float, shim_packs
from shopcli.workings.shim_packs import FILLS, SPREADS

(SHIMS,) = end_float.WORKINGS
SENSES = st.sampled_from([FILLS, SPREADS])


@given(st.integers(0, 5000), st.integers(0, 2000), st.integers(0, 2000), SENSES)
def test_the_wanted_pack_leaves_the_wanted_float(pack: int, measured: int, target: int, sense: str) -> None:
    try:
        wanted = shim_packs.wanted_pack_um(pack, measured, target, sense)
    except OutOfRange:
        change = measured - target
        assert (pack + change if sense == FILLS else pack - change) < 0
        return
    assert shim_packs.float_after_um(pack, wanted, measured, sense) == target


@given(st.integers(0, 5000), st.integers(0, 2000), st.integers(0, 2000))
def test_the_two_senses_mirror_each_other(pack: int, measured: int, target: int) -> None:
    if pack < abs(measured - target):
        return
    fills = shim_packs.wanted_pack_um(pack, measured, target, FILLS)
    assert fills + shim_packs.wanted_pack_um(pack, measured, target, SPREADS) == 2 * pack


def brute(
    stock: tuple[int, ...], target: int, pieces: int, low: int, high: int
) -> tuple[bool, int, int, int]:
    """Second route: every row of pieces in every order, zero standing for no piece."""
    best = None
    for row in product((0, *stock), repeat=pieces):
        total, number = sum(row), sum(1 for p in row if p)
        inside = low <= total <= high
        away = abs(total - target)
        key = (not inside, number if inside else away, away if inside else number, total)
        best = key if best is None or key < best else best
    assert best is not None
    return best


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(1, 900), min_size=1, max_size=6, unique=True).map(tuple),
    st.integers(0, 2500),
    st.integers(1, 3),
    st.integers(0, 60),
)
def test_best_pack_against_trying_everything(
    stock: tuple[int, ...], target: int, pieces: int, band: int
) -> None:
    pack = shim_packs.best_pack(stock, target, pieces, low_um=target - band, high_um=target + band)
    total, number = pack.total_um, len(pack.pieces_um)
    inside, away = abs(total - target) <= band, abs(total - target)
    found = (not inside, number if inside else away, away if inside else number, total)
    assert found == brute(stock, target, pieces, target - band, target + band)


def test_nearest_pack_by_integer_programming() -> None:
    """Second route: scipy's integer programme for the distance alone."""
    optimize = pytest.importorskip("scipy.optimize")
    stock, target, pieces = (100, 150, 250, 500), 820, 3
    # smallest d with -d <= sum - target <= d
    rows = [[*stock, -1], [*(-s for s in stock), -1], [*(1 for _ in stock), 0]]
    limits = optimize.LinearConstraint(rows, ub=[target, -target, pieces])
    solved = optimize.milp([0] * 4 + [1], constraints=limits, integrality=[1] * 4 + [0])
    assert solved.fun == pytest.approx(abs(shim_packs.best_pack(stock, target, pieces).total_um - target))


def test_within_limits_fewest_pieces_win() -> None:
    stock = (100, 200, 790)
    assert shim_packs.best_pack(stock, 800, 3, low_um=780, high_um=820).pieces_um == (790,)
    assert shim_packs.best_pack(stock, 800, 4).pieces_um == (200, 200, 200, 200)


def test_only_what_is_in_the_drawer() -> None:
    assert shim_packs.best_pack((100, 150, 250, 500), 820, 3, have=(1, 1, 1, 1)).pieces_um == (500, 250, 100)
    with pytest.raises(BadInput):
        shim_packs.best_pack((100, 150), 250, 2, have=(1,))


@given(st.integers(0, 20_000), st.integers(1, 200))
def test_stock_step_errs_to_the_larger_clearance(wanted: int, step: int) -> None:
    stock = shim_packs.stock_below(wanted, step)
    assert stock % step == 0
    assert 0 <= wanted - stock < step


def test_too_many_sizes_are_refused() -> None:
    with pytest.raises(OutOfRange):
        shim_packs.best_pack(tuple(range(1, 40)), 20, 2)


COMMON = {"pack_mm": 0.5, "measured_mm": 0.42, "stock_mm": (0.1, 0.15, 0.25, 0.5)}


def test_told_as_on_the_back_of_a_box() -> None:
    worked = SHIMS.run(**COMMON, wanted_mm=0.1, sense=FILLS)
    assert worked.steps == (
        "Here a thicker pack takes float away.",
        "Wanted pack = 0.5 mm + (0.42 mm - 0.1 mm) = 0.82 mm.",
        "Nearest from the stock: 0.5 + 0.15 + 0.15 = 0.8 mm.",
        "Float then: 0.12 mm.",
    )
    assert worked["pieces_mm"] == (0.5, 0.15, 0.15)
    assert worked["float_mm"] == pytest.approx(0.12)


def test_limits_of_the_float_become_limits_of_the_pack() -> None:
    worked = SHIMS.run(**COMMON, wanted_mm=0.1, low_mm=0.05, high_mm=0.18, sense=FILLS)
    assert worked["pieces_mm"] == (0.5, 0.25)
    assert worked["float_mm"] == pytest.approx(0.17)
    spread = SHIMS.run(**COMMON, wanted_mm=0.1, low_mm=0.05, high_mm=0.18, sense=SPREADS)
    assert spread["pieces_mm"] == (0.15,)
    assert spread["float_mm"] == pytest.approx(0.07)


def test_unreachable_is_said() -> None:
    worked = SHIMS.run(pack_mm=0.5, measured_mm=0.42, wanted_mm=0.1, sense=FILLS, stock_mm=(1.0,))
    assert worked["pieces_mm"] == (1.0,)
    assert "bind" in worked.verdict
    nothing = SHIMS.run(
        pack_mm=0.5, measured_mm=0.42, wanted_mm=0.1, low_mm=0.09, high_mm=0.11, sense=FILLS, stock_mm=(0.3,)
    )
    assert nothing.verdict.startswith("No pack meets the limits")


def test_the_sense_has_to_be_said() -> None:
    with pytest.raises(BadInput, match="which way"):
        SHIMS.run(**COMMON, wanted_mm=0.1, sense="thicker")
