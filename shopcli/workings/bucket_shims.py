"""Bucket shims: which shim brings each valve to its clearance, from the one in it now and the gap found."""

from collections.abc import Sequence

from shopcli.workings.bucket_valves import (
    THICKEST_MM,
    WIDEST_MM,
    BucketValve,
    Stock,
    read_valves,
    stock_shim,
)
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, in_mm, listed
from shopcli.workings.valves import ENGINE_OFF

LEANS = ("larger clearance", "nearest")
HOLDING_TOOL = "Keep fingers out of the bucket while a holding tool is in: it slips under spring load."
REMEASURE = (
    "Measure every shim with a micrometer: the etched size may be worn away or wrong.",
    "The gap found is only as good as the step between the blades: turn the engine over and measure again.",
)


def valve_results(valve: BucketValve, shim: int | None, whence: str) -> tuple[Result, Result]:
    """Shim and clearance of one valve as two results, named after the valve.

    Parameters
    ----------
    valve : BucketValve
        Which one.
    shim : int or None
        Shim to fit in 0.0001 mm, None when nothing will do.
    whence : str
        Where it comes from, in words.

    Returns
    -------
    tuple of Result
        `fit_...` and `after_...`, without a value when nothing will do.

    Examples
    --------
    >>> one = BucketValve("E1", 3300, 24000, 1500, 2500, 2000)
    >>> [result.text for result in valve_results(one, 25200, "new")]
    ['2.52 mm, new', '0.21 mm']
    """
    fit, after = f"fit_{valve.name}", f"after_{valve.name}"
    if shim is None:
        return (
            Result(fit, f"{valve.name}: shim", None, "mm", "nothing will do"),
            Result(after, f"{valve.name}: clearance after", None, "mm", "not known"),
        )
    size_mm, gap_mm = in_mm(shim), in_mm(valve.after(shim))
    return (
        Result(fit, f"{valve.name}: shim", size_mm, "mm", f"{figure(size_mm, 2)} mm, {whence}"),
        Result(after, f"{valve.name}: clearance after", gap_mm, "mm", f"{figure(gap_mm, 2)} mm"),
    )


def _row(valve: BucketValve, new: int | None) -> str:
    exact = figure(in_mm(valve.old + valve.measured - valve.wanted), 2)
    parts = (figure(in_mm(part), 2) for part in (valve.old, valve.measured, valve.wanted))
    sum_text = "{} + {} - {} = {}".format(*parts, exact)
    if new is None:
        return f"{valve.name}: {sum_text}: no stock shim leaves it within its limits"
    if new == valve.old:
        return f"{valve.name}: {figure(in_mm(valve.measured), 2)} found: keep the {figure(in_mm(new), 2)}"
    return (
        f"{valve.name}: {sum_text}: fit {figure(in_mm(new), 2)}, leaves {figure(in_mm(valve.after(new)), 2)}"
    )


def _run_bucket_shim(
    *,
    measured_mm: tuple[float, ...],
    old_mm: tuple[float, ...],
    low_mm: tuple[float, ...],
    high_mm: tuple[float, ...],
    stock_from_mm: float,
    stock_to_mm: float,
    step_mm: float,
    wanted_mm: tuple[float, ...] = (),
    valves: str | None = None,
    lean: str = "larger clearance",
    leave_good: bool = True,
) -> Worked:
    rows = read_valves(
        names=valves,
        measured_mm=measured_mm,
        old_mm=old_mm,
        low_mm=low_mm,
        high_mm=high_mm,
        wanted_mm=wanted_mm,
    )
    stock = Stock.of(stock_from_mm, stock_to_mm, step_mm)
    chosen = [
        row.old if leave_good and row.takes(row.old) else stock_shim(row, stock, lean_larger=lean == LEANS[0])
        for row in rows
    ]
    return _answer(rows, chosen)


def _answer(rows: Sequence[BucketValve], chosen: Sequence[int | None]) -> Worked:
    pairs = tuple(zip(rows, chosen, strict=True))
    changed = tuple(row.name for row, new in pairs if new not in (row.old, None))
    stuck = tuple(row.name for row, new in pairs if new is None)
    results = [
        result
        for row, new in pairs
        for result in valve_results(row, new, "in place" if new == row.old else "to fit")
    ]
    results.append(Result("changed", "valves to change", changed, "", listed(changed)))
    results.append(Result("stuck", "no stock shim will do", stuck, "", listed(stuck)))
    return Worked(
        results=tuple(results),
        steps=tuple(_row(row, new) for row, new in pairs),
        cautions=REMEASURE,
        verdict=f"change {listed(changed)}" + (f"; no stock shim for {listed(stuck)}" if stuck else ""),
    )


def _column(name: str, label: str, high: float, *, required: bool = True, help_text: str = "") -> Input:
    return Input(
        name,
        label,
        "numbers",
        quantity="length",
        unit="mm",
        low=0.0,
        high=high,
        required=required,
        help=help_text,
    )


def _size(name: str, label: str, high: float = THICKEST_MM) -> Input:
    return Input(name, label, quantity="length", unit="mm", low=0.0, high=high)


SHIM_INPUTS = (
    _column("measured_mm", "Clearance found, each valve", WIDEST_MM),
    _column("old_mm", "Shim in place, each valve", THICKEST_MM),
    _column("low_mm", "Low limit", WIDEST_MM, help_text="one for all, or one for each valve"),
    _column("high_mm", "High limit", WIDEST_MM, help_text="one for all, or one for each valve"),
    _column("wanted_mm", "Wanted", WIDEST_MM, required=False, help_text="the middle when left out"),
    _size("stock_from_mm", "Thinnest shim to be had"),
    _size("stock_to_mm", "Thickest shim to be had"),
    _size("step_mm", "Step between them", 1.0),
    Input("valves", "Names of the valves", "text", required=False, help="I1 E1 I2 E2 ..."),
)

BUCKET_SHIM = Working(
    name="bucket-shim",
    title="Bucket shims to fit",
    subject="valves",
    inputs=(
        *SHIM_INPUTS,
        Input("lean", "Between two that will do", "choice", default=LEANS[0], required=False, choices=LEANS),
        Input("leave_good", "Leave valves within limits alone", "yesno", default=True, required=False),
    ),
    run=_run_bucket_shim,
    source="published bucket-shim formula with 0.02 mm steps",
    good_for="shims on or under buckets, thicker making less clearance; up to 48 valves, gaps above zero",
    cautions=(ENGINE_OFF, HOLDING_TOOL),
)

WORKINGS = (BUCKET_SHIM,)
