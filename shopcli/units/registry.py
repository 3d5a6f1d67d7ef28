"""The second route: a unit registry built from our own unit file.

The table in `table` is what the shop runs on. The registry knows the same units by independent definitions,
so that a test can prove the table, and it converts what the table has no pair for (an expression such as
``kgf*cm``). Building it takes a fifth of a second, so it is built on first use and never on import. There
is one per process: values of two registries cannot be mixed.
"""

import re
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from shopcli.errors import BadUnit
from shopcli.units.table import UNITS

if TYPE_CHECKING:
    import pint

# Symbols that are no names to pint, or other units there.
_NAMES = {
    "kgf.m": "kgf_m",
    "kgf.cm": "kgf_cm",
    "lbf.ft": "lbf_ft",
    "lbf.in": "lbf_in",
    "ozf.in": "ozf_in",
    "kgf/cm2": "kgf_per_cm2",
    "m3": "meter ** 3",
    "in3": "cubic_inch",
    "in": "inch",
    "um": "micrometer",
    "rpm": "shop_rpm",
    "mohm": "milliohm",
    "Mohm": "megaohm",
    "Ah": "ampere * hour",
    "uF": "microfarad",
    "L/100km": "L_per_100km",
    "km/L": "km_per_L",
    "m/s": "meter / second",
    "km/h": "kilometer / hour",
    "m2": "meter ** 2",
    "cm2": "centimeter ** 2",
    "mm2": "millimeter ** 2",
    "in2": "inch ** 2",
    "ratio": "dimensionless",
    "count": "dimensionless",
    "%": "percent",
    "h": "hour",
    "min": "minute",
    "F": "farad",
    "g": "gram",
    "cc": "centimeter ** 3",
    "arcmin": "arcminute",
    "atm": "standard_atmosphere",
}
_EXPRESSION = re.compile(r"[A-Za-z_]+[23]?(?:[*/][A-Za-z_]+[23]?){0,4}")
_TWO_COUNTRIES = re.compile(
    r"(?:pint|pt|quart|qt|gallon|gal|fluid_ounce|floz|fl_oz|mil|mpg|cup|gill|minim)s?2?3?", re.IGNORECASE
)


@cache
def registry() -> "pint.UnitRegistry[Any]":
    """Build the registry on first use.

    Examples
    --------
    >>> round(registry().Quantity(10, "Nm").to("lbf_ft").magnitude, 4)
    7.3756
    """
    import pint

    units: pint.UnitRegistry[Any] = pint.UnitRegistry(on_redefinition="ignore")
    with files("shopcli.units").joinpath("shop_units.txt").open(encoding="utf-8") as lines:
        units.load_definitions(list(lines))
    return units


def name_of(symbol: str) -> str:
    """Return what the registry calls one of our symbols.

    Raises
    ------
    BadUnit
        If the symbol is not ours.
    """
    if symbol not in UNITS:
        raise BadUnit(f"no unit has the symbol {symbol!r}", hint="Known: " + " ".join(UNITS) + ".")
    return _NAMES.get(symbol, symbol)


def convert(value: float, source: str, target: str) -> float:
    """Convert a figure by the registry.

    Parameters
    ----------
    value : float
        Figure, [source]
    source, target : str
        Our symbols, or products and quotients of plain unit names, such as ``N*m`` or ``lbf/inch2``.

    Returns
    -------
    float
        Figure, [target]

    Raises
    ------
    BadUnit
        If a unit is unknown, has two countries and names none, or the two measure different things.

    Examples
    --------
    >>> round(convert(1.8, "kgf.m", "lbf.ft"), 2)
    13.02
    >>> convert(2.0, "kN", "N")
    2000.0
    """
    import pint

    units = registry()
    names = _expression(source), _expression(target)
    try:
        first, second = (units.parse_units(name) for name in names)
        if _turned_over(first, second, units):
            return float((1 / units.Quantity(value, first)).to(second).magnitude)
        return float(units.Quantity(value, first).to(second).magnitude)
    except ZeroDivisionError:
        raise BadUnit(f"nothing in {source} cannot be said in {target}") from None
    except (pint.PintError, AttributeError, ValueError, TypeError) as error:
        raise BadUnit(f"{source} cannot be said in {target}: {error}") from error


def _expression(text: str) -> str:
    if text in UNITS:
        return name_of(text)
    if not _EXPRESSION.fullmatch(text):
        raise BadUnit(f"{text!r} is no unit", hint="Write names with * and /, for example N*m.")
    for word in re.split(r"[*/]", text):
        if _TWO_COUNTRIES.fullmatch(word):
            raise BadUnit(
                f"{word} means more than one unit", hint="Say which: pt_imp or pt_us, thou, mpg_imp ..."
            )
    return re.sub(r"([23])", r"**\1", text)


def _turned_over(first: Any, second: Any, units: "pint.UnitRegistry[Any]") -> bool:
    """Tell whether one is distance per volume and the other volume per distance."""
    per_volume = units.parse_units("km_per_L").dimensionality
    per_distance = units.parse_units("L_per_100km").dimensionality
    return {first.dimensionality, second.dimensionality} == {per_volume, per_distance}
