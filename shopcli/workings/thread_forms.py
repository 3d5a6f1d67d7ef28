"""Screw thread geometry: areas and diameters from diameter and pitch, family by family."""

import math

from shopcli.workings.say import above_zero, within

MAX_BA = 16
_WIDEST_MM = 150.0
_WIDEST_IN = 6.0
_MOST_TURNS = 100.0
_DEEPEST = 0.45  # of the diameter: deeper, nothing is left


def metric_stress_area_mm2(diameter_mm: float, pitch_mm: float) -> float:
    """Nominal stress area of an ISO metric thread [1]_.

    Parameters
    ----------
    diameter_mm : float
        Nominal diameter, [mm]
    pitch_mm : float
        Pitch, at most 45 % of the diameter, [mm]

    Returns
    -------
    float
        Stress area, [mm2]

    Raises
    ------
    OutOfRange
        If the diameter is not above zero and up to 150 mm (6 in), or the pitch above 45 % of it.

    Notes
    -----
    For 60 degree metric threads only; the standard prints three figures.

    Examples
    --------
    >>> round(metric_stress_area_mm2(8.0, 1.25), 1)
    36.6

    References
    ----------
    .. [1] ISO 898-1, nominal stress area; M8: 36.6 mm2 (secondary tables).
    """
    above_zero("diameter_mm", diameter_mm, _WIDEST_MM, "mm")
    above_zero("pitch_mm", pitch_mm, _DEEPEST * diameter_mm, "mm")
    return math.pi / 4 * (diameter_mm - 0.9382 * pitch_mm) ** 2


def unified_stress_area_in2(diameter_in: float, turns_per_inch: float) -> float:
    """Stress area of a Unified thread [1]_.

    Parameters
    ----------
    diameter_in : float
        Nominal diameter, [in]
    turns_per_inch : float
        Threads per inch, [1/in]

    Returns
    -------
    float
        Stress area, [in2]

    Raises
    ------
    OutOfRange
        If the diameter is not above zero and up to 150 mm (6 in), or the pitch above 45 % of it.

    Notes
    -----
    For 60 degree Unified threads; not for Whitworth.

    Examples
    --------
    >>> round(unified_stress_area_in2(0.375, 16), 4)
    0.0775

    References
    ----------
    .. [1] FED-STD-H28/2B formula (1b); 3/8-16: 0.0775 in2 in ASME B1.1 (secondary tables).
    """
    above_zero("diameter_in", diameter_in, _WIDEST_IN, "in")
    above_zero("turns_per_inch", turns_per_inch, _MOST_TURNS, "per inch")
    above_zero("pitch_in", 1 / turns_per_inch, _DEEPEST * diameter_in, "in")
    return math.pi / 4 * (diameter_in - 9 * math.sqrt(3) / (16 * turns_per_inch)) ** 2


def whitworth_diameters_in(diameter_in: float, turns_per_inch: float) -> tuple[float, float]:
    """Effective and minor diameter of a 55 degree Whitworth form thread (BSW, BSF) [1]_.

    Parameters
    ----------
    diameter_in : float
        Nominal diameter, [in]
    turns_per_inch : float
        Threads per inch, [1/in]

    Returns
    -------
    tuple of float
        Effective (pitch) diameter and minor diameter, [in]

    Raises
    ------
    OutOfRange
        If the diameter is not above zero and up to 6 in, or the depth above 45 % of it.

    Notes
    -----
    Basic sizes without tolerance; depth 0.640327 of the pitch.

    Examples
    --------
    >>> tuple(round(x, 4) for x in whitworth_diameters_in(0.375, 16))
    (0.335, 0.295)

    References
    ----------
    .. [1] BS 84 thread form and sizes (secondary tables): 3/8 BSW 0.3350 and 0.2950 in.
    """
    above_zero("diameter_in", diameter_in, _WIDEST_IN, "in")
    above_zero("turns_per_inch", turns_per_inch, _MOST_TURNS, "per inch")
    depth_in = 0.640327 / turns_per_inch
    above_zero("depth of thread", depth_in, _DEEPEST * diameter_in, "in")
    return diameter_in - depth_in, diameter_in - 2 * depth_in


def ba_sizes_mm(number: int) -> tuple[float, float, float, float]:
    """Pitch, major, effective and minor diameter of a BA thread by its number [1]_.

    Parameters
    ----------
    number : int
        BA number, 0 to 16, [-]

    Returns
    -------
    tuple of float
        Pitch, major, effective and minor diameter, [mm]

    Raises
    ------
    OutOfRange
        If `number` is outside 0 to 16.

    Notes
    -----
    Pitch 0.9 to the power of the number and major diameter 6 p^1.2, each to two significant figures;
    depth 0.6 p.

    Examples
    --------
    >>> ba_sizes_mm(1)
    (0.9, 5.3, 4.76, 4.22)

    References
    ----------
    .. [1] BS 93 (secondary table): 1BA 0.90, 5.30, 4.76, 4.22 mm.
    """
    within("BA number", number, 0, MAX_BA)
    exact_pitch = 0.9**number
    pitch, major = float(f"{exact_pitch:.2g}"), float(f"{6 * exact_pitch**1.2:.2g}")
    return pitch, major, round(major - 0.6 * pitch, 4), round(major - 1.2 * pitch, 4)


def mean_area_mm2(effective_mm: float, minor_mm: float) -> float:
    """Area of the mean of effective and minor diameter, used where no printed stress area rule was found.

    Parameters
    ----------
    effective_mm, minor_mm : float
        Effective and minor diameter, [mm]

    Returns
    -------
    float
        Area, [mm2]

    Raises
    ------
    OutOfRange
        If a diameter is not above zero.

    Notes
    -----
    The metric and Unified rules are the same mean; for BSW, BSF and BA it is common practice, no source.

    Examples
    --------
    >>> round(mean_area_mm2(8.509, 7.493), 1)
    50.3
    """
    above_zero("effective_mm", effective_mm, _WIDEST_MM, "mm")
    above_zero("minor_mm", minor_mm, _WIDEST_MM, "mm")
    return math.pi / 4 * ((effective_mm + minor_mm) / 2) ** 2
