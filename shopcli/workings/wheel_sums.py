"""Toe and road speed: the sums under them."""

import math

from shopcli.workings.say import above_zero, within

KMH_PER_MPH = 1.609344
_MOST_TOE_PART = 0.1


def toe_deg(toe_mm: float, diameter_mm: float) -> float:
    """Total toe as an angle.

    Parameters
    ----------
    toe_mm : float
        Rear minus front, toe-in positive, up to a tenth of the diameter, [mm]
    diameter_mm : float
        Diameter at which it was measured, 200 to 1500, [mm]

    Returns
    -------
    float
        Total toe of both wheels; each wheel has half of it, [deg]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    The same angle is more millimetres at the tread than at the rim: the diameter belongs to the figure.

    Examples
    --------
    >>> round(toe_deg(3, 600), 4)
    0.2865

    References
    ----------
    .. [1] Geometry.
    """
    within("diameter_mm", diameter_mm, 200, 1500, "mm")
    most = _MOST_TOE_PART * diameter_mm
    within("toe_mm", toe_mm, -most, most, "mm")
    return math.degrees(math.asin(toe_mm / diameter_mm))


def toe_mm(angle_deg: float, diameter_mm: float) -> float:
    """Total toe as a difference of distances; inverse of `toe_deg`.

    Parameters
    ----------
    angle_deg : float
        Total toe, toe-in positive, -5 to 5, [deg]
    diameter_mm : float
        Diameter at which it is measured, 200 to 1500, [mm]

    Returns
    -------
    float
        Rear minus front, [mm]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> round(toe_mm(0.2865, 600), 2)
    3.0
    """
    within("diameter_mm", diameter_mm, 200, 1500, "mm")
    within("angle_deg", angle_deg, -5, 5, "deg")
    return diameter_mm * math.sin(math.radians(angle_deg))


def engine_rpm(speed_kmh: float, overall_ratio: float, circumference_mm: float) -> float:
    """Engine speed at a road speed.

    Parameters
    ----------
    speed_kmh : float
        Road speed, 0 to 300, [km/h]
    overall_ratio : float
        Gear times axle, above 0 to 60, [-]
    circumference_mm : float
        Way in one turn of the wheel, 500 to 5000, [mm]

    Returns
    -------
    float
        Engine speed, [rpm]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    Clutch not slipping; a fluid drive slips always.

    Examples
    --------
    >>> round(engine_rpm(70 * 1.609344, 3.55, math.pi * 26 * 25.4), 2)
    3212.68

    References
    ----------
    .. [1] Definition; printed as rpm = mph x ratio x 336 / diameter in inches.
    """
    within("speed_kmh", speed_kmh, 0, 300, "km/h")
    above_zero("overall_ratio", overall_ratio, 60)
    within("circumference_mm", circumference_mm, 500, 5000, "mm")
    return speed_kmh * 1e6 / 60 / circumference_mm * overall_ratio


def road_kmh(rpm: float, overall_ratio: float, circumference_mm: float) -> float:
    """Road speed at an engine speed; inverse of `engine_rpm`.

    Parameters
    ----------
    rpm : float
        Engine speed, 0 to 12 000, [rpm]
    overall_ratio, circumference_mm : float
        As in `engine_rpm`.

    Returns
    -------
    float
        Speed, [km/h]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> round(road_kmh(3000, 4.125, 1801), 1)
    78.6
    """
    within("rpm", rpm, 0, 12_000, "rpm")
    above_zero("overall_ratio", overall_ratio, 60)
    within("circumference_mm", circumference_mm, 500, 5000, "mm")
    return rpm / overall_ratio * circumference_mm * 60 / 1e6


def speedometer_percent(reference_mm: float, fitted_mm: float) -> float:
    """How much more a speedometer shows with other tyres.

    Parameters
    ----------
    reference_mm, fitted_mm : float
        Diameter or circumference it was made for, and fitted, 200 to 5000, [mm]

    Returns
    -------
    float
        Shown over true, [%]; negative: it shows too little.

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> round(speedometer_percent(594.2, 575.0), 4)
    3.3391

    References
    ----------
    .. [1] Geometry.
    """
    within("reference_mm", reference_mm, 200, 5000, "mm")
    within("fitted_mm", fitted_mm, 200, 5000, "mm")
    return 100 * (reference_mm / fitted_mm - 1)
