"""Timing marks: degrees of advance as a distance round the rim of a pulley or flywheel, and back."""

import math

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, trimmed, within

_SMALLEST_MM = 20.0
_LARGEST_MM = 1000.0
_WIDEST_DEG = 90.0


def arc_length(diameter: float, angle_deg: float) -> float:
    """Distance along the rim for an angle.

    Parameters
    ----------
    diameter : float
        Diameter where the marks are, above 0, [any length]
    angle_deg : float
        Angle at the crank, -90 to 90, [crank deg]

    Returns
    -------
    float
        Distance along the rim, [the same length]

    Raises
    ------
    OutOfRange
        If the angle is beyond 90 degrees or the diameter is not above zero.

    Notes
    -----
    Along the rim, as a strip of paper lies. A rule laid straight across reads the chord, which is shorter.

    Examples
    --------
    >>> round(arc_length(150.0, 7.5), 4)
    9.8175

    References
    ----------
    Geometry.
    """
    within("angle", angle_deg, -_WIDEST_DEG, _WIDEST_DEG, "deg")
    within("diameter", diameter, 1e-6, 1e6)
    return math.pi * diameter * angle_deg / 360.0


def angle_of_arc_deg(diameter: float, arc: float) -> float:
    """Angle of a distance along the rim.

    Parameters
    ----------
    diameter, arc : float
        Diameter where the marks are, and distance along the rim, [any length, the same]

    Returns
    -------
    float
        Angle at the crank, [crank deg]

    Raises
    ------
    OutOfRange
        If the angle comes out beyond 90 degrees or the diameter is not above zero.

    Examples
    --------
    >>> round(angle_of_arc_deg(150.0, 9.8175), 2)
    7.5

    References
    ----------
    Geometry.
    """
    within("diameter", diameter, 1e-6, 1e6)
    return within("angle", 360.0 * arc / (math.pi * diameter), -_WIDEST_DEG, _WIDEST_DEG, "deg")


def chord_length(diameter: float, angle_deg: float) -> float:
    """Straight distance between two marks on the rim.

    Parameters
    ----------
    diameter : float
        Diameter where the marks are, above 0, [any length]
    angle_deg : float
        Angle at the crank, -90 to 90, [crank deg]

    Returns
    -------
    float
        Straight distance, [the same length]

    Raises
    ------
    OutOfRange
        If the angle is beyond 90 degrees or the diameter is not above zero.

    Examples
    --------
    >>> round(chord_length(150.0, 7.5), 3)
    9.81

    References
    ----------
    Geometry.
    """
    within("angle", angle_deg, -_WIDEST_DEG, _WIDEST_DEG, "deg")
    within("diameter", diameter, 1e-6, 1e6)
    return diameter * math.sin(math.radians(angle_deg) / 2.0)


def _run_timing_arc(
    *, diameter_mm: float, angle_deg: float | None = None, arc_mm: float | None = None
) -> Worked:
    if (angle_deg is None) == (arc_mm is None):
        raise BadInput("give either the angle or the distance", hint="one of the two, not both")
    size = trimmed(diameter_mm, 2)
    if angle_deg is not None:
        angle, arc = angle_deg, arc_length(diameter_mm, angle_deg)
        step = f"pi x {size} mm x {trimmed(angle, 2)} / 360 = {figure(arc, 2)} mm along the rim"
    else:
        arc = float(arc_mm or 0.0)
        angle = angle_of_arc_deg(diameter_mm, arc)
        step = f"360 x {trimmed(arc, 2)} mm / (pi x {size} mm) = {figure(angle, 2)}°"
    chord = chord_length(diameter_mm, angle)
    short_pct = 100.0 * (1.0 - chord / arc) if arc else 0.0
    return Worked(
        results=(
            Result("angle_deg", "angle", angle, "deg_crank", f"{figure(angle, 1)}° of the crank"),
            Result("arc_mm", "along the rim", arc, "mm", f"{figure(arc, 1)} mm"),
            Result("chord_mm", "straight across", chord, "mm", f"{figure(chord, 1)} mm"),
            Result(
                "mm_per_deg",
                "one degree",
                arc_length(diameter_mm, 1.0),
                "mm",
                f"{figure(arc_length(diameter_mm, 1.0), 2)} mm",
            ),
        ),
        steps=(
            f"circumference pi x {size} = {figure(math.pi * diameter_mm, 1)} mm for 360°",
            step,
            f"straight across it is {figure(chord, 2)} mm, {figure(short_pct, 2)} % less",
        ),
        cautions=(
            "Measure the diameter where the marks are cut, and make sure of dead centre first.",
            "Earlier than dead centre lies on the side that reaches the pointer first when the engine runs.",
        ),
    )


TIMING_ARC = Working(
    name="timing-arc",
    title="Timing degrees as a distance on the pulley",
    subject="ignition",
    inputs=(
        Input(
            "diameter_mm",
            "Diameter at the marks",
            quantity="length",
            unit="mm",
            low=_SMALLEST_MM,
            high=_LARGEST_MM,
        ),
        Input(
            "angle_deg",
            "Angle",
            quantity="crank angle",
            unit="deg_crank",
            low=0.0,
            high=_WIDEST_DEG,
            required=False,
        ),
        Input(
            "arc_mm",
            "or the distance along the rim",
            quantity="length",
            unit="mm",
            low=0.0,
            high=_LARGEST_MM,
            required=False,
        ),
    ),
    run=_run_timing_arc,
    source="geometry",
    good_for="marks on a pulley or flywheel that turns with the crank, 20 to 1000 mm across, up to 90°",
    cautions=("Engine stopped, key out: fingers stay clear of fan, belt and pulley.",),
)

WORKINGS = (TIMING_ARC,)
