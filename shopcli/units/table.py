"""The table of what a shop measures and in which units it is said.

Bench and paper need a conversion many times a second and long before anything heavy may be loaded, so the
table is plain Python. Every factor is stored as its definition (an exact fraction), never as a rounded
printed one: the figures printed in NIST SP 811 have seven digits. `registry` proves the table a second way.

Conventions: an ignition angle before top dead centre is plus; pressure is gauge pressure, so vacuum is minus;
degrees of the crank and of the distributor are different quantities, since one distributor degree is two of
the crank.

References
----------
.. [1] NIST Special Publication 811 (2008), Appendix B.8 and footnotes 13, 22, 23.
.. [2] NIST Handbook 44, Appendix C (inch, pound, US gallon of 231 cubic inches).
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

System = Literal["metric", "imperial", "both"]


@dataclass(frozen=True, slots=True)
class Quantity:
    """A kind of thing measured.

    `unit` is the canonical unit values are stored in, `signed` tells whether less than nothing makes sense,
    `like` names another quantity whose units also serve, `also` single borrowed units.
    """

    name: str
    unit: str
    label: str
    signed: bool = False
    like: str = ""
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unit:
    """A way to say a quantity: canonical = (figure + offset) * factor, or factor / figure if `reciprocal`.

    `graduation` is the step of the usual tool in this unit, `decimals` the finest figure worth writing down.
    """

    symbol: str
    quantity: str
    exact: Fraction
    factor: float
    offset: float
    label: str
    graduation: float
    decimals: int
    system: System
    reciprocal: bool = False


QUANTITIES: dict[str, Quantity] = {
    q.name: q
    for q in (
        Quantity("length", "m", "length"),
        Quantity(
            "offset", "m", "length with a sign", signed=True, like="length"
        ),  # toe-in plus, toe-out minus
        Quantity("torque", "Nm", "torque"),
        Quantity("pressure", "Pa", "pressure", signed=True),
        Quantity("volume", "m3", "volume"),
        Quantity("angle", "deg", "angle", signed=True),
        Quantity("crank angle", "deg_crank", "angle of the crank", signed=True),
        Quantity("distributor angle", "deg_dist", "angle of the distributor", signed=True),
        Quantity("rotation", "rpm", "speed of rotation"),
        Quantity("voltage", "V", "voltage", signed=True),
        Quantity("current", "A", "current", signed=True),
        Quantity("charge", "Ah", "charge"),
        Quantity("resistance", "ohm", "resistance"),
        Quantity("capacitance", "F", "capacitance"),
        Quantity("temperature", "degC", "temperature", signed=True),
        Quantity("density", "sg", "specific gravity"),
        Quantity("force", "N", "force"),
        Quantity("mass", "kg", "weight"),
        Quantity("distance", "m", "distance", also=("m",)),
        Quantity("speed", "m/s", "speed"),
        Quantity("time", "s", "time"),
        Quantity("fuel use", "L/100km", "fuel consumption"),
        Quantity("area", "m2", "area"),
        Quantity("power", "W", "power"),
        Quantity("ratio", "ratio", "ratio"),
        Quantity("percent", "%", "percentage"),
        Quantity("count", "count", "count"),
    )
}

# Definitions, exact.
_INCH = Fraction("0.0254")  # m
_FOOT = 12 * _INCH
_MILE = 5280 * _FOOT
_G = Fraction("9.80665")  # m/s2, also N of a kilogram-force
_POUND = Fraction("0.45359237")  # kg
_LBF = _POUND * _G
_OZF = _LBF / 16
_MMHG = Fraction("13595.1") * _G / 1000  # conventional mercury, [1]_
_IN3 = _INCH**3
_GAL_US = 231 * _IN3
_GAL_IMP = Fraction("0.00454609")
_HP = 550 * _FOOT * _LBF
_PS = 75 * _G
_PER_100KM = 100_000 * 1000  # m travelled times litres in a cubic metre


def _unit(
    symbol: str,
    quantity: str,
    exact: Fraction | int,
    label: str,
    graduation: float,
    decimals: int,
    system: System = "metric",
    *,
    offset: float = 0.0,
    reciprocal: bool = False,
) -> Unit:
    exact = Fraction(exact)
    return Unit(
        symbol, quantity, exact, float(exact), offset, label, graduation, decimals, system, reciprocal
    )


_ROWS: tuple[Unit, ...] = (
    _unit("m", "length", 1, "m", 0.001, 4),
    _unit("mm", "length", Fraction(1, 1000), "mm", 0.01, 3),
    _unit("cm", "length", Fraction(1, 100), "cm", 0.1, 3),
    _unit("um", "length", Fraction(1, 10**6), "µm", 1, 1),
    _unit("in", "length", _INCH, "in", 0.001, 4, "imperial"),
    _unit("thou", "length", _INCH / 1000, "thou", 1, 1, "imperial"),
    _unit("ft", "length", _FOOT, "ft", 0.01, 3, "imperial"),
    _unit("Nm", "torque", 1, "N·m", 1, 1),
    _unit("daNm", "torque", 10, "daN·m", 0.1, 2),
    _unit("kgf.m", "torque", _G, "kgf·m", 0.1, 2),
    _unit("kgf.cm", "torque", _G / 100, "kgf·cm", 1, 1),
    _unit("lbf.ft", "torque", _LBF * _FOOT, "lbf·ft", 1, 1, "imperial"),
    _unit("lbf.in", "torque", _LBF * _INCH, "lbf·in", 1, 1, "imperial"),
    _unit("ozf.in", "torque", _OZF * _INCH, "ozf·in", 1, 1, "imperial"),
    _unit("Pa", "pressure", 1, "Pa", 1000, 0),
    _unit("kPa", "pressure", 1000, "kPa", 1, 1),
    _unit("MPa", "pressure", 10**6, "MPa", 0.01, 3),
    _unit("bar", "pressure", 10**5, "bar", 0.1, 2),
    _unit("mbar", "pressure", 100, "mbar", 1, 1),
    _unit("kgf/cm2", "pressure", _G * 10**4, "kgf/cm²", 0.1, 2),
    _unit("mmHg", "pressure", _MMHG, "mmHg", 1, 1),
    _unit("atm", "pressure", 101_325, "atm", 0.01, 3, "both"),
    _unit("psi", "pressure", _LBF / _INCH**2, "psi", 1, 1, "imperial"),
    _unit("inHg", "pressure", _MMHG * Fraction("25.4"), "inHg", 0.5, 2, "imperial"),
    _unit("m3", "volume", 1, "m³", 0.001, 6),
    _unit("L", "volume", Fraction(1, 1000), "L", 0.1, 2),
    _unit("ml", "volume", Fraction(1, 10**6), "ml", 1, 1),
    _unit("cc", "volume", Fraction(1, 10**6), "cc", 1, 1),
    _unit("in3", "volume", _IN3, "in³", 0.1, 2, "imperial"),
    _unit("floz_imp", "volume", _GAL_IMP / 160, "imp fl oz", 0.5, 1, "imperial"),
    _unit("pt_imp", "volume", _GAL_IMP / 8, "imp pt", 0.1, 2, "imperial"),
    _unit("qt_imp", "volume", _GAL_IMP / 4, "imp qt", 0.1, 2, "imperial"),
    _unit("gal_imp", "volume", _GAL_IMP, "imp gal", 0.1, 2, "imperial"),
    _unit("floz_us", "volume", _GAL_US / 128, "US fl oz", 0.5, 1, "imperial"),
    _unit("pt_us", "volume", _GAL_US / 8, "US pt", 0.1, 2, "imperial"),
    _unit("qt_us", "volume", _GAL_US / 4, "US qt", 0.1, 2, "imperial"),
    _unit("gal_us", "volume", _GAL_US, "US gal", 0.1, 2, "imperial"),
    _unit("deg", "angle", 1, "°", 1, 2, "both"),
    _unit("arcmin", "angle", Fraction(1, 60), "′", 5, 1, "both"),
    _unit("deg_crank", "crank angle", 1, "° crank", 1, 1, "both"),
    _unit("deg_dist", "distributor angle", 1, "° distributor", 1, 1, "both"),
    _unit("rpm", "rotation", 1, "rpm", 10, 0, "both"),
    _unit("V", "voltage", 1, "V", 0.1, 2, "both"),
    _unit("mV", "voltage", Fraction(1, 1000), "mV", 1, 1, "both"),
    _unit("A", "current", 1, "A", 0.1, 2, "both"),
    _unit("mA", "current", Fraction(1, 1000), "mA", 1, 1, "both"),
    _unit("Ah", "charge", 1, "Ah", 1, 1, "both"),
    _unit("ohm", "resistance", 1, "Ω", 0.1, 2, "both"),
    _unit("mohm", "resistance", Fraction(1, 1000), "mΩ", 1, 1, "both"),
    _unit("kohm", "resistance", 1000, "kΩ", 0.1, 2, "both"),
    _unit("Mohm", "resistance", 10**6, "MΩ", 0.1, 2, "both"),
    _unit("F", "capacitance", 1, "F", 0.01, 3, "both"),
    _unit("uF", "capacitance", Fraction(1, 10**6), "µF", 0.01, 3, "both"),
    _unit("nF", "capacitance", Fraction(1, 10**9), "nF", 1, 1, "both"),
    _unit("degC", "temperature", 1, "°C", 1, 1),
    _unit("degF", "temperature", Fraction(5, 9), "°F", 1, 1, "imperial", offset=-32.0),
    _unit("sg", "density", 1, "SG", 0.005, 3, "both"),
    _unit("N", "force", 1, "N", 1, 1),
    _unit("kgf", "force", _G, "kgf", 0.1, 2),
    _unit("lbf", "force", _LBF, "lbf", 1, 1, "imperial"),
    _unit("kg", "mass", 1, "kg", 0.1, 3),
    _unit("g", "mass", Fraction(1, 1000), "g", 1, 1),
    _unit("lb", "mass", _POUND, "lb", 0.1, 3, "imperial"),
    _unit("oz", "mass", _POUND / 16, "oz", 0.1, 2, "imperial"),
    _unit("km", "distance", 1000, "km", 1, 1),
    _unit("mi", "distance", _MILE, "mi", 1, 1, "imperial"),
    _unit("m/s", "speed", 1, "m/s", 0.1, 2),
    _unit("km/h", "speed", Fraction(1000, 3600), "km/h", 1, 1),
    _unit("mph", "speed", _MILE / 3600, "mph", 1, 1, "imperial"),
    _unit("s", "time", 1, "s", 1, 2, "both"),
    _unit("ms", "time", Fraction(1, 1000), "ms", 0.1, 2, "both"),
    _unit("min", "time", 60, "min", 1, 1, "both"),
    _unit("h", "time", 3600, "h", 0.1, 2, "both"),
    _unit("L/100km", "fuel use", 1, "L/100 km", 0.1, 2),
    _unit("km/L", "fuel use", 100, "km/L", 0.1, 2, reciprocal=True),
    _unit("mpg_imp", "fuel use", _PER_100KM * _GAL_IMP / _MILE, "mpg imp", 1, 1, "imperial", reciprocal=True),
    _unit("mpg_us", "fuel use", _PER_100KM * _GAL_US / _MILE, "mpg US", 1, 1, "imperial", reciprocal=True),
    _unit("m2", "area", 1, "m²", 0.001, 6),
    _unit("cm2", "area", Fraction(1, 10**4), "cm²", 0.1, 3),
    _unit("mm2", "area", Fraction(1, 10**6), "mm²", 0.1, 2),
    _unit("in2", "area", _INCH**2, "in²", 0.01, 4, "imperial"),
    _unit("W", "power", 1, "W", 1, 1),
    _unit("kW", "power", 1000, "kW", 0.1, 2),
    _unit("PS", "power", _PS, "PS", 1, 1),
    _unit("hp", "power", _HP, "hp", 1, 1, "imperial"),
    _unit("ratio", "ratio", 1, ":1", 0.1, 3, "both"),
    _unit("%", "percent", 1, "%", 1, 1, "both"),
    _unit("count", "count", 1, "", 1, 0, "both"),
)

UNITS: dict[str, Unit] = {u.symbol: u for u in _ROWS}
