"""Questions to the table of units, and the two conversions everything else is built on.

`to_canonical` and `from_canonical` are plain float sums for speed; `exact_canonical` is the road for figures
a person wrote down, so that the same length said in two units is the same value to the last bit.
"""

from decimal import Decimal
from fractions import Fraction

from shopcli.errors import BadInput, BadUnit, OutOfRange
from shopcli.units.table import QUANTITIES, UNITS, Quantity, System, Unit

__all__ = [
    "QUANTITIES",
    "UNITS",
    "Quantity",
    "System",
    "Unit",
    "exact_canonical",
    "from_canonical",
    "labels_of",
    "measures",
    "quantity_named",
    "refuse_impossible",
    "require_unit",
    "to_canonical",
    "unit_named",
    "units_of",
    "wrong_kind",
]

_ENORMOUS = 10**9  # canonical units; far beyond any tool, so it is a slip of the keys
_HEAVIEST = 25  # specific gravity; osmium, the heaviest metal, has 22.6
_BOTH_TURN = {"crank angle", "distributor angle"}
_ABSOLUTE_ZERO = Fraction("-273.15")  # degC


def quantity_named(name: str) -> Quantity:
    """Return the quantity called `name`.

    Raises
    ------
    BadInput
        If there is none of that name.
    """
    try:
        return QUANTITIES[name]
    except KeyError:
        raise BadInput(
            f"no quantity is called {name!r}", hint="Known: " + ", ".join(QUANTITIES) + "."
        ) from None


def unit_named(symbol: str) -> Unit:
    """Return the unit with exactly this symbol.

    Raises
    ------
    BadUnit
        If there is none.
    """
    try:
        return UNITS[symbol]
    except KeyError:
        raise BadUnit(f"no unit has the symbol {symbol!r}", hint="Known: " + " ".join(UNITS) + ".") from None


def units_of(quantity: str) -> tuple[str, ...]:
    """Symbols of the units that measure `quantity`.

    Examples
    --------
    >>> units_of("temperature")
    ('degC', 'degF')
    """
    kind = quantity_named(quantity)
    own = tuple(u.symbol for u in UNITS.values() if u.quantity in {kind.name, kind.like})
    return own + kind.also


def measures(symbol: str, quantity: str) -> bool:
    """Tell whether the unit can say this quantity.

    Examples
    --------
    >>> measures("mm", "offset"), measures("deg", "crank angle")
    (True, False)
    """
    kind = quantity_named(quantity)
    return unit_named(symbol).quantity in {kind.name, kind.like} or symbol in kind.also


def require_unit(symbol: str, quantity: str) -> Unit:
    """Return the unit, refusing one of another kind.

    Raises
    ------
    BadUnit
        If the unit is unknown or measures something else.
    """
    unit = unit_named(symbol)
    if not measures(symbol, quantity):
        raise wrong_kind(unit, quantity)
    return unit


def wrong_kind(unit: Unit, quantity: str, said: str = "") -> BadUnit:
    """Make the error that says what the unit, as `said`, measures and what was wanted."""
    found, wanted = QUANTITIES[unit.quantity].label, QUANTITIES[quantity].label
    article = "an" if wanted[0] in "aeiou" else "a"
    turned = (
        "One degree of the distributor is two of the crank. "
        if {unit.quantity, quantity} <= _BOTH_TURN
        else ""
    )
    return BadUnit(
        f"{said or unit.label or unit.symbol} measures {found}; {article} {wanted} is wanted",
        hint=f"{turned}Use one of: {labels_of(quantity)}.",
    )


def refuse_impossible(quantity: str, value: Fraction | float, said: str) -> None:
    """Refuse a canonical value no tool can read: less than nothing, below absolute zero, or enormous.

    Parameters
    ----------
    quantity : str
        Name of the quantity.
    value : Fraction or float
        Value, [canonical unit]; not a number is refused too.
    said : str
        How it was written, for the message.

    Raises
    ------
    BadInput
        If the value is impossible.
    """
    kind = quantity_named(quantity)
    if not -_ENORMOUS <= value <= _ENORMOUS:
        raise BadInput(f"{said}: no {kind.label} here is that large", hint="Check the figure and its unit.")
    if value < 0 and not kind.signed:
        raise BadInput(f"{said}: a {kind.label} cannot be less than nothing", hint="Leave the minus out.")
    if kind.name == "density" and value > _HEAVIEST:
        raise BadInput(f"{said}: nothing is so heavy", hint="A hydrometer's 1265 is written 1.265.")
    if kind.name == "temperature" and value < _ABSOLUTE_ZERO:
        raise BadInput(f"{said}: that is colder than anything can be", hint="Check the figure and its unit.")


def labels_of(quantity: str) -> str:
    """Units of a quantity as shown to people, in one line."""
    return ", ".join(UNITS[s].label.strip() or "a plain figure" for s in units_of(quantity))


def to_canonical(value: float, unit: str) -> float:
    """Convert a figure in `unit` to the canonical unit of its quantity.

    Parameters
    ----------
    value : float
        Figure, [unit]
    unit : str
        Symbol

    Returns
    -------
    float
        Value, [canonical unit]

    Raises
    ------
    BadUnit
        If the symbol is unknown.
    OutOfRange
        If a consumption said as distance per volume is zero.

    Examples
    --------
    >>> to_canonical(40.0, "lbf.ft")
    54.23271793325601
    >>> to_canonical(-40.0, "degF")
    -40.0
    """
    u = unit_named(unit)
    if not u.reciprocal:
        return (value + u.offset) * u.factor
    if value == 0:
        raise OutOfRange(u.label, value, "not zero: it stands for endless consumption")
    return u.factor / value


def from_canonical(value: float, unit: str) -> float:
    """Convert a canonical value to a figure in `unit`: the inverse of `to_canonical`.

    Examples
    --------
    >>> round(from_canonical(9.4160312, "mpg_imp"), 6)
    30.0
    """
    u = unit_named(unit)
    if not u.reciprocal:
        return value / u.factor - u.offset
    if value == 0:
        raise OutOfRange("consumption", value, f"not zero: it cannot be said in {u.label}")
    return u.factor / value


def exact_canonical(number: Decimal | Fraction | int, unit: str) -> Fraction:
    """Convert as `to_canonical` does, without any rounding, so that 6 thou and 0.006 in are one value.

    Examples
    --------
    >>> exact_canonical(Decimal("6"), "thou") == exact_canonical(Decimal("0.006"), "in")
    True
    """
    u = unit_named(unit)
    if not u.reciprocal:
        return (Fraction(number) + Fraction(u.offset)) * u.exact
    if number == 0:
        raise OutOfRange(u.label, 0.0, "not zero: it stands for endless consumption")
    return u.exact / Fraction(number)
