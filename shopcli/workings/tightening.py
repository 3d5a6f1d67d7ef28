"""Tightening in order and in stages, with the numbered picture to hang beside the job."""

from itertools import accumulate, pairwise

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import above_zero, figure, listed, within
from shopcli.workings.telling import say
from shopcli.workings.torque_patterns import (
    MOST_COLUMNS,
    MOST_ON_RING,
    MOST_ROWS,
    centre_out,
    cover_picture,
    cross_order,
    head_picture,
    ring_picture,
    star_order,
)

PATTERNS = ("head", "round flange", "cover", "wheel or drum")
_RINGS = ("round flange", "wheel or drum")
MOST_STAGES = 6
MOST_ANGLE = 360
WHEEL_CAUTIONS = (
    "Wheel nuts: seat them lightly with the wheel off the ground, tighten with the car on its wheels.",
    "Hand-tight nuts hold no wheel: the car does not move until the torque wrench has been round.",
)


def stage_torques(torque_nm: float, stages: int, step_nm: float = 1.0) -> tuple[float, ...]:
    """Torques of equal stages up to the full torque.

    Parameters
    ----------
    torque_nm : float
        Full torque, up to 2000, [N*m]
    stages : int
        Number of stages, 1 to 6, [-]
    step_nm : float, optional
        Graduation the stages before the last are rounded down to, [N*m]

    Returns
    -------
    tuple of float
        Torques, rising, the last the full torque, [N*m]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.
    BadInput
        If the torque is too small to be divided so.

    Notes
    -----
    Thirds are common practice, no source; a handbook's own stages come first.

    Examples
    --------
    >>> stage_torques(60.0, 3)
    (20.0, 40.0, 60.0)
    """
    above_zero("torque_nm", torque_nm, 2000, "Nm")
    within("stages", stages, 1, MOST_STAGES)
    above_zero("step_nm", step_nm, 50, "Nm")
    early = [int(torque_nm * n / stages / step_nm + 1e-9) * step_nm for n in range(1, stages)]
    made = (*early, torque_nm)
    if early and (early[0] <= 0 or any(b <= a for a, b in pairwise(made))):
        raise BadInput(
            f"{figure(torque_nm, 1)} Nm cannot be divided in {stages} stages", hint="Use fewer stages."
        )
    return made


def total_angle(angles_deg: tuple[float, ...]) -> float:
    """Total turn of several angle stages.

    Parameters
    ----------
    angles_deg : tuple of float
        Angles, each above 0 to 360, at most six, [deg]

    Returns
    -------
    float
        Total, [deg]

    Raises
    ------
    OutOfRange
        If an angle is not above 0 and up to 360.
    BadInput
        If there are more than six.

    Examples
    --------
    >>> total_angle((45.0, 45.0, 45.0))
    135.0

    References
    ----------
    .. [1] TM 10-4320-315-24 Table 3-4: head 30 N.m and three times 45 deg.
    """
    if len(angles_deg) > MOST_STAGES:
        raise BadInput(f"{len(angles_deg)} angle stages", hint=f"At most {MOST_STAGES}.")
    for angle in angles_deg:
        above_zero("angle", angle, MOST_ANGLE, "deg")
    return float(sum(angles_deg))


def _stage_steps(
    torque_nm: float | None, stages: int, angles_deg: tuple[float, ...], step_nm: float = 1.0
) -> list[str]:
    steps = []
    if torque_nm is not None:
        for number, torque in enumerate(stage_torques(torque_nm, stages, step_nm), start=1):
            steps.append(f"Round {number}: all of them to {say(torque, 'Nm', 1, trim=True)}.")
    totals = list(accumulate(angles_deg))
    for angle, total in zip(angles_deg, totals, strict=True):
        turned = say(angle, "deg", 0)
        steps.append(f"Then all of them {turned} further ({say(total, 'deg', 0)} in all).")
    return steps


def _whole(name: str, value: int | None, low: int, high: int) -> int:
    if value is None:
        raise BadInput(f"{name} is needed for this pattern", hint=f"Give {name}, {low} to {high}.")
    return int(within(name, value, low, high))


def _drawn(
    pattern: str, count: int | None, rows: int | None, columns: int | None, *, plain: bool
) -> tuple[tuple[int, ...], str]:
    """Return order and picture of a pattern."""
    if pattern in _RINGS:
        number = _whole("count", count, 3, MOST_ON_RING)
        return star_order(number), ring_picture(number, ascii_only=plain)
    if pattern == "cover":
        across, along = _whole("rows", rows, 2, MOST_ROWS), _whole("columns", columns, 2, MOST_COLUMNS)
        return cross_order(across, along), cover_picture(across, along, ascii_only=plain)
    across, along = _whole("rows", rows, 1, MOST_ROWS), _whole("columns", columns, 1, MOST_COLUMNS)
    return centre_out(across, along), head_picture(across, along, ascii_only=plain)


def _tightening_order(
    *,
    pattern: str,
    count: int | None = None,
    rows: int | None = None,
    columns: int | None = None,
    torque_nm: float | None = None,
    stages: int = 3,
    angles_deg: tuple[float, ...] = (),
    ascii_only: bool = False,
) -> Worked:
    if pattern not in PATTERNS:
        raise BadInput(f"no pattern {pattern!r}", hint="One of: " + ", ".join(PATTERNS))
    order, picture = _drawn(pattern, count, rows, columns, plain=ascii_only)
    total_angle(angles_deg)
    counted = "clockwise from the top" if pattern in _RINGS else "as in the picture"
    steps = [
        f"The figure at each place is its turn; places are counted {counted}.",
        *_stage_steps(torque_nm, stages, angles_deg),
        "Every round goes through the whole order.",
        "To loosen: the same order backwards, a little at a time.",
    ]
    cautions = ["The handbook's own order and stages come first."]
    if angles_deg:
        cautions.append("Bolts tightened by angle are usually used once: look before they go back.")
    if pattern == "wheel or drum":
        cautions.extend(WHEEL_CAUTIONS)
    told = " ".join(str(place) for place in order)
    turns = tuple(sorted(range(1, len(order) + 1), key=lambda place: order[place - 1]))
    results = (
        Result("order", "Places in order", order, "", told),
        Result("turns", "Turn of each place", turns, "", listed(turns)),
    )
    return Worked(results, tuple(steps), tuple(cautions), f"{len(order)} fasteners: {told}", picture)


def _stages(
    torque_nm: float, stages: int = 3, angles_deg: tuple[float, ...] = (), step_nm: float = 1.0
) -> Worked:
    made = stage_torques(torque_nm, stages, step_nm)
    total = total_angle(angles_deg)
    told = ", ".join(say(t, "Nm", 1, trim=True) for t in made)
    results = [Result("torques_nm", "Stages", made, "Nm", told)]
    if angles_deg:
        results.append(Result("angle_deg", "Angle in all", total, "deg", say(total, "deg", 0)))
    cautions = ("The handbook's own stages come first.",)
    steps = tuple(_stage_steps(torque_nm, stages, angles_deg, step_nm))
    return Worked(tuple(results), steps, cautions, told)


_TORQUE = Input("torque_nm", "Full torque", "number", "torque", "Nm", 0.5, 2000)
_STAGES = Input("stages", "Stages", "whole", low=1, high=MOST_STAGES, default=3, required=False)
_ANGLES = Input("angles_deg", "Angle stages after it", "numbers", "angle", "deg", default=(), required=False)
_PRACTICE = "common practice, no source; stage sums TM 10-4320-315-24 Table 3-4"

WORKINGS: tuple[Working, ...] = (
    Working(
        "tightening-order",
        "Tightening order with picture",
        "fasteners",
        (
            Input("pattern", "What is tightened", "choice", choices=PATTERNS),
            Input("count", "Fasteners on the ring", "whole", low=3, high=MOST_ON_RING, required=False),
            Input("rows", "Rows", "whole", low=1, high=MOST_ROWS, required=False),
            Input("columns", "Fasteners in a row", "whole", low=1, high=MOST_COLUMNS, required=False),
            Input("torque_nm", "Full torque", "number", "torque", "Nm", 0.5, 2000, required=False),
            _STAGES,
            _ANGLES,
            Input("ascii_only", "Plain characters only", "yesno", default=False, required=False),
        ),
        _tightening_order,
        _PRACTICE,
        "even spacing; heads up to 6 x 12, rings of 3 to 24, covers by their rim",
        ("The handbook's own order and stages come first.",),
    ),
    Working(
        "stages",
        "Torque in stages, angles added up",
        "fasteners",
        (
            _TORQUE,
            _STAGES,
            _ANGLES,
            Input(
                "step_nm", "Graduation of the wrench", "number", "torque", "Nm", 0.1, 50, 1.0, required=False
            ),
        ),
        _stages,
        _PRACTICE,
        "equal stages rounded down to the graduation; 1 to 6 torque stages and up to 6 angles",
    ),
)
