"""Gap, dwell and timing: which way one goes when another was touched, told as a trend.

How far the dwell moves for a hundredth of gap depends on the cam and the heel, so it is never worked out
from the gap; how far the timing moves follows from the dwell, where the lobe is symmetric.
"""

from typing import Literal

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.ignition import GAP_DWELL_TIMING, HIGH_TENSION, distributor_to_crank
from shopcli.workings.say import figure, within

Trend = Literal["up", "down", "same"]
_GAP_WORDS: dict[Trend, str] = {
    "up": "gap opened up: dwell falls, the points open earlier, the timing advances",
    "down": "gap closed up: dwell rises, the points open later, the timing retards",
    "same": "gap unchanged: dwell and timing should not have moved",
}
_TIMING_WORDS: dict[Trend, str] = {
    "up": "timing retarded",
    "down": "timing advanced",
    "same": "timing unchanged",
}
_OPPOSITE: dict[Trend, Trend] = {"up": "down", "down": "up", "same": "same"}


def timing_shift_deg(dwell_change_deg: float) -> float:
    """How far the timing moves when the dwell changes, points on a symmetric lobe.

    Parameters
    ----------
    dwell_change_deg : float
        Dwell after less dwell before, -90 to 90, [distributor deg]

    Returns
    -------
    float
        Later spark positive (retard), earlier negative (advance), [crank deg]

    Raises
    ------
    OutOfRange
        If the change is beyond 90 degrees.

    Notes
    -----
    Half of the change falls on the closing edge and half on the opening edge; the opening edge makes the
    spark, and its half counts double at the crank. Exact only where both flanks of the lobe are alike.

    Examples
    --------
    >>> timing_shift_deg(2.0), timing_shift_deg(-3.0)
    (2.0, -3.0)

    References
    ----------
    Common practice, no source.
    """
    within("dwell change", dwell_change_deg, -90.0, 90.0, "deg")
    return distributor_to_crank(dwell_change_deg / 2.0)


def trend(change: float) -> Trend:
    """Which way a change goes.

    Parameters
    ----------
    change : float
        After less before, [any unit]

    Returns
    -------
    {"up", "down", "same"}
        The way.

    Examples
    --------
    >>> trend(0.05), trend(-2.0), trend(0.0)
    ('up', 'down', 'same')
    """
    return "same" if not change else "up" if change > 0 else "down"


def _change(before: float | None, after: float | None, what: str) -> float | None:
    if (before is None) != (after is None):
        raise BadInput(f"{what} before or after is missing", hint="give both or neither")
    # Readings have few decimals; their difference must not keep the dust of binary subtraction.
    return None if before is None or after is None else round(after - before, 9)


def _from_gap(change: float) -> tuple[list[Result], list[str], str]:
    way = trend(change)
    result = Result("gap_change_mm", "gap change", change, "mm", f"{figure(change, 2)} mm")
    return (
        [result],
        [_GAP_WORDS[way]],
        f"trend: {_TIMING_WORDS[_OPPOSITE[way]]}, by how much the gap cannot tell",
    )


def _from_dwell(change: float, *, symmetric: bool) -> tuple[list[Result], list[str], str]:
    words = _TIMING_WORDS[trend(change)]
    results = [Result("dwell_change_deg", "dwell change", change, "deg_dist", f"{figure(change, 1)}°")]
    if not symmetric:
        step = "flanks not alike: how much of the change falls on the opening edge is unknown"
        return results, [step], f"{words}, size unknown"
    shift = timing_shift_deg(change)
    if shift:
        words = f"{words} by about {figure(abs(shift), 1)}° at the crank"
    results.append(Result("shift_deg", "timing shift, later positive", shift, "deg_crank", words))
    return (
        results,
        [f"half of {figure(change, 1)}° moves the opening edge, and counts double at the crank"],
        words,
    )


def _run_gap_and_dwell(
    *,
    gap_before_mm: float | None = None,
    gap_after_mm: float | None = None,
    dwell_before_deg: float | None = None,
    dwell_after_deg: float | None = None,
    symmetric_lobe: bool = True,
) -> Worked:
    gap = _change(gap_before_mm, gap_after_mm, "gap")
    dwell = _change(dwell_before_deg, dwell_after_deg, "dwell")
    results: list[Result] = []
    steps: list[str] = []
    verdict = ""
    if gap is not None:
        results, steps, verdict = _from_gap(gap)
    if dwell is not None:
        more, further, verdict = _from_dwell(dwell, symmetric=symmetric_lobe)
        results, steps = results + more, steps + further
    if not results:
        raise BadInput("neither gap nor dwell given", hint="give a before and an after of at least one")
    if gap is not None and dwell is not None and _OPPOSITE[trend(gap)] != trend(dwell):
        verdict = "gap and dwell do not agree: look for a worn heel, a loose plate or shaft, or a misread gap"
    cautions = (GAP_DWELL_TIMING, "A trend, not a setting: dwell by the meter, timing by the lamp.")
    return Worked(tuple(results), tuple(steps), cautions, verdict)


def _gap(name: str, label: str) -> Input:
    return Input(name, label, quantity="length", unit="mm", low=0.0, high=2.0, required=False)


def _dwell(name: str, label: str) -> Input:
    return Input(
        name, label, quantity="distributor angle", unit="deg_dist", low=0.0, high=360.0, required=False
    )


GAP_AND_DWELL = Working(
    name="gap-and-dwell",
    title="What a change of points gap or dwell does to the timing",
    subject="ignition",
    inputs=(
        _gap("gap_before_mm", "Gap before"),
        _gap("gap_after_mm", "Gap after"),
        _dwell("dwell_before_deg", "Dwell before"),
        _dwell("dwell_after_deg", "Dwell after"),
        Input("symmetric_lobe", "Lobe flanks alike", "yesno", default=True, required=False, help="most are"),
    ),
    run=_run_gap_and_dwell,
    source="common practice, no source; the size is exact only for lobes with both flanks alike",
    good_for="which way the timing goes, and how far after a measured change of dwell",
    cautions=(HIGH_TENSION,),
)

WORKINGS = (GAP_AND_DWELL,)
