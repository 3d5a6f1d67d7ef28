"""Which unit a person, a shop or a vehicle likes for a quantity, and its fellow in the other system."""

from dataclasses import dataclass

from shopcli.units.kinds import quantity_named, require_unit, unit_named

GAP = 0.00254  # m; up to a tenth of an inch a length is a gap, said in thou; beyond it is said in inches


@dataclass(frozen=True, slots=True)
class Preferences:
    """Quantity to unit symbol, as pairs so that it can be a key and a default.

    Raises
    ------
    BadInput
        If a quantity is unknown.
    BadUnit
        If a unit does not measure its quantity.
    """

    units: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        for quantity, symbol in self.units:
            quantity_named(quantity)
            require_unit(symbol, quantity)

    def unit_for(self, quantity: str, fallback: str, value: float | None = None) -> str:
        """Choose the unit to say `quantity` in; `fallback`, as a rule the sheet's, without a preference.

        Parameters
        ----------
        quantity : str
            Name of the quantity.
        fallback : str
            Symbol used without a preference.
        value : float, optional
            What will be said, [canonical unit]: a long length is said in inches even where gaps are in thou.

        Examples
        --------
        >>> IMPERIAL.unit_for("length", "mm"), IMPERIAL.unit_for("length", "mm", 0.0855)
        ('thou', 'in')
        >>> METRIC.unit_for("voltage", "V")
        'V'
        """
        chosen = dict(self.units).get(quantity)
        return fallback if chosen is None else _by_size(chosen, value)

    def for_number(self, name: str) -> "Preferences":
        """Return what holds for a number of that name: the same, unless the tool for it is marked in another unit."""
        del name
        return self

    def changed(self, quantity: str, symbol: str) -> "Preferences":
        """Return the same preferences with another unit for one quantity."""
        kept = tuple(pair for pair in self.units if pair[0] != quantity)
        return Preferences((*kept, (quantity, symbol)))


def _by_size(symbol: str, value: float | None) -> str:
    return "in" if symbol == "thou" and value is not None and abs(value) > GAP else symbol


AS_PRINTED = Preferences()
METRIC = Preferences(
    (
        ("length", "mm"),
        ("offset", "mm"),
        ("torque", "Nm"),
        ("pressure", "bar"),
        ("volume", "L"),
        ("temperature", "degC"),
        ("force", "N"),
        ("mass", "kg"),
        ("distance", "km"),
        ("speed", "km/h"),
        ("fuel use", "L/100km"),
        ("area", "mm2"),
        ("power", "kW"),
    )
)
IMPERIAL = Preferences(
    (
        ("length", "thou"),
        ("offset", "in"),
        ("torque", "lbf.ft"),
        ("pressure", "psi"),
        ("volume", "pt_imp"),
        ("temperature", "degF"),
        ("force", "lbf"),
        ("mass", "lb"),
        ("distance", "mi"),
        ("speed", "mph"),
        ("fuel use", "mpg_imp"),
        ("area", "in2"),
        ("power", "hp"),
    )
)
US = IMPERIAL.changed("volume", "qt_us").changed("fuel use", "mpg_us")

_FELLOW = {
    "m": "ft",
    "mm": "thou",
    "cm": "in",
    "um": "thou",
    "in": "mm",
    "thou": "mm",
    "ft": "m",
    "Nm": "lbf.ft",
    "daNm": "lbf.ft",
    "kgf.m": "lbf.ft",
    "kgf.cm": "lbf.in",
    "lbf.ft": "Nm",
    "lbf.in": "Nm",
    "ozf.in": "Nm",
    "Pa": "psi",
    "kPa": "psi",
    "MPa": "psi",
    "bar": "psi",
    "mbar": "inHg",
    "kgf/cm2": "psi",
    "mmHg": "inHg",
    "psi": "bar",
    "inHg": "mmHg",
    "m3": "gal_imp",
    "L": "qt_imp",
    "ml": "floz_imp",
    "cc": "in3",
    "in3": "cc",
    "floz_imp": "ml",
    "floz_us": "ml",
    "degC": "degF",
    "degF": "degC",
    "N": "lbf",
    "kgf": "lbf",
    "lbf": "N",
    "kg": "lb",
    "g": "oz",
    "lb": "kg",
    "oz": "g",
    "km": "mi",
    "mi": "km",
    "m/s": "mph",
    "km/h": "mph",
    "mph": "km/h",
    "L/100km": "mpg_imp",
    "km/L": "mpg_imp",
    "m2": "in2",
    "cm2": "in2",
    "mm2": "in2",
    "in2": "mm2",
    "W": "hp",
    "kW": "hp",
    "PS": "hp",
    "hp": "kW",
}
_OF_COUNTRY = {"volume": "L", "fuel use": "L/100km"}  # fellow of every pint, quart, gallon and mpg


def other_system(unit: str, prefs: Preferences = IMPERIAL, value: float | None = None) -> str | None:
    """Symbol of the fellow unit in the other system, or None where both systems use the same unit.

    Parameters
    ----------
    unit : str
        Symbol.
    prefs : Preferences, optional
        Whether pints, quarts and gallons are meant the imperial or the US way.
    value : float, optional
        What will be said, [canonical unit]: a long length goes to inches, not thou.

    Raises
    ------
    BadUnit
        If the symbol is unknown.

    Examples
    --------
    >>> other_system("mm"), other_system("mm", value=0.0855), other_system("L", US), other_system("V")
    ('thou', 'in', 'qt_us', None)
    """
    named = unit_named(unit)
    fellow = _FELLOW.get(unit)
    if fellow is None:
        return _OF_COUNTRY.get(named.quantity) if named.system == "imperial" else None
    if fellow.endswith("_imp") and _counts_us(prefs):
        fellow = fellow.replace("_imp", "_us")
    return _by_size(fellow, value)


def _counts_us(prefs: Preferences) -> bool:
    chosen = dict(prefs.units)
    return any(chosen.get(q, "").endswith("_us") for q in ("volume", "fuel use"))
