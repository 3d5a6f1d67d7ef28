"""How a stored value is said: in the unit of the tool in hand, rounded in decimal text.

Two roundings exist on purpose. `spoken` keeps the finest figure worth writing down, because a record must
not lose what was read. `on_tool` and the bracket of `both` give the nearest mark of the usual tool, because
nobody can set 5.9 thou with a feeler blade. A figure typed by a person is never rounded at all: keep its
text.
"""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from math import isfinite

from shopcli.errors import BadInput, OutOfRange
from shopcli.units.kinds import from_canonical, unit_named
from shopcli.units.table import Unit

MOVED = 0.025  # a converted figure is put on the tool's mark unless that moves it by more than this share
_WIDE = Context(prec=700)  # any float written out in full, so that rounding never fails
_ROUNDING = {"nearest": ROUND_HALF_UP, "down": ROUND_FLOOR, "up": ROUND_CEILING}


def figure_in(value: float, unit: str) -> Decimal:
    """Return the canonical value as a decimal figure in `unit`, freed of binary dust (12 digits).

    Raises
    ------
    BadInput
        If the value is not a number or endless.

    Examples
    --------
    >>> figure_in(0.0001524, "thou")
    Decimal('6')
    """
    figure = from_canonical(value, unit)
    if not isfinite(figure):
        raise BadInput("the value is not a finite number", hint="Type the figure again.")
    return Decimal(format(figure, ".12g"))


def rounded(figure: Decimal, digits: int, way: str = "nearest") -> Decimal:
    """Round to `digits` decimals: half away from zero, or ``up`` or ``down`` on the number line."""
    return figure.quantize(Decimal(1).scaleb(-digits), rounding=_ROUNDING[way], context=_WIDE)


def plain(figure: Decimal, *, keep: bool = False) -> str:
    """Write a figure without exponent and never as minus zero; trailing zeros go unless `keep`."""
    if figure == 0:
        figure = abs(figure)
    text = format(figure, "f")
    if not keep and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text


def with_label(figure: str, unit: Unit) -> str:
    """Put the unit behind a figure as a person writes it: degrees and ratios without a blank."""
    glued = unit.label.startswith(("°", "′", ":")) and unit.quantity != "temperature"
    return f"{figure}{unit.label}" if glued or not unit.label else f"{figure} {unit.label}"


def number_text(value: float, unit: str, *, digits: int | None = None) -> str:
    """Just the figure of `spoken`, without its unit.

    Examples
    --------
    >>> number_text(0.0002, "mm"), number_text(0.0002, "mm", digits=2)
    ('0.2', '0.20')
    """
    places = unit_named(unit).decimals if digits is None else digits
    return plain(rounded(figure_in(value, unit), places), keep=digits is not None)


def spoken(value: float, unit: str, *, digits: int | None = None) -> str:
    """Say a canonical value in `unit`.

    Parameters
    ----------
    value : float
        Value, [canonical unit of the quantity]
    unit : str
        Symbol of the unit to say it in.
    digits : int, optional
        Decimals to show, trailing zeros kept; the unit's own number without them if not given.

    Raises
    ------
    BadUnit
        If the symbol is unknown.
    BadInput
        If the value is not a finite number.

    Examples
    --------
    >>> spoken(0.0001524, "thou"), spoken(0.00015, "mm"), spoken(0.0035, "L")
    ('6 thou', '0.15 mm', '3.5 L')
    >>> spoken(8.0, "deg_crank"), spoken(8.5, "ratio"), spoken(-1e-9, "degC")
    ('8° crank', '8.5:1', '0 °C')
    """
    return with_label(number_text(value, unit, digits=digits), unit_named(unit))


def marked(figure: Decimal, unit: Unit, way: str = "nearest") -> Decimal | None:
    """Return the tool's mark for a figure, or None where that would move it too far."""
    step = Decimal(str(unit.graduation))
    mark = _WIDE.multiply(rounded(_WIDE.divide(figure, step), 0, way), step)
    return mark if abs(mark - figure) <= abs(figure) * Decimal(str(MOVED)) else None


def on_tool(value: float, unit: str) -> str:
    """Say a canonical value as the nearest mark of the usual tool in that unit.

    Where the nearest mark is more than 2.5 % off, the figure is given as `spoken` gives it.

    Examples
    --------
    >>> on_tool(0.00015, "thou"), spoken(0.00015, "thou")
    ('6 thou', '5.9 thou')
    >>> on_tool(0.00002, "thou")
    '0.8 thou'
    """
    named = unit_named(unit)
    mark = marked(figure_in(value, unit), named)
    return spoken(value, unit) if mark is None else with_label(plain(mark), named)


def both(value: float, unit: str, other: str) -> str:
    """Say a value in its own unit and, in brackets, as a tool in the other unit is set to it.

    Examples
    --------
    >>> both(0.0004064, "thou", "mm")
    '16 thou (0.41 mm)'
    """
    return f"{spoken(value, unit)} ({on_tool(value, other)})"


def fraction_inch(value_m: float, denominator: int = 64) -> str:
    """Say a length as the nearest fraction of an inch, as rules, drills and spanners are marked.

    Parameters
    ----------
    value_m : float
        Length, [m]
    denominator : int, optional
        Finest division, a power of two up to 128, [-]

    Raises
    ------
    OutOfRange
        If the denominator is no such power of two.

    Examples
    --------
    >>> fraction_inch(0.0254 * 17 / 16), fraction_inch(0.013), fraction_inch(0.0)
    ('1-1/16 in', '33/64 in', '0 in')
    """
    if denominator not in {1, 2, 4, 8, 16, 32, 64, 128}:
        raise OutOfRange("denominator", denominator, "1, 2, 4, 8, 16, 32, 64 or 128")
    parts = int(rounded(figure_in(value_m, "in") * denominator, 0))
    sign = "-" if parts < 0 else ""
    whole, rest = divmod(abs(parts), denominator)
    while rest and rest % 2 == 0:
        rest, denominator = rest // 2, denominator // 2
    fraction = f"{rest}/{denominator}" if rest else ""
    return sign + ("-".join(filter(None, (str(whole) if whole else "", fraction))) or "0") + " in"
