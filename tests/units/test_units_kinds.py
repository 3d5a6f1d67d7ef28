"""The table of units against itself and against the registry."""

import math
import subprocess
import sys
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, BadUnit, OutOfRange
from shopcli.units import (
    QUANTITIES,
    UNITS,
    from_canonical,
    measures,
    quantity_named,
    require_unit,
    to_canonical,
    unit_named,
    units_of,
)
from shopcli.units.kinds import exact_canonical
from shopcli.units.registry import convert, name_of, registry


@pytest.mark.parametrize("symbol", UNITS)
@pytest.mark.parametrize("figure", [1.0, 3.7, 212.0])
def test_registry_agrees_with_the_table(symbol, figure):
    canonical = QUANTITIES[UNITS[symbol].quantity].unit
    assert convert(figure, symbol, canonical) == pytest.approx(to_canonical(figure, symbol), rel=1e-12)


@pytest.mark.parametrize("name", QUANTITIES)
def test_every_quantity_has_its_canonical_unit_with_factor_one(name):
    kind = QUANTITIES[name]
    unit = UNITS[kind.unit]
    assert kind.unit in units_of(name)
    assert (unit.exact, unit.offset, unit.reciprocal) == (1, 0.0, False)


@pytest.mark.parametrize("unit", UNITS.values(), ids=lambda u: u.symbol)
def test_no_tool_is_finer_than_what_is_written_down(unit):
    assert unit.quantity in QUANTITIES
    assert unit.graduation > 0
    assert unit.graduation >= 10.0**-unit.decimals
    assert unit.factor == float(unit.exact)


@given(st.sampled_from(sorted(UNITS)), st.floats(1e-6, 1e6))
def test_there_and_back(symbol, figure):
    assert from_canonical(to_canonical(figure, symbol), symbol) == pytest.approx(figure, rel=1e-12, abs=1e-12)


@given(st.sampled_from(sorted(UNITS)), st.fractions("1/1000", 1000))
def test_exact_and_fast_agree(symbol, figure):
    assert float(exact_canonical(figure, symbol)) == pytest.approx(
        to_canonical(float(figure), symbol), rel=1e-12, abs=1e-12
    )


def test_one_length_said_in_two_units_is_one_value():
    assert exact_canonical(6, "thou") == exact_canonical(Fraction("0.006"), "in") == Fraction("0.0001524")


def test_pints_of_two_countries_stay_apart():
    """NIST Handbook 44 Appendix C and the definition of the imperial gallon: 1.20095 to one."""
    assert to_canonical(1, "pt_imp") / to_canonical(1, "pt_us") == pytest.approx(1.20095, rel=1e-6)
    assert to_canonical(1, "floz_imp") < to_canonical(1, "floz_us")


def test_consumption_turns_over_and_refuses_nothing():
    assert to_canonical(30.0, "mpg_imp") == pytest.approx(9.4160312)
    assert from_canonical(5.0, "km/L") == 20.0
    for symbol in ("mpg_imp", "mpg_us", "km/L"):
        with pytest.raises(OutOfRange):
            to_canonical(0.0, symbol)
        with pytest.raises(OutOfRange):
            from_canonical(0.0, symbol)
        with pytest.raises(OutOfRange):
            exact_canonical(0, symbol)


def test_degrees_of_crank_and_distributor_are_two_things():
    assert not measures("deg_crank", "distributor angle")
    with pytest.raises(BadUnit) as caught:
        require_unit("deg_crank", "distributor angle")
    assert "two of the crank" in caught.value.hint
    with pytest.raises(BadUnit):
        convert(1.0, "deg_crank", "deg_dist")


def test_borrowed_units():
    assert measures("thou", "offset")
    assert measures("m", "distance")
    assert not measures("km", "length")
    assert not measures("mm", "distance")


def test_unknown_names_are_told():
    with pytest.raises(BadUnit, match="furlong"):
        unit_named("furlong")
    with pytest.raises(BadInput, match="beauty"):
        quantity_named("beauty")
    with pytest.raises(BadUnit, match="furlong"):
        name_of("furlong")
    with pytest.raises(BadUnit, match="psi measures pressure; a torque is wanted") as caught:
        require_unit("psi", "torque")
    assert "lbf·ft" in caught.value.hint


@pytest.mark.parametrize(
    "expression",
    ["pint", "pints", "gallon*m", "mil", "mpg", "9**9", "__import__", "a/b/c/d/e/f", "", "km2h(1)"],
)
def test_registry_refuses_what_is_not_clear(expression):
    with pytest.raises(BadUnit):
        convert(1.0, expression, "m")


@pytest.mark.parametrize(
    ("word", "target"),
    [("pint", "L"), ("quart", "L"), ("gallons", "L"), ("fluid_ounce", "ml"), ("mil", "deg"), ("mpg", "km/L")],
)
def test_registry_picks_no_country_and_no_meaning(word, target):
    with pytest.raises(BadUnit, match="means more than one unit"):
        convert(1.0, word, target)


def test_registry_reads_expressions_and_keeps_newton_metres():
    assert convert(1.0, "kgf*cm", "Nm") == pytest.approx(0.0980665, rel=1e-12)
    assert convert(10.0, "Nm", "lbf.ft") == pytest.approx(7.375621492772653, rel=1e-12)
    assert convert(25.0, "km_per_L", "L/100km") == pytest.approx(4.0, rel=1e-12)
    assert convert(0.0, "degC", "degF") == pytest.approx(32.0)
    with pytest.raises(BadUnit):
        convert(0.0, "mpg_imp", "L/100km")
    with pytest.raises(BadUnit):
        convert(1.0, "Nm", "bar")
    assert registry() is registry()


def test_importing_the_units_loads_nothing_heavy():
    code = (
        "import sys, shopcli.units as u; u.parse('6 thou', 'length'); u.spoken(0.1, 'mm');"
        "u.Limits.of('length', 'mm', low=1).judge(2.0);"
        "print([m for m in ('pint', 'textual', 'rich', 'sqlmodel', 'jinja2', 'numpy') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_not_a_number_passes_through_the_fast_road():
    assert math.isnan(to_canonical(math.nan, "mm"))
