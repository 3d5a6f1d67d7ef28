"""Coil and ballast: the current through the points, and how often a spark is asked of the coil."""

from shopcli.errors import BadInput
from shopcli.workings.firing import firing_angle_deg, order_text, parse_order, spark_interval_deg
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import above_zero, figure, trimmed, within

_HIGHEST_V = 30.0
_MOST_OHM = 20.0
_LEAST_OHM = 0.1


def coil_current_a(supply_v: float, coil_ohm: float, ballast_ohm: float = 0.0) -> float:
    """Steady current through coil and ballast with the points closed and the engine at rest.

    Parameters
    ----------
    supply_v : float
        Voltage at the ignition switch, above 0 up to 30, [V]
    coil_ohm : float
        Primary winding, 0.1 to 20, [ohm]
    ballast_ohm : float, optional
        Ballast resistor or resistance lead, 0 to 20, [ohm]

    Returns
    -------
    float
        Current, [A]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.

    Notes
    -----
    The greatest current there can be. In a running engine the winding holds it back, the more the faster.

    Examples
    --------
    >>> coil_current_a(12.0, 1.5, 1.5)
    4.0

    References
    ----------
    Ohm's law; about 4 to 5 A for a coil on points: TM 9-8000.
    """
    above_zero("supply", supply_v, _HIGHEST_V, "V")
    within("coil", coil_ohm, _LEAST_OHM, _MOST_OHM, "ohm")
    within("ballast", ballast_ohm, 0.0, _MOST_OHM, "ohm")
    return supply_v / (coil_ohm + ballast_ohm)


def sparks_per_minute(crank_rpm: float, cylinders: int, *, strokes: int = 4) -> float:
    """Sparks one coil gives in a minute.

    Parameters
    ----------
    crank_rpm : float
        Crank speed, above 0 up to 12 000, [rpm]
    cylinders : int
        Cylinders on this coil, 1 to 12, [-]
    strokes : int, optional
        4 or 2, [-]

    Returns
    -------
    float
        Sparks, [1/min]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.

    Examples
    --------
    >>> sparks_per_minute(3000.0, 4)
    6000.0

    References
    ----------
    Geometry.
    """
    above_zero("crank speed", crank_rpm, 12_000.0, "rpm")
    return crank_rpm * 360.0 / spark_interval_deg(cylinders, strokes=strokes)


def _run_coil_current(
    *,
    supply_v: float,
    coil_ohm: float,
    ballast_ohm: float = 0.0,
    coil_rated_v: float | None = None,
    limit_a: float | None = None,
) -> Worked:
    amps = coil_current_a(supply_v, coil_ohm, ballast_ohm)
    at_coil_v, at_ballast_v = amps * coil_ohm, amps * ballast_ohm
    coil_w, ballast_w = amps * at_coil_v, amps * at_ballast_v
    verdict, cautions = "", ["Resistance rises as coil and ballast warm: measure cold, expect less hot."]
    if limit_a is not None:
        over = amps > limit_a
        verdict = (
            f"{figure(amps, 1)} A is {'above' if over else 'within'} the limit of {trimmed(limit_a, 2)} A"
        )
        if over:
            cautions.append("Too much current burns the points and cooks the coil: a ballast may be missing.")
    if coil_rated_v is not None and at_coil_v > 1.25 * coil_rated_v:
        cautions.append(
            f"{figure(at_coil_v, 1)} V across a coil made for {trimmed(coil_rated_v, 1)} V: it will overheat."
        )
    return Worked(
        results=(
            Result("current_a", "current, points closed", amps, "A", f"{figure(amps, 2)} A"),
            Result("coil_v", "across the coil", at_coil_v, "V", f"{figure(at_coil_v, 1)} V"),
            Result("ballast_v", "across the ballast", at_ballast_v, "V", f"{figure(at_ballast_v, 1)} V"),
            Result("coil_w", "heat in the coil", coil_w, "W", f"{figure(coil_w, 0)} W"),
            Result("ballast_w", "heat in the ballast", ballast_w, "W", f"{figure(ballast_w, 0)} W"),
        ),
        steps=(
            f"{trimmed(supply_v, 2)} V / {trimmed(coil_ohm + ballast_ohm, 3)} ohm = {figure(amps, 2)} A",
            f"across the coil {figure(amps, 2)} x {trimmed(coil_ohm, 3)} = {figure(at_coil_v, 1)} V",
        ),
        cautions=tuple(cautions),
        verdict=verdict,
    )


def _run_spark_interval(
    *,
    cylinders: int | None = None,
    firing_order: str | None = None,
    strokes: str = "4",
    crank_rpm: float | None = None,
) -> Worked:
    order = parse_order(firing_order) if firing_order is not None else None
    count = cylinders if cylinders is not None else len(order or ())
    if not count:
        raise BadInput("neither cylinders nor firing order given", hint="give one of them")
    if order and len(order) != count:
        raise BadInput(f"firing order {order_text(order)} is not for {count} cylinders")
    cycle_strokes = int(strokes)
    crank = spark_interval_deg(count, strokes=cycle_strokes)
    cycle = 180 * cycle_strokes
    results = [
        Result("interval_deg", "spark interval", crank, "deg_crank", f"{trimmed(crank, 2)}° of the crank")
    ]
    steps = [f"{cycle} / {count} cylinders = {trimmed(crank, 2)}° of the crank"]
    if cycle_strokes == 4:  # noqa: PLR2004 - only then is there a half-speed distributor
        results.append(
            Result(
                "distributor_deg", "at the distributor", crank / 2, "deg_dist", f"{trimmed(crank / 2, 2)}°"
            )
        )
        steps.append(f"half of it at the distributor: {trimmed(crank / 2, 2)}°")
    if order:
        angles = tuple(firing_angle_deg(order, cylinder) * cycle_strokes / 4 for cylinder in order)
        text = ", ".join(f"No. {c} at {trimmed(a, 1)}°" for c, a in zip(order, angles, strict=True))
        results.append(Result("angles_deg", "firing after No. 1", angles, "deg_crank", text))
    if crank_rpm is not None:
        rate = sparks_per_minute(crank_rpm, count, strokes=cycle_strokes)
        results.append(Result("sparks_per_min", "sparks a minute", rate, "", f"{figure(rate, 0)} a minute"))
    return Worked(
        tuple(results),
        tuple(steps),
        ("Evenly firing engines only: narrow vees and some twins fire at uneven intervals.",),
    )


def _ohm(name: str, label: str, low: float, *, required: bool = True) -> Input:
    default = None if required else 0.0
    return Input(
        name,
        label,
        quantity="resistance",
        unit="ohm",
        low=low,
        high=_MOST_OHM,
        default=default,
        required=required,
    )


COIL_CURRENT = Working(
    name="coil-current",
    title="Coil and ballast current",
    subject="ignition",
    inputs=(
        Input("supply_v", "Voltage at the switch", quantity="voltage", unit="V", low=1.0, high=_HIGHEST_V),
        _ohm("coil_ohm", "Coil primary", _LEAST_OHM),
        _ohm("ballast_ohm", "Ballast", 0.0, required=False),
        Input(
            "coil_rated_v",
            "Coil made for",
            quantity="voltage",
            unit="V",
            low=1.0,
            high=_HIGHEST_V,
            required=False,
        ),
        Input("limit_a", "Limit", quantity="current", unit="A", low=0.1, high=50.0, required=False),
    ),
    run=_run_coil_current,
    source="Ohm's law; about 4 to 5 A printed in TM 9-8000",
    good_for="points closed, engine at rest; a running engine draws less",
    cautions=(
        "Do not leave the ignition on with the points closed: coil and ballast get hot enough to burn.",
        "High tension: keep hands and tools off the leads and the coil while the ignition is on.",
    ),
)

SPARK_INTERVAL = Working(
    name="spark-interval",
    title="Spark interval",
    subject="ignition",
    inputs=(
        Input("cylinders", "Cylinders", "whole", quantity="count", low=1, high=12, required=False),
        Input("firing_order", "or the firing order", "text", required=False, help="1-3-4-2"),
        Input("strokes", "Strokes", "choice", default="4", required=False, choices=("4", "2")),
        Input(
            "crank_rpm",
            "Crank speed",
            quantity="rotation",
            unit="rpm",
            low=1.0,
            high=12_000.0,
            required=False,
        ),
    ),
    run=_run_spark_interval,
    source="geometry",
    good_for="evenly firing engines of 1 to 12 cylinders",
)

WORKINGS = (COIL_CURRENT, SPARK_INTERVAL)
