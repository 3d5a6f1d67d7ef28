"""Geometry of a V-belt over two pulleys, one of which may be split and shimmed."""

import math

from shopcli.workings.say import above_zero, within

_LARGEST_MM = 1000.0
_FURTHEST_MM = 5000.0
_LOWEST_GROOVE = 30.0
_HIGHEST_GROOVE = 42.0


def _checked(large_mm: float, small_mm: float, centres_mm: float) -> tuple[float, float]:
    """Return larger and smaller diameter after looking whether the pulleys clear each other."""
    above_zero("diameter", large_mm, _LARGEST_MM, "mm")
    above_zero("other diameter", small_mm, _LARGEST_MM, "mm")
    within(
        "centres",
        centres_mm,
        (large_mm + small_mm) / 2,
        _FURTHEST_MM,
        "mm",
        hint="Closer, the pulleys touch.",
    )
    return max(large_mm, small_mm), min(large_mm, small_mm)


def belt_length_mm(large_mm: float, small_mm: float, centres_mm: float) -> float:
    """Length of an open belt, exact.

    Parameters
    ----------
    large_mm, small_mm : float
        Diameters where the belt runs, in any order, up to 1000, [mm]
    centres_mm : float
        Distance of the shafts, from touching pulleys to 5000, [mm]

    Returns
    -------
    float
        Belt path, [mm]

    Raises
    ------
    OutOfRange
        If a size is out of range or the pulleys would touch.

    Notes
    -----
    Two pulleys, belt not crossed. Give pitch diameters for a pitch length, outside for an outside length.

    Examples
    --------
    >>> round(belt_length_mm(150, 70, 300), 2)
    950.92

    References
    ----------
    .. [1] Geometry.
    """
    large, small = _checked(large_mm, small_mm, centres_mm)
    tilt = math.asin((large - small) / (2 * centres_mm))
    return 2 * centres_mm * math.cos(tilt) + math.pi / 2 * (large + small) + tilt * (large - small)


def belt_length_handbook_mm(large_mm: float, small_mm: float, centres_mm: float) -> float:
    """Length of an open belt by the handbook's short formula, the second way to the same number.

    Parameters
    ----------
    large_mm, small_mm, centres_mm : float
        As in `belt_length_mm`, [mm]

    Returns
    -------
    float
        Belt path, [mm]

    Raises
    ------
    OutOfRange
        As `belt_length_mm`.

    Examples
    --------
    >>> round(belt_length_handbook_mm(150, 70, 300), 2)
    950.91

    References
    ----------
    .. [1] L = 2C + pi/2 (D + d) + (D - d)^2 / 4C, handbook formula.
    """
    large, small = _checked(large_mm, small_mm, centres_mm)
    return 2 * centres_mm + math.pi / 2 * (large + small) + (large - small) ** 2 / (4 * centres_mm)


def span_mm(large_mm: float, small_mm: float, centres_mm: float) -> float:
    """Free span between the pulleys.

    Parameters
    ----------
    large_mm, small_mm, centres_mm : float
        As in `belt_length_mm`, [mm]

    Returns
    -------
    float
        Span, [mm]

    Raises
    ------
    OutOfRange
        As `belt_length_mm`.

    Examples
    --------
    >>> round(span_mm(150, 70, 300), 1)
    297.3

    References
    ----------
    .. [1] Geometry.
    """
    large, small = _checked(large_mm, small_mm, centres_mm)
    return math.sqrt(centres_mm**2 - ((large - small) / 2) ** 2)


def rule_deflection(span: float) -> float:
    """Deflection by the 1/64 rule: 1/64 in for each inch of span, 1.6 mm for each 100 mm.

    Parameters
    ----------
    span : float
        Free span, up to 5000, any unit of length.

    Returns
    -------
    float
        Deflection in the middle, same unit.

    Raises
    ------
    OutOfRange
        If the span is not above zero or beyond 5000.

    Notes
    -----
    At the belt maker's force. A car handbook's own figure (12 to 15 mm on a long span) is another rule
    and comes first.

    Examples
    --------
    >>> rule_deflection(16)
    0.25

    References
    ----------
    .. [1] Belt installation guide, 1/64 in per inch of span.
    """
    return above_zero("span", span, _FURTHEST_MM) / 64


def slack_path_mm(span_length_mm: float, deflection_mm: float) -> float:
    """Belt used up by a deflection in the middle of a span.

    Parameters
    ----------
    span_length_mm : float
        Free span, [mm]
    deflection_mm : float
        Deflection, 0 up to a fifth of the span, [mm]

    Returns
    -------
    float
        Extra path, [mm]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    Takes the belt as not stretching under the thumb; an estimate for how far to go, to be measured again.

    Examples
    --------
    >>> round(slack_path_mm(297.3, 20), 2)
    2.68

    References
    ----------
    .. [1] Geometry (Pythagoras on each half).
    """
    above_zero("span", span_length_mm, _FURTHEST_MM, "mm")
    within("deflection", deflection_mm, 0, span_length_mm / 5, "mm")
    half = span_length_mm / 2
    return 2 * (math.hypot(half, deflection_mm) - half)


def deflection_for_path_mm(span_length_mm: float, path_mm: float) -> float:
    """Deflection in the middle that uses up a given extra path; inverse of `slack_path_mm`.

    Parameters
    ----------
    span_length_mm : float
        Free span, [mm]
    path_mm : float
        Extra path, 0 or more and less than a tenth of the span, [mm]

    Returns
    -------
    float
        Deflection, [mm]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> round(deflection_for_path_mm(297.3, slack_path_mm(297.3, 20)), 6)
    20.0
    """
    above_zero("span", span_length_mm, _FURTHEST_MM, "mm")
    within("path", path_mm, 0, span_length_mm / 10, "mm")
    half = span_length_mm / 2
    return math.sqrt((half + path_mm / 2) ** 2 - half**2)


def split_radius_mm(closed_mm: float, groove_deg: float = 36.0) -> float:
    """Rise of the belt when both halves of a split pulley come closer.

    Parameters
    ----------
    closed_mm : float
        How much closer, -20 to 20, [mm]
    groove_deg : float, optional
        Included angle of the groove, 30 to 42, [deg]

    Returns
    -------
    float
        Rise in radius (fall if negative), [mm]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    Straight flanks and a belt that keeps its width. The angle is between the flanks, not of one flank.

    Examples
    --------
    >>> round(split_radius_mm(1.0), 4)
    1.5388

    References
    ----------
    .. [1] Geometry; SAE J636 groove 36 degrees (secondary summary).
    """
    within("closed_mm", closed_mm, -20, 20, "mm")
    within("groove_deg", groove_deg, _LOWEST_GROOVE, _HIGHEST_GROOVE, "deg")
    return closed_mm / (2 * math.tan(math.radians(groove_deg / 2)))


def path_change_mm(split_mm: float, other_mm: float, centres_mm: float, grown_mm: float) -> float:
    """Change of the belt path when one pulley grows in diameter.

    Parameters
    ----------
    split_mm : float
        Diameter of the pulley that changes, [mm]
    other_mm : float
        Diameter of the other, [mm]
    centres_mm : float
        Distance of the shafts, [mm]
    grown_mm : float
        Change of diameter, [mm]

    Returns
    -------
    float
        Change of path, [mm]

    Raises
    ------
    OutOfRange
        As `belt_length_mm`.

    Examples
    --------
    >>> round(path_change_mm(70, 150, 300, 3.0777), 2)
    4.43

    References
    ----------
    .. [1] Geometry.
    """
    before = belt_length_mm(split_mm, other_mm, centres_mm)
    return belt_length_mm(split_mm + grown_mm, other_mm, centres_mm) - before
