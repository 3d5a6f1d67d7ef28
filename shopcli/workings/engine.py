"""Size of an engine: displacement and static compression ratio from what can be measured on the bench."""

import math

from shopcli.errors import OutOfRange
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import above_zero, figure, trimmed, within
from shopcli.workings.spread import PSI_IN

CC_PER_IN3 = 16.387064
_ATMOSPHERE_PSI = 101.325 / PSI_IN["kPa"]
# Exponents that published pages quote for cranking; far enough apart to show how rough the sum is.
_EXPONENT_LOW, _EXPONENT_HIGH = 1.16, 1.3
_BIG = 1e6


def displacement(bore: float, stroke: float, cylinders: int = 1) -> float:
    """Volume swept by the pistons, in the cube of whatever unit bore and stroke are in.

    Parameters
    ----------
    bore, stroke : float
        Diameter and travel, above 0, [any length, the same]
    cylinders : int, optional
        How many, 1 to 12, [-]

    Returns
    -------
    float
        Volume, [that length cubed]

    Raises
    ------
    OutOfRange
        If a figure is not above zero, or there are more than 12 cylinders.

    Examples
    --------
    >>> round(displacement(3.125, 4.375, 4), 1)
    134.2

    References
    ----------
    Geometry; 3-1/8 x 4-3/8 in, four cylinders, published as 134.2 cu in.
    """
    above_zero("bore", bore, _BIG)
    above_zero("stroke", stroke, _BIG)
    within("cylinders", cylinders, 1, 12)
    return math.pi / 4.0 * bore**2 * stroke * cylinders


def compression_ratio(swept: float, clearance: float) -> float:
    """Ratio of compression of one cylinder, static.

    Parameters
    ----------
    swept, clearance : float
        Volume swept, and volume left above the piston at the top, above 0, [any volume, the same]

    Returns
    -------
    float
        Ratio to one, [-]

    Raises
    ------
    OutOfRange
        If a volume is not above zero.

    Examples
    --------
    >>> round(compression_ratio(823.70, 100.0), 3)
    9.237

    References
    ----------
    Definition; figures of a public compression-ratio page.
    """
    return 1.0 + above_zero("swept", swept, _BIG) / above_zero("clearance", clearance, _BIG)


def clearance_for_ratio(swept: float, ratio: float) -> float:
    """Volume to leave above the piston for a wanted ratio.

    Parameters
    ----------
    swept : float
        Volume swept, above 0, [any volume]
    ratio : float
        Compression ratio, 2 to 25, [-]

    Returns
    -------
    float
        Clearance volume, [the same volume]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.

    Examples
    --------
    >>> clearance_for_ratio(800.0, 9.0)
    100.0

    References
    ----------
    Definition.
    """
    return above_zero("swept", swept, _BIG) / (within("ratio", ratio, 2.0, 25.0) - 1.0)


def cranking_pressure(ratio: float, exponent: float, air: float) -> float:
    """Order of size of a compression reading, never a limit.

    Parameters
    ----------
    ratio : float
        Static compression ratio, 2 to 25, [-]
    exponent : float
        Exponent of the squeeze, 1.0 to 1.4, [-]
    air : float
        Air pressure, above 0, [any pressure, absolute]

    Returns
    -------
    float
        Gauge pressure, [the same pressure]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.

    Notes
    -----
    Overshoots old engines: 7.00 to one and exponent 1.2 give 137 psi, the published figure of that engine is
    90 to 110 psi. Valves close late and rings leak while cranking.

    Examples
    --------
    >>> round(cranking_pressure(9.0, 1.3, 14.7), 1)
    241.1

    References
    ----------
    Common practice, no source; exponents from 1.16 to 1.3 are quoted.
    """
    within("ratio", ratio, 2.0, 25.0)
    within("exponent", exponent, 1.0, 1.4)
    return float(above_zero("air", air, _BIG) * (ratio**exponent - 1.0))


def _run_displacement(*, bore_mm: float, stroke_mm: float, cylinders: int) -> Worked:
    one_cc = displacement(bore_mm, stroke_mm) / 1000.0
    total_cc = displacement(bore_mm, stroke_mm, cylinders) / 1000.0
    total_in3 = total_cc / CC_PER_IN3
    ratio = stroke_mm / bore_mm
    return Worked(
        results=(
            Result("total_cc", "displacement", total_cc, "cc", f"{figure(total_cc, 0)} cc"),
            Result("total_in3", "in cubic inches", total_in3, "in3", f"{figure(total_in3, 1)} cu in"),
            Result("one_cc", "one cylinder", one_cc, "cc", f"{figure(one_cc, 1)} cc"),
            Result("stroke_to_bore", "stroke to bore", ratio, "ratio", f"{figure(ratio, 2)} to 1"),
        ),
        steps=(
            f"pi/4 x {trimmed(bore_mm, 3)}² x {trimmed(stroke_mm, 3)} mm = {figure(one_cc, 1)} cc a cylinder",
            f"x {cylinders} = {figure(total_cc, 1)} cc = {figure(total_in3, 1)} cu in",
        ),
    )


def _clearance_cc(bore_mm: float, parts: dict[str, float], gasket_bore_mm: float) -> tuple[float, list[str]]:
    gasket_cc = math.pi / 4.0 * gasket_bore_mm**2 * parts["gasket_mm"] / 1000.0
    deck_cc = math.pi / 4.0 * bore_mm**2 * parts["deck_mm"] / 1000.0
    total = parts["chamber_cc"] + gasket_cc + deck_cc + parts["dish_cc"]
    steps = [
        f"chamber {figure(parts['chamber_cc'], 1)} cc",
        f"gasket {trimmed(gasket_bore_mm, 2)} x {trimmed(parts['gasket_mm'], 2)} mm: {figure(gasket_cc, 1)} cc",
        f"deck {trimmed(bore_mm, 2)} x {trimmed(parts['deck_mm'], 2)} mm: {figure(deck_cc, 1)} cc",
        f"dish {figure(parts['dish_cc'], 1)} cc (a dome counts negative)",
        f"above the piston: {figure(total, 1)} cc",
    ]
    return total, steps


def _run_compression_ratio(
    *,
    bore_mm: float,
    stroke_mm: float,
    chamber_cc: float,
    gasket_mm: float = 0.0,
    gasket_bore_mm: float | None = None,
    deck_mm: float = 0.0,
    dish_cc: float = 0.0,
    wanted_ratio: float | None = None,
) -> Worked:
    swept = displacement(bore_mm, stroke_mm) / 1000.0
    parts = {"chamber_cc": chamber_cc, "gasket_mm": gasket_mm, "deck_mm": deck_mm, "dish_cc": dish_cc}
    clearance, steps = _clearance_cc(bore_mm, parts, bore_mm if gasket_bore_mm is None else gasket_bore_mm)
    if clearance <= 0:
        raise OutOfRange("room above the piston", clearance, "above 0 cc", hint="check dome and deck")
    ratio = within("ratio", compression_ratio(swept, clearance), 2.0, 25.0, hint="check the volumes")
    low, high = (cranking_pressure(ratio, n, _ATMOSPHERE_PSI) for n in (_EXPONENT_LOW, _EXPONENT_HIGH))
    results = [
        Result("ratio", "compression ratio", ratio, "ratio", f"{figure(ratio, 2)} to 1"),
        Result("swept_cc", "swept", swept, "cc", f"{figure(swept, 1)} cc"),
        Result("clearance_cc", "above the piston", clearance, "cc", f"{figure(clearance, 1)} cc"),
        Result("cranking_low_psi", "cranking, low guess", low, "psi", f"about {figure(low, 0)} psi"),
        Result("cranking_high_psi", "cranking, high guess", high, "psi", f"about {figure(high, 0)} psi"),
    ]
    steps.append(f"1 + {figure(swept, 1)} / {figure(clearance, 1)} = {figure(ratio, 2)}")
    if wanted_ratio is not None:
        change = clearance_for_ratio(swept, wanted_ratio) - clearance
        words = f"{figure(abs(change), 1)} cc {'more' if change > 0 else 'less'}"
        results.append(Result("change_cc", f"for {trimmed(wanted_ratio, 2)} to 1", change, "cc", words))
        steps.append(f"{trimmed(wanted_ratio, 2)} to 1 needs {words} above the piston")
    return Worked(
        tuple(results),
        tuple(steps),
        (
            "Cranking pressure is an order of size only and too high for old engines: never a limit.",
            "Before metal comes off: check piston to valve and the fuel the engine is to live on.",
        ),
    )


def _length(
    name: str, label: str, low: float, high: float, default: float | None = None, *, required: bool = True
) -> Input:
    return Input(
        name, label, quantity="length", unit="mm", low=low, high=high, default=default, required=required
    )


_BORE = _length("bore_mm", "Bore", 10.0, 300.0)
_STROKE = _length("stroke_mm", "Stroke", 10.0, 400.0)

DISPLACEMENT = Working(
    name="displacement",
    title="Displacement",
    subject="engine",
    inputs=(_BORE, _STROKE, Input("cylinders", "Cylinders", "whole", quantity="count", low=1, high=12)),
    run=_run_displacement,
    source="geometry; cubic inch by definition (NIST SP 811)",
    good_for="piston engines of 1 to 12 cylinders",
)

COMPRESSION_RATIO = Working(
    name="compression-ratio",
    title="Compression ratio",
    subject="engine",
    inputs=(
        _BORE,
        _STROKE,
        Input("chamber_cc", "Chamber in the head", quantity="volume", unit="cc", low=1.0, high=2000.0),
        _length("gasket_mm", "Gasket thickness, tightened", 0.0, 10.0, 0.0, required=False),
        _length("gasket_bore_mm", "Hole in the gasket", 10.0, 320.0, required=False),
        _length("deck_mm", "Piston below the block face", -20.0, 50.0, 0.0, required=False),
        Input(
            "dish_cc",
            "Dish in the piston",
            quantity="",
            unit="cc",
            low=-500.0,
            high=500.0,
            default=0.0,
            required=False,
            help="a dome negative",
        ),
        Input("wanted_ratio", "Ratio wanted", quantity="ratio", low=2.0, high=25.0, required=False),
    ),
    run=_run_compression_ratio,
    source="definition; cranking pressure: common practice, no source",
    good_for="one cylinder, static; ratios from 2 to 25",
)

WORKINGS = (DISPLACEMENT, COMPRESSION_RATIO)
