"""Time on the bench in whole minutes: billing units and hours, never through binary fractions."""

from decimal import Decimal
from typing import Literal

from shopcli.errors import BadInput
from shopcli.workings.money_sums import half_up
from shopcli.workings.say import within

UNIT_MINUTES = 6
MOST_MINUTES = 1_000_000
_LONGEST = 24
Mode = Literal["up", "nearest"]


def billing_units(minutes: int, unit_minutes: int = UNIT_MINUTES, mode: Mode = "up") -> int:
    """Minutes as billing units, in whole numbers throughout.

    Parameters
    ----------
    minutes : int
        Time, 0 to 1 000 000, [min]
    unit_minutes : int, optional
        Size of a unit, 1 to 240, [min]
    mode : {"up", "nearest"}, optional
        Every unit begun counts, or the nearest, half a unit going up.

    Returns
    -------
    int
        Units.

    Raises
    ------
    OutOfRange
        If a figure is out of range.
    BadInput
        If the mode is unknown.

    Notes
    -----
    Never through binary fractions: 42 minutes are seven units of six, not eight.

    Examples
    --------
    >>> billing_units(42), billing_units(37), billing_units(37, mode="nearest")
    (7, 7, 6)

    References
    ----------
    .. [1] Tenths of an hour: Army Maintenance Allocation Chart (TM 55-1905-217-12 App. C). Begun units:
       common practice, no source.
    """
    within("minutes", minutes, 0, MOST_MINUTES, "min")
    within("unit_minutes", unit_minutes, 1, 240, "min")
    if mode == "up":
        return -(-minutes // unit_minutes)
    if mode != "nearest":
        raise BadInput(f"no rounding {mode!r}", hint="up, or nearest.")
    return (2 * minutes + unit_minutes) // (2 * unit_minutes)


def units_to_hours(units: int, unit_minutes: int = UNIT_MINUTES) -> Decimal:
    """Billing units as hours, to four places.

    Parameters
    ----------
    units : int
        Units, 0 or more.
    unit_minutes : int, optional
        Size of a unit, [min]

    Returns
    -------
    Decimal
        Hours without idle noughts.

    Examples
    --------
    >>> units_to_hours(7), units_to_hours(3, 15), units_to_hours(100)
    (Decimal('0.7'), Decimal('0.75'), Decimal('10'))
    """
    hours = half_up(Decimal(units * unit_minutes) / 60, 4)
    return Decimal(format(hours.normalize(), "f"))


def hours_minutes(minutes: int) -> str:
    """Minutes as h:mm.

    Parameters
    ----------
    minutes : int
        Time, 0 to 1 000 000, [min]

    Returns
    -------
    str
        Text.

    Raises
    ------
    OutOfRange
        If the time is out of range.

    Examples
    --------
    >>> hours_minutes(65), hours_minutes(6)
    ('1:05', '0:06')
    """
    whole = int(within("minutes", minutes, 0, MOST_MINUTES, "min"))
    return f"{whole // 60}:{whole % 60:02d}"


def read_hours(text: str) -> int:
    """Read h:mm or whole minutes; inverse of `hours_minutes`.

    Parameters
    ----------
    text : str
        ``1:05`` or ``65``.

    Returns
    -------
    int
        Time, [min]

    Raises
    ------
    BadInput
        If it cannot be read.
    OutOfRange
        If it is beyond 1 000 000 minutes.

    Examples
    --------
    >>> read_hours("1:05"), read_hours("65")
    (65, 65)
    """
    hours, colon, rest = text.strip().partition(":")
    parts = (hours, rest) if colon else ("0", hours)
    if not all(p.isascii() and p.isdigit() and len(p) < 9 for p in parts) or (  # noqa: PLR2004
        colon and (len(rest) != 2 or int(rest) > 59)  # noqa: PLR2004
    ):
        raise BadInput(f"cannot read the time {text[:_LONGEST]!r}", hint="Write 1:05 or 65.")
    return int(within("minutes", int(parts[0]) * 60 + int(parts[1]), 0, MOST_MINUTES, "min"))
