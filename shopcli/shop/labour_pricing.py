"""From clocked seconds to billed hours, by one rule, so that the bill and the week can never disagree.

The clock keeps seconds. They are rounded once, per task, at the moment the task is priced, and only here:

* ``up`` bills started units. A unit has started when a full minute of it has run, so the seconds it takes to
  tap the clock cost nobody anything: 36 min 59 s is six units of six minutes, 37 min is seven.
* ``nearest`` bills the nearest unit, half a unit upwards, straight from the seconds.
* No time is no unit.

All of it is integer arithmetic. Six minutes are 0.1 h and fifteen 0.25 h, but ten are 0.1666… h, which no
decimal holds: such a shop's labour is billed in minutes at the price of sixty (see `labour_quantity`), so the
price of a unit stays exact and only the line is rounded.

The rule of started units and the rule of the nearest one are common practice, no source.
"""

from decimal import ROUND_HALF_UP, Context, Decimal

from shopcli.errors import BadInput, OutOfRange

# A clock left running for a year on one task is a mistake, not labour.
MOST_SECONDS = 366 * 24 * 3600
LONGEST_UNIT_MINUTES = 480
_ABSURD = 10**15
_HOUR_PLACES = Decimal("0.000001")
_CONTEXT = Context(prec=30, rounding=ROUND_HALF_UP)


def labour_units(seconds: int, unit_minutes: int, rounding: str = "up") -> int:
    """Return how many units of labour a task is billed.

    Parameters
    ----------
    seconds : int
        Clocked time of the whole task, all entries together, [s]
    unit_minutes : int
        The shop's unit, [min]
    rounding : {"up", "nearest"}, optional
        Started units, or the nearest one with halves upwards.

    Returns
    -------
    int
        Units, zero for no time.

    Raises
    ------
    OutOfRange
        If the time is negative or beyond a year, or the unit is not 1 to 480 min.
    BadInput
        If a figure is not a whole number or the rounding is unknown.

    Examples
    --------
    >>> labour_units(37 * 60, 6), labour_units(36 * 60 + 59, 6), labour_units(36 * 60, 6)
    (7, 6, 6)
    >>> labour_units(37 * 60, 6, "nearest"), labour_units(3 * 60, 6, "nearest"), labour_units(0, 6)
    (6, 1, 0)
    """
    _whole("seconds", seconds)
    _unit(unit_minutes)
    if not 0 <= seconds <= MOST_SECONDS:
        raise OutOfRange("seconds", seconds, f"0 to {MOST_SECONDS}", hint="Correct the clock entry first.")
    if rounding == "up":
        return -(-(seconds // 60) // unit_minutes)
    if rounding == "nearest":
        unit_seconds = unit_minutes * 60
        return (2 * seconds + unit_seconds) // (2 * unit_seconds)
    raise BadInput(f"labour rounding '{rounding}' is not known", hint="Write 'up' or 'nearest'.")


def labour_hours(units: int, unit_minutes: int) -> Decimal:
    """Return units as hours: exact wherever a decimal can be, else to a millionth of an hour.

    Use it to show hours and to add them up. To price, use `labour_quantity`, which is exact for every unit.

    Parameters
    ----------
    units : int
        Units of labour.
    unit_minutes : int
        The shop's unit, [min]

    Returns
    -------
    Decimal
        Hours without trailing zeros, [h]

    Examples
    --------
    >>> labour_hours(7, 6), labour_hours(3, 15), labour_hours(20, 6), labour_hours(1, 7)
    (Decimal('0.7'), Decimal('0.75'), Decimal('2'), Decimal('0.116667'))
    """
    minutes = _minutes(units, unit_minutes)
    hours = _CONTEXT.divide(Decimal(minutes), Decimal(60))
    if minutes % 3:
        hours = hours.quantize(_HOUR_PLACES, context=_CONTEXT)
    return Decimal(int(hours)) if hours == int(hours) else hours.normalize(_CONTEXT)


def labour_quantity(units: int, unit_minutes: int) -> tuple[Decimal, str]:
    """Return quantity and unit of a labour line, the price always being that of one hour.

    The unit decides, not the time, so that all labour on a bill reads alike: where one unit is a
    decimal part of an hour the quantity is in hours (``h``), otherwise in whole minutes (``min``).

    Examples
    --------
    >>> labour_quantity(7, 6), labour_quantity(7, 10)
    ((Decimal('0.7'), 'h'), (Decimal('70'), 'min'))
    """
    minutes = _minutes(units, unit_minutes)
    # Sixty is 2 x 2 x 3 x 5: only the three stands in the way of a decimal that ends.
    if unit_minutes % 3 == 0:
        return labour_hours(units, unit_minutes), "h"
    return Decimal(minutes), "min"


def _minutes(units: int, unit_minutes: int) -> int:
    _whole("units", units)
    _unit(unit_minutes)
    if units < 0:
        raise OutOfRange("units", units, "0 or more")
    return units * unit_minutes


def _unit(unit_minutes: int) -> None:
    _whole("unit_minutes", unit_minutes)
    if not 1 <= unit_minutes <= LONGEST_UNIT_MINUTES:
        raise OutOfRange("unit_minutes", unit_minutes, f"1 to {LONGEST_UNIT_MINUTES}")


def _whole(name: str, value: object) -> None:
    if not isinstance(value, int) or isinstance(value, bool):
        raise BadInput(f"{name} is {value!r}; a whole number is wanted")
    if abs(value) > _ABSURD:
        raise BadInput(f"{name} is absurdly large", hint="Check the clock entry.")
