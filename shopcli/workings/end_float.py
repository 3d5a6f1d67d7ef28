"""End float by shims: which pieces of the stock make the pack that leaves the wanted float.

A thicker pack takes float away in one place and adds it in another; which it is here is asked, never assumed.
"""

from shopcli.errors import OutOfRange
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import trimmed
from shopcli.workings.shim_packs import (
    FILLS,
    MICROMETRES,
    MOST_PIECES,
    SPREADS,
    Pack,
    best_pack,
    float_after_um,
    micrometres,
    wanted_pack_um,
)
from shopcli.workings.telling import say, words


def _mm(value_um: int) -> str:
    return say(value_um / MICROMETRES, "mm", 3, trim=True)


def _pack_words(pack: Pack) -> str:
    if not pack.pieces_um:
        return "no shim at all"
    pieces = " + ".join(trimmed(p / MICROMETRES, 3) for p in pack.pieces_um)
    return pieces + (f" = {_mm(pack.total_um)}" if len(pack.pieces_um) > 1 else " mm")


def _pack_limits(wanted: int, target: int, low: int | None, high: int | None, sense: str) -> tuple[int, int]:
    """Return the limits of the float as limits of the pack."""
    low_float = target if low is None else low
    high_float = target if high is None else high
    if not low_float <= target <= high_float:
        raise OutOfRange("wanted float", target / MICROMETRES, f"{_mm(low_float)} to {_mm(high_float)}")
    slack, tight = high_float - target, target - low_float
    return (wanted - slack, wanted + tight) if sense == FILLS else (wanted - tight, wanted + slack)


def _verdict(chosen: Pack, after: int, target: int, *, inside: bool, limited: bool) -> str:
    if after < 0:
        return f"{_pack_words(chosen)} would bind by {_mm(-after)}: the stock does not reach."
    if inside:
        return f"Fit {_pack_words(chosen)}: float {_mm(after)}."
    if not limited:
        return f"Fit {_pack_words(chosen)}: float {_mm(after)}, {_mm(abs(after - target))} off the wanted."
    return f"No pack meets the limits; the nearest, {_pack_words(chosen)}, leaves {_mm(after)}."


def _end_float_shims(
    *,
    pack_mm: float,
    measured_mm: float,
    wanted_mm: float,
    sense: str,
    stock_mm: tuple[float, ...],
    low_mm: float | None = None,
    high_mm: float | None = None,
    pieces: int = 3,
    have: tuple[int, ...] = (),
) -> Worked:
    pack, measured = micrometres("pack_mm", pack_mm), micrometres("measured_mm", measured_mm)
    target = micrometres("wanted_mm", wanted_mm)
    wanted = wanted_pack_um(pack, measured, target, sense)
    low = None if low_mm is None else micrometres("low_mm", low_mm)
    high = None if high_mm is None else micrometres("high_mm", high_mm)
    pack_low, pack_high = _pack_limits(wanted, target, low, high, sense)
    stock = tuple(micrometres("stock_mm", size, low_mm=0.001) for size in stock_mm)
    chosen = best_pack(stock, wanted, pieces, low_um=pack_low, high_um=pack_high, have=have)
    after = float_after_um(pack, chosen.total_um, measured, sense)
    sign = "+" if sense == FILLS else "-"
    steps = (
        f"Here {sense}.",
        f"Wanted pack = {_mm(pack)} {sign} ({_mm(measured)} - {_mm(target)}) = {_mm(wanted)}.",
        f"Nearest from the stock: {_pack_words(chosen)}.",
        f"Float then: {_mm(after)}.",
    )
    cautions = [
        "Measure each shim: the figure etched on it is not proof.",
        "Measure the float again with the pack in.",
    ]
    inside = pack_low <= chosen.total_um <= pack_high
    verdict = _verdict(chosen, after, target, inside=inside, limited=low is not None or high is not None)
    results = (
        Result("pack_mm", "New pack", chosen.total_um / MICROMETRES, "mm", _pack_words(chosen)),
        Result(
            "pieces_mm",
            "Pieces",
            tuple(p / MICROMETRES for p in chosen.pieces_um),
            "mm",
            _pack_words(chosen),
        ),
        Result("float_mm", "Float then", after / MICROMETRES, "mm", _mm(after)),
        words("exact", "Exact pack", _mm(wanted)),
    )
    return Worked(results, steps, tuple(cautions), verdict)


def _length(name: str, label: str, *, required: bool = True) -> Input:
    return Input(name, label, "number", "length", "mm", 0, 20, required=required)


WORKINGS: tuple[Working, ...] = (
    Working(
        "end-float-shims",
        "End float: shims to fit",
        "shims",
        (
            _length("pack_mm", "Pack fitted now"),
            _length("measured_mm", "Float measured with it"),
            _length("wanted_mm", "Wanted float"),
            Input("sense", "Which way the pack acts", "choice", choices=(FILLS, SPREADS)),
            Input("stock_mm", "Thicknesses in stock", "numbers", "length", "mm"),
            _length("low_mm", "Least float", required=False),
            _length("high_mm", "Most float", required=False),
            Input("pieces", "Most pieces", "whole", low=1, high=MOST_PIECES, default=3, required=False),
            Input("have", "How many of each", "numbers", default=(), required=False),
        ),
        _end_float_shims,
        "geometry; complete search over the stock",
        "up to 30 thicknesses and 4 pieces, in whole micrometres",
    ),
)
