"""How values are said: rounding in decimal text, tool marks, fractions, preferences."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import BadInput, BadUnit, OutOfRange, ShopError
from shopcli.units import (
    AS_PRINTED,
    IMPERIAL,
    METRIC,
    QUANTITIES,
    UNITS,
    US,
    Preferences,
    both,
    fraction_inch,
    measures,
    number_text,
    on_tool,
    other_system,
    parse,
    spoken,
    to_canonical,
    unit_named,
)
from shopcli.units.as_exact import as_exact


@given(
    st.integers(1, 10**5),
    st.integers(0, 4),
    st.sampled_from(["in", "thou", "mm"]),
    st.sampled_from(["mm", "thou"]),
)
def test_a_figure_in_another_unit_is_off_by_less_than_its_last_decimal(
    figure: int, decimals: int, unit: str, other: str
) -> None:
    typed = parse(f"{Decimal(figure).scaleb(-decimals):f} {unit}", "length")
    said = parse(as_exact(typed, other), "length").value
    last = to_canonical(10.0**-decimals, unit)
    own = to_canonical(10.0 ** -unit_named(other).decimals, other)
    assert abs(said - typed.value) <= max(last / 20, own / 2) * (1 + 1e-9)


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        (0.0001524, "thou", "6 thou"),
        (0.00015, "thou", "5.9 thou"),
        (0.00015, "mm", "0.15 mm"),
        (0.0855, "mm", "85.5 mm"),
        (40 * 1.3558179483314004, "lbf.ft", "40 lbf·ft"),
        (0.0035, "L", "3.5 L"),
        (140000.0, "bar", "1.4 bar"),
        (8.0, "deg", "8°"),
        (8.0, "deg_crank", "8° crank"),
        (8.0, "deg_dist", "8° distributor"),
        (8.5, "ratio", "8.5:1"),
        (20.0, "degC", "20 °C"),
        (20.0, "degF", "68 °F"),
        (1.265, "sg", "1.265 SG"),
        (54.0, "%", "54 %"),
        (4.0, "count", "4"),
        (1250.0, "rpm", "1250 rpm"),
        (9.416031211060739, "mpg_imp", "30 mpg imp"),
        (-0.003, "mm", "-3 mm"),
    ],
)
def test_said_as_the_trade_says_it(value, unit, said):
    assert spoken(value, unit) == said


@pytest.mark.parametrize(
    ("value", "digits", "said"),
    [
        (0.000125, 2, "0.13"),  # half goes up, although the float is a hair below or above
        (0.000135, 2, "0.14"),
        (0.001005, 2, "1.01"),  # round(1.005, 2) is 1.0
        (0.002675, 2, "2.68"),  # round(2.675, 2) is 2.67
        (-0.000125, 2, "-0.13"),
        (0.0002, 2, "0.20"),
        (0.0002, 0, "0"),
        (0.0005, 0, "1"),
    ],
)
def test_half_is_rounded_up_in_decimal_text(value, digits, said):
    assert number_text(value, "mm", digits=digits) == said


@given(st.floats(-1e-7, 0.0), st.sampled_from(["mm", "degC", "V", "bar"]))
def test_never_minus_nothing(value, unit):
    assert not number_text(value, unit, digits=1).startswith("-0.0")
    assert number_text(value, unit, digits=0) != "-0"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_refused(value):
    with pytest.raises(BadInput):
        spoken(value, "mm")
    with pytest.raises(BadInput):
        on_tool(value, "mm")


def test_an_unknown_unit_is_refused():
    with pytest.raises(BadUnit):
        spoken(1.0, "furlong")


@given(st.floats(allow_nan=False, allow_infinity=False), st.sampled_from(sorted(UNITS)))
def test_any_float_is_said_or_clearly_refused(value, unit):
    for say in (spoken, on_tool):
        try:
            text = say(value, unit)
        except ShopError:
            continue
        assert text.endswith(UNITS[unit].label)
        assert "e+" not in text.lower()


@given(st.sampled_from(sorted(UNITS)), st.floats(0.01, 5000))
def test_what_is_said_can_be_typed_back(unit, figure):
    quantity = UNITS[unit].quantity
    if unit == "sg":
        figure /= 1000
    value = to_canonical(figure, unit)
    shown = Decimal(number_text(value, unit))
    assume(shown or not UNITS[unit].reciprocal)  # 0.01 mpg is said as nothing, which cannot be read
    assume(abs(to_canonical(float(shown), unit)) <= 1e9)
    typed = parse(spoken(value, unit), quantity)
    assert typed.unit == unit
    half = 0.5 * 10.0 ** -UNITS[unit].decimals
    dust = 1e-11 * figure  # a figure is freed of binary dust before it is rounded
    assert abs(typed.number - figure) <= half + dust


@pytest.mark.parametrize(
    ("value", "unit", "other", "said"),
    [
        (0.0001524, "thou", "mm", "6 thou (0.15 mm)"),  # common practice, no source
        (0.0004064, "thou", "mm", "16 thou (0.41 mm)"),
        (0.0004, "mm", "thou", "0.4 mm (16 thou)"),  # common practice, no source
        (0.00002, "mm", "thou", "0.02 mm (0.8 thou)"),  # a whole thou would be 27 % off
        (1.8 * 9.80665, "kgf.m", "lbf.ft", "1.8 kgf·m (13 lbf·ft)"),  # TM 10-3930-653-14&P, service data
        (2.4 * 9.80665, "kgf.m", "lbf.ft", "2.4 kgf·m (17 lbf·ft)"),  # TM 10-3930-653-14&P, service data
        (0.0042, "L", "qt_us", "4.2 L (4.4 US qt)"),  # TM 10-3930-653-14&P, service data
        (0.0085, "L", "qt_us", "8.5 L (9 US qt)"),  # TM 10-3930-653-14&P, service data
        (0.0007, "mm", "thou", "0.7 mm (28 thou)"),  # TM 10-3930-653-14&P, service data
        (0.0008, "mm", "thou", "0.8 mm (31 thou)"),  # TM 10-3930-653-14&P, service data
        (0.00055, "mm", "thou", "0.55 mm (22 thou)"),  # TM 10-3930-653-14&P, service data
        (0.0, "mm", "thou", "0 mm (0 thou)"),
    ],
)
def test_both_ways(value, unit, other, said):
    assert both(value, unit, other) == said


@given(st.floats(1e-5, 1.0), st.sampled_from(["mm", "thou", "in"]))
def test_a_tool_mark_is_near(value, unit):
    shown = parse(on_tool(value, unit), "length").value
    finest = to_canonical(10.0 ** -UNITS[unit].decimals, unit)
    assert abs(shown - value) <= max(0.025 * value, 0.5 * finest) * (1 + 1e-9)


@pytest.mark.parametrize(
    ("inches", "denominator", "said"),
    [
        ("1/4", 64, "1/4 in"),
        ("17/16", 64, "1-1/16 in"),
        ("3", 64, "3 in"),
        ("0", 64, "0 in"),
        ("63/64", 64, "63/64 in"),
        ("127/128", 64, "1 in"),  # half goes up
        ("1/128", 128, "1/128 in"),
        ("5/8", 2, "1/2 in"),
        ("3/4", 2, "1 in"),
        ("-9/8", 64, "-1-1/8 in"),
        ("-1/1000", 64, "0 in"),
    ],
)
def test_fractions_of_an_inch(inches, denominator, said):
    assert fraction_inch(float(Fraction(inches) * Fraction("0.0254")), denominator) == said


@given(st.integers(0, 64 * 40))
def test_a_fraction_of_an_inch_can_be_typed_back(parts):
    value = float(Fraction(parts, 64) * Fraction("0.0254"))
    assert parse(fraction_inch(value), "length").value == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize("denominator", [0, 3, -2, 256])
def test_only_the_divisions_on_a_rule(denominator):
    with pytest.raises(OutOfRange):
        fraction_inch(0.01, denominator)


def test_preferences_choose_the_unit():
    assert IMPERIAL.unit_for("length", "mm") == "thou"
    assert IMPERIAL.unit_for("length", "mm", 0.0004) == "thou"
    assert IMPERIAL.unit_for("length", "mm", 0.0855) == "in"
    assert METRIC.unit_for("torque", "lbf.ft") == "Nm"
    assert METRIC.unit_for("voltage", "mV") == "mV"
    assert AS_PRINTED.unit_for("length", "thou", 0.5) == "thou"
    assert METRIC.changed("pressure", "psi").unit_for("pressure", "bar") == "psi"
    assert METRIC.unit_for("pressure", "psi") == "bar"
    assert hash(METRIC) != hash(IMPERIAL)


def test_preferences_hold_only_units_that_fit():
    with pytest.raises(BadUnit):
        Preferences((("torque", "psi"),))
    with pytest.raises(BadInput):
        Preferences((("beauty", "mm"),))


@pytest.mark.parametrize("prefs", [METRIC, IMPERIAL, US])
def test_ready_made_preferences_keep_to_their_system(prefs):
    unwanted = "imperial" if prefs is METRIC else "metric"
    assert all(UNITS[symbol].system != unwanted for _, symbol in prefs.units)
    assert all(measures(symbol, quantity) for quantity, symbol in prefs.units)


@pytest.mark.parametrize("symbol", UNITS)
def test_the_fellow_unit_measures_the_same_in_the_other_system(symbol):
    fellow = other_system(symbol)
    if UNITS[symbol].system == "both":
        assert fellow is None
        return
    assert fellow is not None
    pair = {UNITS[symbol].quantity, UNITS[fellow].quantity}
    assert len(pair) == 1
    assert {UNITS[symbol].system, UNITS[fellow].system} == {"metric", "imperial"}


def test_the_fellow_unit_follows_country_and_size():
    assert other_system("L") == "qt_imp"
    assert other_system("L", US) == "qt_us"
    assert other_system("L/100km", US) == "mpg_us"
    assert other_system("pt_imp") == other_system("gal_us") == "L"
    assert other_system("mpg_us") == "L/100km"
    assert other_system("mm", value=0.001) == "thou"
    assert other_system("mm", value=0.1) == "in"
    with pytest.raises(BadUnit):
        other_system("furlong")


def test_every_quantity_has_a_label_to_show():
    assert all(kind.label for kind in QUANTITIES.values())
