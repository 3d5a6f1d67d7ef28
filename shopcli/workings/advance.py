"""Total advance: static setting, centrifugal and vacuum curves added up at one speed, against its limits.

Handbooks print curves in distributor degrees at distributor speed or in crank degrees at crank speed. Both
axes change by two, so the sum asks which it is and never guesses.
"""

import re
from itertools import pairwise
from typing import Literal

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, trimmed, within

Basis = Literal["distributor", "crank"]
BASES = ("distributor", "crank")
Curve = tuple[tuple[float, float], ...]
_MOST_POINTS = 30
_MOST_DEG = 60.0
_POINT = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*[:=@]\s*([0-9]+(?:\.[0-9]+)?)")


def parse_curve(text: str) -> Curve:
    """Read the points of a curve.

    Parameters
    ----------
    text : str
        Points as speed:degrees (or vacuum:degrees), e.g. "400:0 800:6 1600:14".

    Returns
    -------
    tuple of pairs
        Points with the first figure rising.

    Raises
    ------
    BadInput
        If it cannot be read, has less than two points or more than 30, or does not rise.

    Examples
    --------
    >>> parse_curve("400:0 800:6, 1600:14")
    ((400.0, 0.0), (800.0, 6.0), (1600.0, 14.0))
    """
    if _POINT.sub("", text).strip(" ,;\t\n"):
        raise BadInput(f"cannot read {text!r} as a curve", hint="write points like 400:0 800:6 1600:14")
    points = tuple((float(at), float(degrees)) for at, degrees in _POINT.findall(text))
    if not 1 < len(points) <= _MOST_POINTS:
        raise BadInput(f"a curve of {len(points)} points", hint=f"2 to {_MOST_POINTS} points")
    if any(later[0] <= earlier[0] for earlier, later in pairwise(points)):
        raise BadInput(f"the points of {text!r} do not rise", hint="list them from low to high, each once")
    if max(degrees for _, degrees in points) > _MOST_DEG:
        raise BadInput(f"more than {_MOST_DEG:g} degrees in {text!r}", hint="write speed first, then degrees")
    return points


def on_curve(curve: Curve, at: float, name: str = "speed") -> float:
    """Advance read off a curve, straight from point to point.

    Parameters
    ----------
    curve : tuple of pairs
        Points with the first figure rising.
    at : float
        Where to read, within the curve, [unit of the curve]
    name : str, optional
        What `at` is, for the message.

    Returns
    -------
    float
        Advance, [deg of the curve]

    Raises
    ------
    OutOfRange
        If `at` lies before the first or after the last point: nothing is known there.

    Examples
    --------
    >>> on_curve(((400.0, 0.0), (800.0, 6.0)), 600.0)
    3.0

    References
    ----------
    Straight-line interpolation; handbooks print points and limits, not the line between them.
    """
    within(name, at, curve[0][0], curve[-1][0], hint="the curve ends there: add a point from the handbook")
    for (left, low), (right, high) in pairwise(curve):
        if at <= right:
            return low + (high - low) * (at - left) / (right - left)
    raise OutOfRange(name, at, "within the curve")  # pragma: no cover - refused above


def total_advance_deg(static_deg: float, centrifugal_dist_deg: float, vacuum_dist_deg: float) -> float:
    """Total advance at the crank.

    Parameters
    ----------
    static_deg : float
        Static setting before top dead centre, after it negative, [crank deg]
    centrifugal_dist_deg : float
        Centrifugal advance, 0 to 60, [distributor deg]
    vacuum_dist_deg : float
        Vacuum advance, a retarding unit negative, -60 to 60, [distributor deg]

    Returns
    -------
    float
        Advance before top dead centre, [crank deg]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.

    Examples
    --------
    >>> total_advance_deg(8.0, 12.0, 7.0)
    46.0

    References
    ----------
    Geometry; static 6 and 16 distributor degrees make 38: worked table on a public owners' forum (weak).
    """
    within("static timing", static_deg, -30.0, 60.0, "deg")
    within("centrifugal advance", centrifugal_dist_deg, 0.0, _MOST_DEG, "deg")
    within("vacuum advance", vacuum_dist_deg, -_MOST_DEG, _MOST_DEG, "deg")
    return static_deg + 2.0 * (centrifugal_dist_deg + vacuum_dist_deg)


def _in_dist_deg(curve: Curve, at: float, name: str, basis: Basis) -> float:
    read = on_curve(curve, at, name)
    return read if basis == "distributor" else read / 2.0


def _limit_words(total: float, low: float | None, high: float | None) -> str:
    if low is not None and total < low:
        return f"below the limit of {trimmed(low, 1)}° by {figure(low - total, 1)}°: late"
    if high is not None and total > high:
        return f"above the limit of {trimmed(high, 1)}° by {figure(total - high, 1)}°: early, it may knock"
    return "" if low is None and high is None else "within the limits"


def _run_total_advance(
    *,
    static_deg: float,
    centrifugal: str,
    basis: Basis,
    crank_rpm: float,
    vacuum: str | None = None,
    vacuum_at: float = 0.0,
    vacuum_retards: bool = False,
    low_deg: float | None = None,
    high_deg: float | None = None,
) -> Worked:
    speed = crank_rpm / 2.0 if basis == "distributor" else crank_rpm
    weights = _in_dist_deg(parse_curve(centrifugal), speed, f"{basis} speed", basis)
    steps = [
        f"{trimmed(crank_rpm, 1)} rpm at the crank is {trimmed(crank_rpm / 2.0, 1)} rpm at the distributor",
        f"weights: {figure(weights, 1)}° at the distributor, {figure(2 * weights, 1)}° at the crank",
    ]
    box = 0.0
    if vacuum is not None and vacuum_at > 0:
        box = _in_dist_deg(parse_curve(vacuum), vacuum_at, "vacuum", basis) * (-1 if vacuum_retards else 1)
        steps.append(f"vacuum: {figure(box, 1)}° at the distributor, {figure(2 * box, 1)}° at the crank")
    hose_off, total = total_advance_deg(static_deg, weights, 0.0), total_advance_deg(static_deg, weights, box)
    steps.append(
        f"{figure(static_deg, 1)} + 2 x ({figure(weights, 1)} + {figure(box, 1)}) = {figure(total, 1)}°"
    )
    words = _limit_words(total, low_deg, high_deg)
    return Worked(
        results=(
            Result("total_deg", "total before top dead centre", total, "deg_crank", f"{figure(total, 1)}°"),
            Result("hose_off_deg", "by the lamp, hose off", hose_off, "deg_crank", f"{figure(hose_off, 1)}°"),
            Result(
                "centrifugal_deg", "from the weights", 2 * weights, "deg_crank", f"{figure(2 * weights, 1)}°"
            ),
            Result("vacuum_deg", "from the vacuum unit", 2 * box, "deg_crank", f"{figure(2 * box, 1)}°"),
        ),
        steps=tuple(steps),
        cautions=("Straight lines between the points: the handbook's own limits at a speed come first.",),
        verdict=words and f"{figure(total, 1)}° before top dead centre, {words}",
    )


def _crank_deg(name: str, label: str, *, required: bool = False) -> Input:
    return Input(
        name, label, quantity="crank angle", unit="deg_crank", low=-30.0, high=90.0, required=required
    )


TOTAL_ADVANCE = Working(
    name="total-advance",
    title="Total advance at a speed",
    subject="ignition",
    inputs=(
        Input(
            "static_deg",
            "Static timing",
            quantity="crank angle",
            unit="deg_crank",
            low=-30.0,
            high=60.0,
            help="before top dead centre; after it negative",
        ),
        Input("centrifugal", "Centrifugal curve", "text", help="speed:degrees, e.g. 400:0 800:6 1600:14"),
        Input("basis", "Curves are printed for the", "choice", choices=BASES, help="both axes differ by two"),
        Input("crank_rpm", "Crank speed", quantity="rotation", unit="rpm", low=0.0, high=12_000.0),
        Input("vacuum", "Vacuum curve", "text", required=False, help="vacuum:degrees, e.g. 100:0 300:8"),
        Input(
            "vacuum_at",
            "Vacuum now, in the curve's unit",
            low=0.0,
            high=1100.0,
            default=0.0,
            required=False,
            help="0 with the hose off",
        ),
        Input("vacuum_retards", "Vacuum unit retards", "yesno", default=False, required=False),
        _crank_deg("low_deg", "Low limit"),
        _crank_deg("high_deg", "High limit"),
    ),
    run=_run_total_advance,
    source="geometry: the distributor turns at half crank speed (TM 10-3930-644-14&P, Topic 8)",
    good_for="speeds and vacuum within the printed curves, four-stroke; nothing is read beyond their ends",
    cautions=("Running engine: sleeves, hair and the lamp's leads clear of fan and belt.",),
)

WORKINGS = (TOTAL_ADVANCE,)
