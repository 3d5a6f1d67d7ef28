"""Lead-acid batteries: what a hydrometer or a voltmeter says about the charge.

Printed tables disagree by about 25 points because batteries are filled differently: the gravity of the full
battery is asked each time and the table named.
"""

from itertools import pairwise

from shopcli.errors import BadInput
from shopcli.workings.say import within

# Gravity at 80 degF -> charge, [%], falling; 0 % at 1.120 is from memory
TABLES: dict[str, tuple[tuple[float, float], ...]] = {
    "1.265": ((1.265, 100), (1.225, 75), (1.190, 50), (1.155, 25), (1.120, 0)),
    "1.280": ((1.280, 100), (1.250, 75), (1.220, 50), (1.190, 25)),
}
TABLE_SOURCES = {
    "1.265": "TM 5-4210-230-14&P-1 Table 2/3",
    "1.280": "TM 5-1185 Table II/III; 25 % at 1.190 a public battery page",
}
# Gravity -> freezing point of the acid, [degF], as printed
FREEZE_F: dict[str, dict[float, float]] = {
    "1.265": {1.265: -75, 1.155: 5, 1.120: 15},
    "1.280": {1.280: -90, 1.250: -62, 1.150: 5},
}
CRANKING_AT_0F_PERCENT = 40.0  # of that at 80 degF, TM 5-4210-230-14&P-1
SPREAD_LIMIT = 0.025  # between cells, TM 9-6140-200-14
SOFT_GRAVITY = 1.155  # freezes at -15 degC
VOLTS_OVER_GRAVITY = 0.84
MOST_CELLS = 12
_SG_LOW, _SG_HIGH = 1.000, 1.400
_COLD_C, _HOT_C = -40.0, 60.0
_REFERENCE_F = 80.0


def gravity_at_80f(reading: float, temperature_c: float) -> float:
    """Hydrometer reading brought to 80 degF (26.7 degC) [1]_.

    Parameters
    ----------
    reading : float
        Specific gravity as read, 1.000 to 1.400, [-]
    temperature_c : float
        Temperature of the acid, -40 to +60, [degC]

    Returns
    -------
    float
        Specific gravity at 80 degF, [-]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    Cold acid reads high: 0.004 is taken off for each 10 degF below 80. Hydrometers marked for 20 or 25 degC
    want their own reference.

    Examples
    --------
    >>> round(gravity_at_80f(1.250, -6.6667), 4), round(gravity_at_80f(1.235, 37.7778), 4)
    (1.226, 1.243)

    References
    ----------
    .. [1] TM 5-3820-256-24-4, battery examples: 1.250 at 20 F is 1.226, 1.235 at 100 F is 1.243.
    """
    within("reading", reading, _SG_LOW, _SG_HIGH)
    within("temperature_c", temperature_c, _COLD_C, _HOT_C, "degC")
    return reading + 0.004 * (temperature_c * 9 / 5 + 32 - _REFERENCE_F) / 10


def table_for(
    full_gravity: float, flat_gravity: float | None = None
) -> tuple[tuple[tuple[float, float], ...], str]:
    """Table of charge for a battery by its gravity when full.

    Parameters
    ----------
    full_gravity : float
        Gravity of the full battery, 1.200 to 1.320, [-]
    flat_gravity : float, optional
        Gravity of the flat battery; needed where no printed table starts at `full_gravity`, [-]

    Returns
    -------
    tuple
        Points of gravity and charge [%], falling, and the source.

    Raises
    ------
    OutOfRange
        If a gravity is out of range.
    BadInput
        If no table starts there and the flat gravity is not given.

    Examples
    --------
    >>> table_for(1.265)[1]
    'TM 5-4210-230-14&P-1 Table 2/3'
    """
    within("full_gravity", full_gravity, 1.200, 1.320)
    if flat_gravity is not None:
        within("flat_gravity", flat_gravity, 1.000, full_gravity - 0.05)
        return ((full_gravity, 100.0), (flat_gravity, 0.0)), "straight line between full and flat as given"
    key = f"{full_gravity:.3f}"
    if key not in TABLES:
        raise BadInput(
            f"no printed table starts at {key}",
            hint="Give the gravity when flat too, or a full gravity of 1.265 or 1.280.",
        )
    return TABLES[key], TABLE_SOURCES[key]


def charge_percent(gravity: float, table: tuple[tuple[float, float], ...]) -> float:
    """State of charge from gravity, straight lines between the points of one table.

    Parameters
    ----------
    gravity : float
        At 80 degF, [-]
    table : tuple
        Points of gravity and charge, falling.

    Returns
    -------
    float
        Charge, [%]

    Raises
    ------
    OutOfRange
        If the gravity is outside the table by more than 0.010; up to there the end counts.

    Notes
    -----
    One table at a time: tables for different fillings differ by about 25 points.

    Examples
    --------
    >>> charge_percent(1.225, TABLES["1.265"]), round(charge_percent(1.225, TABLES["1.280"]), 1)
    (75.0, 54.2)

    References
    ----------
    .. [1] TM 5-4210-230-14&P-1 Table 2/3; TM 5-1185 Table II/III.
    """
    top, bottom = table[0], table[-1]
    hint = (
        "Stronger than full: the full gravity given cannot be right."
        if gravity > top[0]
        else "Flat: charge it."
    )
    within("gravity", gravity, bottom[0] - 0.010, top[0] + 0.010, hint=hint)
    if gravity >= top[0]:
        return float(top[1])
    for (high, full), (low, less) in pairwise(table):
        if gravity >= low:
            return less + (full - less) * (gravity - low) / (high - low)
    return float(bottom[1])


def rest_volts(gravity: float, cells: int) -> float:
    """Open-circuit voltage of a rested battery.

    Parameters
    ----------
    gravity : float
        At 80 degF, 1.000 to 1.400, [-]
    cells : int
        Cells, 1 to 12 (3 make 6 V, 6 make 12 V), [-]

    Returns
    -------
    float
        Voltage, [V]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    Only after hours of rest without load or charge.

    Examples
    --------
    >>> round(rest_volts(1.265, 6), 2), round(rest_volts(1.265, 3), 3)
    (12.63, 6.315)

    References
    ----------
    .. [1] Cell volts = gravity + 0.84, from memory; also on a public page on lead-acid gravity.
    """
    within("gravity", gravity, _SG_LOW, _SG_HIGH)
    return within("cells", cells, 1, MOST_CELLS) * (gravity + VOLTS_OVER_GRAVITY)


def gravity_from_volts(volts: float, cells: int) -> float:
    """Gravity a rest voltage stands for; inverse of `rest_volts`.

    Parameters
    ----------
    volts : float
        Rest voltage, [V]
    cells : int
        Cells, 1 to 12, [-]

    Returns
    -------
    float
        Gravity, [-]

    Raises
    ------
    OutOfRange
        If the voltage of a cell is not between 1.84 and 2.24 V.

    Examples
    --------
    >>> round(gravity_from_volts(12.63, 6), 3)
    1.265
    """
    within("cells", cells, 1, MOST_CELLS)
    within(
        "volts of one cell", volts / cells, 1.84, 2.24, "V", hint="Not at rest, a dead cell, or other cells."
    )
    return volts / cells - VOLTS_OVER_GRAVITY


def charge_hours(capacity_ah: float, missing_percent: float, amps: float, factor: float = 1.2) -> float:
    """Time to charge.

    Parameters
    ----------
    capacity_ah : float
        Capacity, 0.1 to 300, [Ah]
    missing_percent : float
        What is missing, 0 to 100, [%]
    amps : float
        Charging current, 0.01 to 100, [A]
    factor : float, optional
        More goes in than comes out, 1.2 to 1.4, [-]

    Returns
    -------
    float
        Time, [h]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    Steady current; a charger that tapers takes longer.

    Examples
    --------
    >>> round(charge_hours(60, 50, 5, 1.2), 2)
    7.2

    References
    ----------
    .. [1] Common practice, no source.
    """
    within("capacity_ah", capacity_ah, 0.1, 300, "Ah")
    within("missing_percent", missing_percent, 0, 100, "%")
    within("amps", amps, 0.01, 100, "A")
    within("factor", factor, 1.2, 1.4)
    return capacity_ah * missing_percent / 100 * factor / amps


def cell_spread(gravities: tuple[float, ...]) -> float:
    """Difference between the strongest and the weakest cell.

    Parameters
    ----------
    gravities : tuple of float
        2 to 12 readings, 1.000 to 1.400, [-]

    Returns
    -------
    float
        Spread, [-]

    Raises
    ------
    OutOfRange
        If a reading or their number is out of range.

    Examples
    --------
    >>> round(cell_spread((1.260, 1.255, 1.228)), 3)
    0.032

    References
    ----------
    .. [1] TM 9-6140-200-14: more than 0.025 between two cells of a charged battery and it is unserviceable.
    """
    within("cells", len(gravities), 2, MOST_CELLS)
    for gravity in gravities:
        within("gravity", gravity, _SG_LOW, _SG_HIGH)
    return max(gravities) - min(gravities)
