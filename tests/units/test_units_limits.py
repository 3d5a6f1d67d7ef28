"""Limits and the judgement on a reading."""

import json
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import BadInput, BadUnit, ShopError
from shopcli.units import IMPERIAL, METRIC, UNITS, US, Limits, Preferences, parse, to_canonical

# TM 10-3930-653-14&P, engine service data: contact-breaker gap printed in both units.
POINTS = Limits.of(
    "length", "mm", low="0.45", high="0.55", also=[Limits.of("length", "in", low="0.018", high="0.022")]
)
VALVES = Limits.of("length", "thou", nominal=6)  # common practice, no source


def judged(limits, text):
    typed = parse(text, limits.quantity)
    return limits.judge(typed.value, unit=typed.unit)


@pytest.mark.parametrize(
    ("text", "standing", "words"),
    [
        ("22 thou", "in", "in limits"),  # 0.559 mm, yet the document says 0.022 in is allowed
        ("0.022 in", "in", "in limits"),
        ("18 thou", "in", "in limits"),
        ("17 thou", "low", "low by 1 thou (limit 0.018 in = 18 thou)"),
        ("24 thou", "high", "high by 2 thou (limit 0.022 in = 22 thou)"),
        ("0.45 mm", "in", "in limits"),
        ("0.55 mm", "in", "in limits"),
        ("0.56 mm", "high", "high by 0.01 mm (limit 0.55 mm)"),
        ("0.4 mm", "low", "low by 0.05 mm (limit 0.45 mm)"),
    ],
)
def test_judged_by_the_print_in_the_readings_own_system(text, standing, words):
    verdict = judged(POINTS, text)
    assert (verdict.standing, verdict.words) == (standing, words)
    metric = text.endswith("mm")
    assert verdict.judged_by == ("0.45 to 0.55 mm" if metric else "0.018 to 0.022 in")


def test_without_a_unit_the_first_print_judges():
    assert POINTS.judge(0.0005588).standing == "high"
    assert POINTS.judge(0.0005588, unit="mm").standing == "high"


def test_the_print_in_the_very_unit_goes_before_its_system():
    stud = Limits.of(
        "torque", "kgf.m", low="8.0", high="9.5", also=[Limits.of("torque", "Nm", low=80, high=95)]
    )
    assert judged(stud, "94 Nm").standing == "in"  # 9.58 kgf·m
    assert judged(stud, "79 Nm").words == "low by 1 N·m (limit 80 N·m)"
    assert stud.text_in("Nm") == "80 to 95 N·m"
    assert stud.text_in("daNm") == "7.9 to 9.3 daN·m"  # no print in that unit: the first of the system


def test_how_far_out_is_told_in_the_canonical_unit():
    verdict = judged(POINTS, "0.60 mm")
    assert verdict.by == pytest.approx(0.00005)
    assert verdict.amount == "0.05 mm"
    assert judged(POINTS, "0.50 mm").by == 0.0


@pytest.mark.parametrize(
    ("text", "standing"),
    [("6 thou", "in"), ("0,15 mm", "in"), ("0.006 in", "in"), ("5 thou", "low"), ("7 thou", "high")],
)
def test_a_lone_nominal_reaches_half_its_last_digit(text, standing):
    assert judged(VALVES, text).standing == standing


def test_a_lone_nominal_says_what_is_wanted():
    assert judged(VALVES, "4 thou").words == "low by 2 thou (wanted 6 thou)"
    assert judged(VALVES, "4 thou").said("too tight", "too wide") == "2 thou too tight"
    assert judged(VALVES, "9 thou").said("too tight", "too wide") == "3 thou too wide"
    assert judged(VALVES, "6 thou").said("too tight", "too wide") == "in limits"
    assert judged(VALVES, "0.10 mm").words == "low by 0.052 mm (wanted 6 thou = 0.152 mm)"


@pytest.mark.parametrize(
    ("nominal", "step", "inside", "outside"),
    [
        ("0.4", 0.0001, "0.45 mm", "0.46 mm"),
        ("0.40", 0.00001, "0.405 mm", "0.41 mm"),
        (Decimal("0.40"), 0.00001, "0.395 mm", "0.39 mm"),
        (Decimal(4), 0.001, "4.5 mm", "4.6 mm"),
        (4, 0.001, "3.5 mm", "3.4 mm"),
        (0.4, None, "0.405 mm", "0.41 mm"),  # a float tells no digits: the tool's 0.01 mm
        ("0,40", 0.00001, "0.405 mm", "0.41 mm"),
        ("2/5", None, "0.405 mm", "0.41 mm"),
    ],
)
def test_the_band_comes_from_the_digits_as_written(nominal, step, inside, outside):
    limits = Limits.of("length", "mm", nominal=nominal)
    assert limits.step == (None if step is None else pytest.approx(step))
    assert judged(limits, inside).standing == "in"
    assert judged(limits, outside).standing != "in"


def test_a_lone_nominal_accepts_the_nearest_mark_of_another_tool():
    torque = Limits.of("torque", "Nm", nominal=40)
    assert judged(torque, "40.6 Nm").standing == "high"
    assert judged(torque, "30 lbf.ft").standing == "in"  # 40.67 N·m, and no mark is nearer
    assert judged(torque, "31 lbf.ft").standing == "high"


@pytest.mark.parametrize("unit", sorted(s for s, u in UNITS.items() if not u.reciprocal))
@pytest.mark.parametrize("figure", [1.0, 8.5, 13.0])
def test_the_tools_mark_for_a_lone_nominal_is_always_in(unit, figure):
    limits = Limits.of(UNITS[unit].quantity, unit, nominal=figure)
    for other in (s for s, u in UNITS.items() if u.quantity == limits.quantity and not u.reciprocal):
        prefs = Preferences(((limits.quantity, other),))
        shown = parse(limits.text_in(other), limits.quantity)
        assert limits.judge(shown.value, unit=shown.unit).standing == "in", prefs


def test_one_sided_limits():
    least = Limits.of("pressure", "psi", low=90)
    assert least.text() == "at least 90 psi"
    assert judged(least, "90 psi").standing == "in"
    assert judged(least, "300 psi").standing == "in"
    assert judged(least, "85 psi").words == "low by 5 psi (limit 90 psi)"
    most = Limits.of("voltage", "V", high="0.2")
    assert most.text() == "at most 0.2 V"
    assert judged(most, "0.2 V").standing == "in"
    assert judged(most, "-3 V").standing == "in"
    assert judged(most, "500 mV").words == "high by 300 mV (limit 0.2 V = 200 mV)"


def test_a_nominal_beside_a_limit_is_an_aim_and_no_judge():
    limits = Limits.of("pressure", "psi", low=90, nominal=100, high=110)
    assert limits.text() == "90 to 110 psi, aim for 100 psi"
    assert judged(limits, "91 psi").standing == "in"
    assert Limits.of("torque", "Nm", low=20, nominal=25).text() == "at least 20 N·m, aim for 25 N·m"
    assert Limits.of("torque", "Nm", nominal=25, high=30).text() == "at most 30 N·m, aim for 25 N·m"


def test_said_in_the_preferred_unit():
    assert POINTS.text() == POINTS.text(METRIC) == "0.45 to 0.55 mm"
    assert POINTS.text(IMPERIAL) == "18 to 22 thou"
    assert POINTS.text_both("mm", "in") == "0.45 to 0.55 mm (0.018 to 0.022 in)"
    assert VALVES.text() == "6 thou"
    assert VALVES.text(METRIC) == "0.15 mm"
    assert Limits.of("length", "mm", low="0.15", high="0.20").text() == "0.15 to 0.20 mm"
    assert Limits.of("length", "mm", low=0.15, high=0.2).text() == "0.15 to 0.20 mm"
    assert Limits.of("length", "mm", low=0.15, high="0.2").text() == "0.15 to 0.20 mm"
    assert Limits.of("length", "mm", nominal=85.5).text(IMPERIAL) == "3.366 in"
    assert Limits.of("crank angle", "deg_crank", low=8, high=10).text(METRIC) == "8 to 10° crank"
    assert Limits.of("torque", "Nm", low=20, high=20).text() == "20 N·m"
    assert Limits.of("temperature", "degC", low=80, high=95).text(US) == "176 to 203 °F"
    # TM 10-3930-653-14&P prints 8.0 to 9.5 kgf·m as 59-69 lbf·ft; 8.0 is 57.9
    assert Limits.of("torque", "kgf.m", low="8.0", high="9.5").text_both("kgf.m", "lbf.ft") == (
        "8.0 to 9.5 kgf·m (58 to 68 lbf·ft)"
    )


def test_a_limit_that_came_by_conversion_is_not_shown_with_its_dust():
    assert Limits("length", "thou", low=0.00015, high=0.00025).text() == "6.0 to 9.8 thou"
    assert Limits("length", "thou", low=0.00015).text() == "at least 6 thou"


UNITS_BY_KIND = {
    "length": ("mm", "thou", "in", "cm"),
    "torque": ("Nm", "lbf.ft", "kgf.m", "lbf.in"),
    "pressure": ("bar", "psi", "kPa", "kgf/cm2"),
    "volume": ("L", "pt_imp", "qt_us", "cc"),
    "temperature": ("degC", "degF"),
    "fuel use": ("L/100km", "mpg_imp", "km/L"),
}
KINDS = st.sampled_from(sorted(UNITS_BY_KIND)).flatmap(
    lambda q: st.tuples(st.just(q), *(st.sampled_from(UNITS_BY_KIND[q]) for _ in range(2)))
)
FIGURES = st.decimals("0.05", "300", places=2)


@given(KINDS, FIGURES, FIGURES)
def test_what_is_shown_as_allowed_is_judged_in(kind, one, two):
    quantity, unit, other = kind
    limits = Limits.of(quantity, unit, low=min(one, two), high=max(one, two))
    text = limits.text_in(other)
    shown = text.removesuffix(f" {UNITS[other].label}").split(" to ")
    for figure in shown:
        typed = parse(f"{figure} {UNITS[other].label}", quantity)
        assert limits.judge(typed.value, unit=other).standing == "in", text


@given(KINDS, FIGURES, st.sampled_from(["low", "high", "both"]))
def test_a_limit_converted_there_and_back_is_in(kind, figure, side):
    quantity, unit, other = kind
    ends = (
        {"low": figure}
        if side == "low"
        else {"high": figure}
        if side == "high"
        else {"low": figure, "high": figure}
    )
    limits = Limits.of(quantity, unit, **ends)
    value = to_canonical(float(figure), unit)
    assert limits.judge(value, unit=other).standing == "in"
    assert limits.judge(value).standing == "in"


@given(KINDS, FIGURES, FIGURES, st.tuples(st.floats(0, 1000), st.floats(0, 1000)), st.booleans())
def test_judgement_only_rises_with_the_reading(kind, one, two, readings, lone):
    quantity, unit, _ = kind
    figures = {"nominal": one} if lone else {"low": min(one, two), "high": max(one, two)}
    limits = Limits.of(quantity, unit, **figures)
    assume(not UNITS[unit].reciprocal)
    order = ["low", "in", "high"]
    lesser, greater = sorted(to_canonical(r, unit) for r in readings)
    assert order.index(limits.judge(lesser).standing) <= order.index(limits.judge(greater).standing)


@given(KINDS, FIGURES, st.floats(0.01, 1000))
def test_out_is_never_told_as_nothing(kind, nominal, figure):
    quantity, unit, _ = kind
    verdict = Limits.of(quantity, unit, nominal=nominal).judge(to_canonical(figure, unit), unit=unit)
    assert (verdict.by == 0.0) == (verdict.standing == "in")
    if verdict.standing != "in":
        assert any(c in "123456789" for c in verdict.amount)
        assert verdict.words.startswith(f"{verdict.standing} by {verdict.amount} (wanted ")
        assert verdict.standing == ("low" if figure < nominal else "high")


def test_consumption_is_judged_the_way_it_is_said():
    limits = Limits.of("fuel use", "mpg_imp", low=28)
    assert limits.high == pytest.approx(282.480936 / 28, rel=1e-8)
    assert limits.low is None
    assert limits.text() == "at least 28 mpg imp"
    assert judged(limits, "25 mpg imp").words == "low by 3 mpg imp (limit 28 mpg imp)"
    assert judged(limits, "35 mpg imp").standing == "in"
    assert limits.text(METRIC) == "at most 10.0 L/100 km"
    lone = Limits.of("fuel use", "mpg_imp", nominal=30)
    assert [judged(lone, f"{n} mpg imp").standing for n in (29, 30, 31)] == ["low", "in", "high"]


def test_degrees_of_temperature_differ_by_their_size_only():
    limits = Limits.of("temperature", "degC", low=80, high=95)
    assert judged(limits, "210 F").words == "high by 7 °F (limit 95 °C = 203 °F)"
    assert judged(limits, "176 F").standing == "in"
    assert Limits.of("temperature", "degF", low=32).judge(0.0).standing == "in"


BAD = [
    ({}, "at least one"),
    ({"low": 2, "high": 1}, "Low is at most"),
    ({"low": 2, "nominal": 1}, "Low is at most"),
    ({"nominal": 2, "high": 1}, "Low is at most"),
    ({"low": float("nan")}, "Give a number"),
    ({"high": float("inf")}, "Give a number"),
    ({"high": Decimal("NaN")}, "Give a number"),
    ({"high": Decimal("sNaN")}, "Give a number"),
    ({"high": Decimal("1e999999999")}, "Give a number"),
    ({"high": 10**400}, "Check the figure"),
    ({"high": "1e900"}, "Check the figure"),
    ({"nominal": True}, "Give a number"),
    ({"nominal": "six"}, "Write one figure"),
    ({"nominal": "6 thou"}, "Write one figure"),
    ({"low": -1}, "minus"),
    ({"nominal": "1,250"}, "1250"),
]


@pytest.mark.parametrize(("figures", "hint"), BAD)
def test_limits_that_cannot_be_are_refused(figures, hint):
    with pytest.raises(BadInput) as caught:
        Limits.of("length", "mm", **figures)
    assert hint in caught.value.hint


def test_limits_of_the_wrong_kind_are_refused():
    with pytest.raises(BadUnit):
        Limits.of("torque", "psi", low=1)
    with pytest.raises(BadInput):
        Limits.of("beauty", "mm", low=1)
    with pytest.raises(BadUnit):
        POINTS.judge(0.0005, unit="psi")
    with pytest.raises(BadUnit):
        POINTS.text_in("psi")
    with pytest.raises(BadInput):
        POINTS.judge(float("nan"))
    with pytest.raises(BadInput):
        Limits("length", "mm", nominal=0.001, step=0.0)
    with pytest.raises(BadInput):
        Limits("length", "mm", nominal=float("nan"))


def test_another_print_must_be_the_same_limit():
    """The scan of TM 10-3930-653-14&P shows 15 psi beside 11.0 kgf/cm2; it must be 156."""
    with pytest.raises(BadInput, match=r"11 kgf/cm² and 15 psi cannot be the same limit"):
        Limits.of("pressure", "kgf/cm2", nominal="11.0", also=[Limits.of("pressure", "psi", nominal=15)])
    good = Limits.of("pressure", "kgf/cm2", nominal="11.0", also=[Limits.of("pressure", "psi", nominal=156)])
    assert judged(good, "156 psi").standing == "in"
    with pytest.raises(BadInput):
        Limits.of("length", "mm", low=1, also=[Limits.of("torque", "Nm", low=1)])
    with pytest.raises(BadInput):
        Limits.of("length", "mm", low="0.45", also=[POINTS])
    # 0.02 mm printed as 0.001 in is 27 % off, but the last digit of the print allows no better
    assert Limits.of("length", "mm", low="0.02", also=[Limits.of("length", "in", low="0.001")]).also


@given(KINDS, FIGURES, FIGURES)
def test_json_keeps_every_bit(kind, one, two):
    quantity, unit, other = kind
    low, high = min(one, two), max(one, two)
    limits = Limits.of(quantity, unit, low=low, high=high)
    again = Limits.from_json(json.loads(json.dumps(limits.to_json())))
    assert again == limits
    assert again.text_in(other) == limits.text_in(other)


def test_json_keeps_the_other_prints():
    again = Limits.from_json(json.loads(json.dumps(POINTS.to_json())))
    assert again == POINTS
    assert hash(again) == hash(POINTS)
    assert judged(again, "22 thou").standing == "in"


@pytest.mark.parametrize(
    "change",
    [
        {"low": "0.45"},
        {"low": True},
        {"low": float("nan")},
        {"high": 10**400},
        {"unit": "psi"},
        {"quantity": 3},
        {"also": 7},
        {"also": [[]]},
        {"step": -1.0},
    ],
)
def test_stored_limits_that_were_spoiled_are_refused(change):
    with pytest.raises(ShopError):
        Limits.from_json(POINTS.to_json() | change)
    with pytest.raises(ShopError):
        Limits.from_json({k: v for k, v in POINTS.to_json().items() if k not in change})
