"""Brake drums and discs against their three numbers: new, the most after machining, and the end."""

from typing import Literal

from shopcli.errors import BadInput
from shopcli.workings.say import above_zero, within

MACHINE, USABLE, DISCARD = "may be machined", "usable, do not machine", "discard"
State = Literal["may be machined", "usable, do not machine", "discard"]
OUT_OF_ROUND_MM = 0.381  # 0.015 in, TM 9-2330-384-14&P
TAPER_MM = 0.254  # 0.010 in, TM 9-2330-384-14&P
RUNOUT_MM = 0.10  # disc, common practice, no source (0.10 to 0.15)
THICKNESS_SPREAD_MM = 0.015  # disc, common practice, no source (0.010 to 0.015)
_FINE = 6
_LARGEST_DRUM = 600.0
_THICKEST_DISC = 60.0


def drum_state(measured: float, machine: float, discard: float) -> State:
    """State of a drum by its largest diameter.

    Parameters
    ----------
    measured : float
        Largest diameter measured, any unit of length.
    machine : float
        Largest diameter allowed after machining, same unit.
    discard : float
        Diameter at which it is done with, not below `machine`, same unit.

    Returns
    -------
    str
        `MACHINE`, `USABLE` or `DISCARD`.

    Raises
    ------
    OutOfRange
        If a figure is not above zero.
    BadInput
        If the discard diameter is below the machining limit.

    Notes
    -----
    On the machining limit nothing is left to take off; on the discard diameter the drum is done with.

    Examples
    --------
    >>> drum_state(16.60, 16.58, 16.62), drum_state(16.63, 16.58, 16.62)
    ('usable, do not machine', 'discard')

    References
    ----------
    .. [1] TM 9-2330-384-14&P p. 5-5: 16.50 in drum, machine to 16.58, discard 16.62.
    """
    for name, value in (("measured", measured), ("machine", machine), ("discard", discard)):
        above_zero(name, value, _LARGEST_DRUM)
    if discard < machine:
        raise BadInput("the discard diameter is below the machining limit", hint="A drum wears larger.")
    if round(measured - discard, _FINE) >= 0:
        return "discard"
    return "usable, do not machine" if round(measured - machine, _FINE) >= 0 else "may be machined"


def disc_state(measured: float, machine: float, discard: float) -> State:
    """State of a disc by its least thickness.

    Parameters
    ----------
    measured : float
        Least thickness measured, any unit of length.
    machine : float
        Least thickness allowed after machining, same unit.
    discard : float
        Thickness at which it is done with, not above `machine`, same unit.

    Returns
    -------
    str
        `MACHINE`, `USABLE` or `DISCARD`.

    Raises
    ------
    OutOfRange
        If a figure is not above zero.
    BadInput
        If the discard thickness is above the machining limit.

    Notes
    -----
    The mirror of `drum_state`: a disc wears thinner.

    Examples
    --------
    >>> disc_state(11.6, 11.5, 11.0), disc_state(11.2, 11.5, 11.0), disc_state(11.0, 11.5, 11.0)
    ('may be machined', 'usable, do not machine', 'discard')

    References
    ----------
    .. [1] Same three numbers as a drum; the figures are the handbook's.
    """
    for name, value in (("measured", measured), ("machine", machine), ("discard", discard)):
        above_zero(name, value, _THICKEST_DISC)
    if discard > machine:
        raise BadInput("the discard thickness is above the machining limit", hint="A disc wears thinner.")
    if round(measured - discard, _FINE) <= 0:
        return "discard"
    return "usable, do not machine" if round(measured - machine, _FINE) <= 0 else "may be machined"


def oversize(nominal: float, added: float) -> float:
    """Largest diameter from the nominal one and the permitted oversize.

    Parameters
    ----------
    nominal : float
        Diameter when new, above 0, any unit of length.
    added : float
        Permitted oversize, 0 to a tenth of the nominal, same unit.

    Returns
    -------
    float
        Largest diameter, same unit.

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> oversize(12.0, 0.090)
    12.09

    References
    ----------
    .. [1] TM 9-2330-389-14&P: a 12 in drum may be bored to 12.090 in.
    """
    above_zero("nominal", nominal, _LARGEST_DRUM)
    return nominal + within("added", added, 0, nominal / 10)


def spread(readings: tuple[float, ...]) -> float:
    """Difference of the largest and the least of several readings.

    Parameters
    ----------
    readings : tuple of float
        1 to 24 readings, any unit of length.

    Returns
    -------
    float
        Difference, same unit.

    Raises
    ------
    OutOfRange
        If there are none or more than 24 readings, or one is not above zero.

    Examples
    --------
    >>> round(spread((228.60, 228.72, 228.65)), 2)
    0.12
    """
    within("readings", len(readings), 1, 24)
    for reading in readings:
        above_zero("reading", reading, _LARGEST_DRUM)
    return max(readings) - min(readings)
