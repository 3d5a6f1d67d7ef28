"""The few ways a sum speaks and says no, shared so that every working says them alike.

Figures are rounded half-up as a person rounds on paper, a range is refused with the range beside it, and
every picture has a twin that needs nothing but plain keyboard characters.
"""

import math
from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Context, Decimal

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.frame import Input

PLAIN_CHARACTERS = Input("ascii_only", "Draw with plain characters", "yesno", default=False, required=False)
# Wide enough that no finite figure a sum lets through can overflow while it is being rounded.
_ROUNDING = Context(prec=400, rounding=ROUND_HALF_UP)
_TENTHS_IN_MM = 10_000
_PLAIN = str.maketrans(
    "─│╭╮╰╯┌┐└┘├┤┬┴┼═║╔╗╚╝█░┊→←·×°–",
    "-|+++++++++++++=|++++#.:><.x'-",
)
# Whatever is measured in a workshop: below this a number is a slip, and sums with it leave the decimal range.
LEAST = 1e-15


def figure(value: float, decimals: int = 2) -> str:
    """Text of a number, rounded half-up, never "-0".

    Parameters
    ----------
    value : float
        Any finite number, [-]
    decimals : int, optional
        Places after the point, [-]

    Returns
    -------
    str
        The figure without a unit.

    Examples
    --------
    >>> figure(2.675), figure(-0.001), figure(57.7778, 1)
    ('2.68', '0.00', '57.8')
    """
    step = Decimal(1).scaleb(-decimals)
    rounded = Decimal(repr(float(value))).quantize(step, context=_ROUNDING)
    return f"{abs(rounded) if rounded.is_zero() else rounded:f}"


def trimmed(value: float, decimals: int = 4) -> str:
    """Text of a number without idle zeros at its end.

    Parameters
    ----------
    value : float
        Any finite number, [-]
    decimals : int, optional
        Places after the point at most, [-]

    Returns
    -------
    str
        The figure without a unit.

    Examples
    --------
    >>> trimmed(0.150), trimmed(6.0), trimmed(120)
    ('0.15', '6', '120')
    """
    text = figure(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


def listed(items: Iterable[object]) -> str:
    """Words of a list, the way it is read aloud.

    Parameters
    ----------
    items : iterable
        What to name.

    Returns
    -------
    str
        "a, b and c"; "none" when there is nothing.

    Examples
    --------
    >>> listed([1, 2, 3]), listed([4]), listed([])
    ('1, 2 and 3', '4', 'none')
    """
    words = [str(item) for item in items]
    if not words:
        return "none"
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def within(name: str, value: float, low: float, high: float, unit: str = "", *, hint: str = "") -> float:
    """Return `value` if it lies in the range a sum is good for, else refuse it.

    Parameters
    ----------
    name : str
        What the number is, as it appears in the message.
    value, low, high : float
        The number and the ends of its range, both included, [`unit`]
    unit : str, optional
        Unit for the message.
    hint : str, optional
        The way out.

    Returns
    -------
    float
        `value`, [`unit`]

    Raises
    ------
    OutOfRange
        If `value` is below `low`, above `high` or not a number.

    Examples
    --------
    >>> within("dwell", 52.0, 1.0, 89.0, "deg")
    52.0
    """
    if not low <= value <= high:
        raise OutOfRange(name, value, f"{trimmed(low)} to {trimmed(high)} {unit}".rstrip(), hint=hint)
    return value


def above_zero(name: str, value: float, high: float, unit: str = "", *, hint: str = "") -> float:
    """Return `value` if it is above zero and not above `high`, else refuse it.

    Parameters
    ----------
    name : str
        What the number is, as it appears in the message.
    value, high : float
        The number and the end of its range, [`unit`]
    unit : str, optional
        Unit for the message.
    hint : str, optional
        The way out.

    Returns
    -------
    float
        `value`, [`unit`]

    Raises
    ------
    OutOfRange
        If `value` is zero, negative, above `high` or not a number.

    Examples
    --------
    >>> above_zero("bore", 79.4, 300.0, "mm")
    79.4
    """
    if not LEAST <= value <= high:
        raise OutOfRange(name, value, f"above 0, up to {trimmed(high)} {unit}".rstrip(), hint=hint)
    return value


def spread_over(name: str, values: Sequence[float], count: int) -> tuple[float, ...]:
    """One figure for each of `count` things: a single figure serves them all.

    Parameters
    ----------
    name : str
        What the figures are, as they appear in the message.
    values : sequence of float
        One figure, or one for each.
    count : int
        How many are needed, [-]

    Returns
    -------
    tuple of float
        `count` figures in the unit given.

    Raises
    ------
    BadInput
        If there are neither one nor `count` figures.

    Examples
    --------
    >>> spread_over("low_mm", (0.15,), 3)
    (0.15, 0.15, 0.15)
    """
    if len(values) == count:
        return tuple(values)
    if len(values) == 1:
        return (values[0],) * count
    raise BadInput(
        f"{name}: {len(values)} figures for {count}", hint=f"give {count} figures, or one that serves all"
    )


def in_tenths(name: str, value_mm: float) -> int:
    """Length as a whole number of 0.0001 mm, so that sums of blades and shims are exact.

    Parameters
    ----------
    name : str
        What the length is, as it appears in the message.
    value_mm : float
        Length, [mm]

    Returns
    -------
    int
        Length, [0.0001 mm]

    Raises
    ------
    OutOfRange
        If the length is not a finite number.

    Notes
    -----
    One thou is 254 of these steps exactly, a thousandth of a millimetre is ten.

    Examples
    --------
    >>> in_tenths("gap", 0.15), in_tenths("gap", 0.1524)
    (1500, 1524)
    """
    if not math.isfinite(value_mm):
        raise OutOfRange(name, value_mm, "a finite length in mm")
    return round(value_mm * _TENTHS_IN_MM)


def in_mm(tenths: int) -> float:
    """Length in millimetres from a whole number of 0.0001 mm.

    Parameters
    ----------
    tenths : int
        Length, [0.0001 mm]

    Returns
    -------
    float
        Length, [mm]

    Examples
    --------
    >>> in_mm(1524)
    0.1524
    """
    return tenths / _TENTHS_IN_MM


def plain_picture(picture: str) -> str:
    """Twin of a picture for a terminal without box drawing.

    Parameters
    ----------
    picture : str
        Picture of a working.

    Returns
    -------
    str
        The same picture, line for line and column for column, in ASCII.

    Examples
    --------
    >>> plain_picture("╭───╮")
    '+---+'
    """
    return picture.translate(_PLAIN)
