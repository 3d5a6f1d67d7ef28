"""Bucket shims: laws, the best reuse against trying every way, and its speed."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import catalogue
from shopcli.workings.bucket_valves import (
    BucketValve,
    Stock,
    clearance_after_mm,
    needed_shim_mm,
    read_valves,
    stock_shim,
)
from shopcli.workings.shim_reuse import Choice, assign_shims

STOCK = Stock.of(2.0, 2.8, 0.05)
hundredths = st.integers(5, 60).map(lambda n: n / 100)
shims = st.integers(40, 56).map(lambda n: n * 500)  # 2.00 to 2.80 in steps of 0.05


@st.composite
def bucket_valves(draw: st.DrawFn, name: str = "V") -> BucketValve:
    low = draw(st.integers(10, 25)) * 100
    high = low + draw(st.integers(2, 12)) * 100
    return BucketValve(name, draw(st.integers(1, 60)) * 100, draw(shims), low, high, (low + high) // 2)


@given(st.floats(0.5, 5), st.floats(0.01, 1), st.floats(0.01, 1))
def test_the_needed_shim_gives_the_wanted_clearance(old: float, found: float, wanted: float) -> None:
    new = needed_shim_mm(old, found, wanted)
    assert clearance_after_mm(found, old, new) == pytest.approx(wanted, abs=3e-4)


@given(st.floats(0.5, 5), st.floats(0.5, 5), st.floats(0.01, 1), st.floats(0.001, 0.5))
def test_a_thicker_shim_makes_less_clearance(old: float, new: float, found: float, more: float) -> None:
    assert clearance_after_mm(found, old, new + more) < clearance_after_mm(found, old, new)
    assert clearance_after_mm(found, old, old) == pytest.approx(found, abs=1e-4)


@given(bucket_valves(), st.booleans())
def test_stock_shim_is_in_limits_and_none_is_better(valve: BucketValve, lean: bool) -> None:
    chosen = stock_shim(valve, STOCK, lean_larger=lean)
    fitting = [size for size in STOCK.sizes() if valve.takes(size)]
    if chosen is None:
        assert not fitting
        return
    assert chosen in fitting
    off = [
        abs(valve.after(size) - valve.wanted)
        for size in fitting
        if not lean or valve.after(size) >= valve.wanted
    ]
    if off:
        assert abs(valve.after(chosen) - valve.wanted) == min(off)
    if lean and off:
        assert valve.after(chosen) >= valve.wanted


def price(
    valves: tuple[BucketValve, ...], sizes: tuple[int | None, ...], bought: int, own: int
) -> tuple[int, ...]:
    off = sum(abs(v.after(s) - v.wanted) for v, s in zip(valves, sizes, strict=True) if s is not None)
    return sum(size is None for size in sizes), bought, off, -own


def by_trying_all(valves: tuple[BucketValve, ...], drawer: tuple[int, ...]) -> tuple[int, ...]:
    """Second route: every shim in every valve, every purchase, every valve left without."""
    pool = [valve.old for valve in valves] + list(drawer)
    ways = []
    for places in product([*range(len(pool)), "buy", "none"], repeat=len(valves)):
        used = [place for place in places if isinstance(place, int)]
        if len(used) != len(set(used)):
            continue
        sizes: list[int | None] = []
        for valve, place in zip(valves, places, strict=True):
            new = stock_shim(valve, STOCK, lean_larger=False) if place == "buy" else None
            sizes.append(pool[place] if isinstance(place, int) else new)
            if place != "none" and (sizes[-1] is None or not valve.takes(sizes[-1])):
                break
        else:
            own = sum(place == row for row, place in enumerate(places))
            own += places.count("none")  # a valve without a shim moves none
            ways.append(price(valves, tuple(sizes), places.count("buy"), own))
    return min(ways)


@settings(deadline=None, max_examples=150)
@given(st.lists(bucket_valves(), min_size=1, max_size=3), st.lists(shims, max_size=3))
def test_reuse_is_the_best_there_is(valves: list[BucketValve], drawer: list[int]) -> None:
    named = tuple(
        BucketValve(f"V{n}", v.measured, v.old, v.low, v.high, v.wanted)
        for n, v in enumerate(valves, start=1)
    )
    choices = assign_shims(named, drawer, STOCK)
    bought = sum(choice.origin == "buy" for choice in choices)
    kept = sum(choice.origin in ("own", "none") for choice in choices)
    assert price(named, tuple(c.shim for c in choices), bought, kept) == by_trying_all(named, tuple(drawer))
    used = sorted(c.shim for c in choices if c.origin not in ("buy", "none") and c.shim is not None)
    at_hand = sorted([*(v.old for v in named), *drawer])
    for size in set(used):
        assert used.count(size) <= at_hand.count(size)


def test_two_shims_swapped_cost_nothing() -> None:
    worked = catalogue.run(
        "bucket-shim-reuse", valves="I1 I2", measured_mm=(0.10, 0.30), old_mm=(2.50, 2.40), low_mm=(0.15,),
        high_mm=(0.25,), stock_from_mm=2, stock_to_mm=3, step_mm=0.05,
    )  # fmt: skip
    assert worked["origins"] == ("I2", "I1")
    assert worked["bought"] == 0
    assert worked["fit_I1"] == 2.40
    assert worked["after_I1"] == worked["after_I2"] == 0.20
    assert worked.verdict == "nothing to buy"
    assert worked.steps[0] == "I1: 0.10 found: 2.40 from I2, leaves 0.20"


def test_the_drawer_comes_before_the_counter() -> None:
    base = {
        "valves": "I1", "measured_mm": (0.10,), "old_mm": (2.50,), "low_mm": (0.15,), "high_mm": (0.25,),
        "stock_from_mm": 2, "stock_to_mm": 3, "step_mm": 0.05,
    }  # fmt: skip
    assert catalogue.run("bucket-shim-reuse", **base)["buy_mm"] == (2.40,)
    worn = catalogue.run("bucket-shim-reuse", **base, drawer_mm=(2.437,))
    assert worn["origins"] == ("drawer",)
    assert worn["after_I1"] == 0.163


def test_a_valve_nothing_serves_is_named_and_has_no_figure() -> None:
    base = {
        "valves": "I1 I2", "measured_mm": (0.10, 0.20), "old_mm": (2.50, 2.40), "low_mm": (0.15,), "high_mm": (0.25,),
        "stock_from_mm": 3, "stock_to_mm": 4, "step_mm": 0.05,
    }  # fmt: skip
    worked = catalogue.run("bucket-shim-reuse", **base)
    assert worked["stuck"] == ("I1",)
    assert worked["fit_I1"] is None
    assert worked["fit_I2"] == 2.40
    assert "nothing will do for I1" in worked.verdict
    plain = catalogue.run("bucket-shim", **base)
    assert plain["stuck"] == ("I1",)
    assert plain["fit_I1"] is None


def test_good_valves_can_be_left_alone() -> None:
    base = {
        "valves": "I1 I2", "measured_mm": (0.24, 0.30), "old_mm": (2.50, 2.40), "low_mm": (0.15,), "high_mm": (0.25,),
        "stock_from_mm": 2, "stock_to_mm": 3, "step_mm": 0.01,
    }  # fmt: skip
    assert catalogue.run("bucket-shim", **base)["changed"] == ("I2",)
    assert catalogue.run("bucket-shim", **base, leave_good=False)["changed"] == ("I1", "I2")
    assert catalogue.run("bucket-shim-reuse", **base, leave_good=True)["origins"] == ("own", "buy")
    assert catalogue.run("bucket-shim-reuse", **base)["bought"] == 1


def test_odd_size_is_taken_thinner_unless_told_nearest() -> None:
    """Exact 2.53 in 0.02 steps gives 2.52: published bucket-shim formula."""
    base = {
        "valves": "E1", "measured_mm": (0.33,), "old_mm": (2.40,), "low_mm": (0.10,), "high_mm": (0.30,),
        "stock_from_mm": 2, "stock_to_mm": 3,
    }  # fmt: skip
    assert catalogue.run("bucket-shim", **base, step_mm=0.02)["fit_E1"] == 2.52
    assert catalogue.run("bucket-shim", **base, step_mm=0.05)["fit_E1"] == 2.50
    assert catalogue.run("bucket-shim", **base, step_mm=0.05, lean="nearest")["fit_E1"] == 2.55


@pytest.mark.parametrize(
    ("change", "refusal"),
    [
        ({"measured_mm": (0.0,)}, OutOfRange),
        ({"measured_mm": (0.2, 0.2)}, BadInput),
        ({"low_mm": (0.4,)}, OutOfRange),
        ({"wanted_mm": (0.5,)}, OutOfRange),
        ({"low_mm": (0.1, 0.1)}, BadInput),
        ({"valves": "I1 I2"}, BadInput),
        ({"stock_to_mm": 1.0}, OutOfRange),
        ({"step_mm": 0.0}, OutOfRange),
        ({"measured_mm": (0.2,) * 49, "old_mm": (2.4,) * 49}, BadInput),
    ],
)
def test_figures_that_cannot_be_are_refused(change: dict[str, object], refusal: type[Exception]) -> None:
    base = {
        "measured_mm": (0.20,), "old_mm": (2.40,), "low_mm": (0.10,), "high_mm": (0.30,),
        "stock_from_mm": 2, "stock_to_mm": 3, "step_mm": 0.05,
    }  # fmt: skip
    for name in ("bucket-shim", "bucket-shim-reuse"):
        with pytest.raises(refusal):
            catalogue.run(name, **{**base, **change})


def test_no_gap_tells_what_to_do() -> None:
    with pytest.raises(OutOfRange) as caught:
        needed_shim_mm(2.4, 0.0, 0.2)
    assert "thinner shim first" in caught.value.hint
    with pytest.raises(BadInput, match="3 shims"):
        catalogue.run(
            "bucket-shim-reuse", measured_mm=(0.2,), old_mm=(2.4, 2.4, 2.4), low_mm=(0.1,), high_mm=(0.3,),
            stock_from_mm=2, stock_to_mm=3, step_mm=0.05,
        )  # fmt: skip


def test_thou_are_kept_exactly() -> None:
    (valve,) = read_valves(names="E1", measured_mm=[0.1524], old_mm=[2.4], low_mm=[0.1016], high_mm=[0.2032])
    assert (valve.measured, valve.low, valve.high, valve.wanted) == (1524, 1016, 2032, 1524)
    assert Choice(None, "none").shim is None
