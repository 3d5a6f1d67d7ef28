"""Dwell: how long the points stay closed, in degrees of the distributor and per cent of its sector.

A meter shows degrees, per cent or both; 60 may be either, so the sums ask and never guess.
"""

from shopcli.errors import OutOfRange
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import above_zero, figure, trimmed, within

MOST_LOBES = 12
FASTEST_RPM = 12_000.0
HIGH_TENSION = "High tension: keep hands and tools off the leads and the coil while the ignition is on."
GAP_DWELL_TIMING = "Gap first, then dwell, then timing: each one moves the next."
_LOBES = "Lobes count for this one set of points: two sets on one cam have their own dwell each."


def sector_deg(lobes: int) -> float:
    """Share of a distributor turn that belongs to one lobe.

    Parameters
    ----------
    lobes : int
        Lobes that open this set of points in one turn, 1 to 12, [-]

    Returns
    -------
    float
        Sector, [distributor deg]

    Raises
    ------
    OutOfRange
        If there are no lobes or more than 12.

    Notes
    -----
    Lobes, not cylinders, where a cam works two sets of points.

    Examples
    --------
    >>> sector_deg(8), sector_deg(4)
    (45.0, 90.0)

    References
    ----------
    Eight-cylinder distributor interval 45 degrees: TM 5-4210-230-14&P-1, distributor test.
    """
    if not 1 <= lobes <= MOST_LOBES:
        raise OutOfRange("lobes", lobes, f"1 to {MOST_LOBES}")
    return 360.0 / lobes


def dwell_percent(dwell_deg: float, lobes: int) -> float:
    """Dwell as a share of the sector.

    Parameters
    ----------
    dwell_deg : float
        Dwell, above 0 and below the sector, [distributor deg]
    lobes : int
        Lobes on this set of points, 1 to 12, [-]

    Returns
    -------
    float
        Dwell, [%]

    Raises
    ------
    OutOfRange
        If the points would never open, or never close.

    Examples
    --------
    >>> round(dwell_percent(52.0, 4), 4)
    57.7778

    References
    ----------
    Geometry.
    """
    sector = sector_deg(lobes)
    if not 0 < dwell_deg < sector:
        raise OutOfRange(
            "dwell",
            dwell_deg,
            f"above 0 and below {trimmed(sector)} deg for {lobes} lobes",
            hint="is the meter showing per cent, or set to another number of cylinders?",
        )
    return 100.0 * dwell_deg / sector


def dwell_degrees(dwell_pct: float, lobes: int) -> float:
    """Dwell in degrees from its share of the sector.

    Parameters
    ----------
    dwell_pct : float
        Dwell, above 0 and below 100, [%]
    lobes : int
        Lobes on this set of points, 1 to 12, [-]

    Returns
    -------
    float
        Dwell, [distributor deg]

    Raises
    ------
    OutOfRange
        If the points would never open, or never close.

    Examples
    --------
    >>> dwell_degrees(60.0, 6)
    36.0

    References
    ----------
    Geometry.
    """
    if not 0 < dwell_pct < 100:  # noqa: PLR2004 - the whole of anything
        raise OutOfRange("dwell", dwell_pct, "above 0 and below 100 %")
    return dwell_pct * sector_deg(lobes) / 100.0


def dwell_ms(dwell_deg: float, crank_rpm: float) -> float:
    """Time the points stay closed for one spark, four-stroke.

    Parameters
    ----------
    dwell_deg : float
        Dwell, 0 to 360, [distributor deg]
    crank_rpm : float
        Crank speed, above 0 up to 12 000, [rpm]

    Returns
    -------
    float
        Time, [ms]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.

    Notes
    -----
    The distributor turns at half crank speed.

    Examples
    --------
    >>> round(dwell_ms(52.0, 3000.0), 4)
    5.7778

    References
    ----------
    Geometry; half speed: TM 10-3930-644-14&P, Topic 8.
    """
    within("dwell", dwell_deg, 0.0, 360.0, "deg")
    return 1000.0 * dwell_deg / (3.0 * above_zero("crank speed", crank_rpm, FASTEST_RPM, "rpm"))


def distributor_to_crank(distributor_deg: float) -> float:
    """Crank degrees of a movement at the distributor, four-stroke.

    Parameters
    ----------
    distributor_deg : float
        Angle at the distributor, [distributor deg]

    Returns
    -------
    float
        Angle at the crank, [crank deg]

    Examples
    --------
    >>> distributor_to_crank(1.0)
    2.0

    References
    ----------
    "one-half of the engine crankshaft speed": TM 10-3930-644-14&P, Topic 8.
    """
    return 2.0 * distributor_deg


def _limit_verdict(dwell: float, low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return ""
    if low is not None and dwell < low:
        return f"dwell low by {figure(low - dwell, 1)}°: points gap too wide"
    if high is not None and dwell > high:
        return f"dwell high by {figure(dwell - high, 1)}°: points gap too tight"
    return "dwell in limits"


def _dwell_worked(
    dwell: float, lobes: int, step: str, *, rpm: float | None, low: float | None, high: float | None
) -> Worked:
    sector, percent = sector_deg(lobes), dwell_percent(dwell, lobes)
    results = [
        Result("dwell_deg", "dwell", dwell, "deg_dist", f"{figure(dwell, 1)}°"),
        Result("dwell_pct", "dwell", percent, "%", f"{figure(percent, 1)} %"),
        Result("sector_deg", "sector of one lobe", sector, "deg_dist", f"{trimmed(sector, 2)}°"),
        Result("open_deg", "points open", sector - dwell, "deg_dist", f"{figure(sector - dwell, 1)}°"),
    ]
    steps = [f"sector: 360 / {lobes} lobes = {trimmed(sector, 2)}°", step]
    if rpm is not None:
        time_ms = dwell_ms(dwell, rpm)
        results.append(Result("closed_ms", "closed for", time_ms, "ms", f"{figure(time_ms, 2)} ms"))
        steps.append(
            f"at {trimmed(rpm)} rpm: {figure(dwell, 1)} / (3 x {trimmed(rpm)}) = {figure(time_ms, 2)} ms"
        )
    return Worked(tuple(results), tuple(steps), (_LOBES, GAP_DWELL_TIMING), _limit_verdict(dwell, low, high))


def _run_dwell_percent(
    *,
    dwell_deg: float,
    lobes: int,
    low_deg: float | None = None,
    high_deg: float | None = None,
    crank_rpm: float | None = None,
) -> Worked:
    percent = dwell_percent(dwell_deg, lobes)
    step = f"{figure(dwell_deg, 1)} / {trimmed(sector_deg(lobes), 2)} x 100 = {figure(percent, 1)} %"
    return _dwell_worked(dwell_deg, lobes, step, rpm=crank_rpm, low=low_deg, high=high_deg)


def _run_dwell_degrees(
    *,
    dwell_pct: float,
    lobes: int,
    low_deg: float | None = None,
    high_deg: float | None = None,
    crank_rpm: float | None = None,
) -> Worked:
    degrees = dwell_degrees(dwell_pct, lobes)
    step = f"{figure(dwell_pct, 1)} % of {trimmed(sector_deg(lobes), 2)}° = {figure(degrees, 1)}°"
    return _dwell_worked(degrees, lobes, step, rpm=crank_rpm, low=low_deg, high=high_deg)


_LOBES_INPUT = Input(
    "lobes", "Lobes on this set of points", "whole", quantity="count", low=1, high=MOST_LOBES
)


def _degrees(name: str, label: str, *, required: bool = False) -> Input:
    return Input(
        name, label, quantity="distributor angle", unit="deg_dist", low=0.0, high=360.0, required=required
    )


_MORE = (
    _degrees("low_deg", "Low limit of dwell"),
    _degrees("high_deg", "High limit of dwell"),
    Input(
        "crank_rpm", "Crank speed", quantity="rotation", unit="rpm", low=1.0, high=FASTEST_RPM, required=False
    ),
)

DWELL_PERCENT = Working(
    name="dwell-percent",
    title="Dwell in per cent from degrees",
    subject="ignition",
    inputs=(_degrees("dwell_deg", "Dwell on the meter", required=True), _LOBES_INPUT, *_MORE),
    run=_run_dwell_percent,
    source="geometry; half speed of the distributor: TM 10-3930-644-14&P, Topic 8",
    good_for="contact-breaker points with 1 to 12 lobes, four-stroke",
    cautions=(HIGH_TENSION,),
)

DWELL_DEGREES = Working(
    name="dwell-degrees",
    title="Dwell in degrees from per cent",
    subject="ignition",
    inputs=(
        Input("dwell_pct", "Dwell on the meter", quantity="percent", unit="%", low=0.0, high=100.0),
        _LOBES_INPUT,
        *_MORE,
    ),
    run=_run_dwell_degrees,
    source="geometry; half speed of the distributor: TM 10-3930-644-14&P, Topic 8",
    good_for="contact-breaker points with 1 to 12 lobes, four-stroke",
    cautions=(HIGH_TENSION,),
)


WORKINGS = (DWELL_PERCENT, DWELL_DEGREES)
