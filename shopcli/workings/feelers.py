"""Feeler stacks: which blades of the sets a person owns make up a gap, and which make go and no-go.

Blades are added in whole steps of 0.0001 mm, in which a thou is 254 and a hundredth of a millimetre is 100,
so inch and metric blades mix in one stack without a rounding.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, in_mm, in_tenths, trimmed, within

TENTHS_IN_THOU = 254
MOST_BLADES_OWNED = 80
MOST_IN_STACK = 6
_THICKEST_MM = 10.0


@dataclass(frozen=True, slots=True)
class Blade:
    """One blade: its thickness in 0.0001 mm, and what is etched on it."""

    tenths: int
    label: str


@dataclass(frozen=True, slots=True)
class Stack:
    """Blades laid together, thickest first."""

    blades: tuple[Blade, ...]

    @property
    def tenths(self) -> int:
        """Thickness, [0.0001 mm]."""
        return sum(blade.tenths for blade in self.blades)

    @property
    def text(self) -> str:
        """Blades by their etched size."""
        return " + ".join(blade.label for blade in self.blades)


def owned_blades(inch_blades_thou: Iterable[float], metric_blades_mm: Iterable[float]) -> tuple[Blade, ...]:
    """Blades of both sets, thickest first; a size listed twice is there twice.

    Parameters
    ----------
    inch_blades_thou : iterable of float
        Blades of the inch set, [thou]
    metric_blades_mm : iterable of float
        Blades of the metric set, [mm]

    Returns
    -------
    tuple of Blade
        All of them.

    Raises
    ------
    BadInput
        If there is no blade at all, or more than 80.
    OutOfRange
        If a blade is thinner than 0.01 mm or thicker than 10 mm.

    Examples
    --------
    >>> [blade.label for blade in owned_blades([6], [0.15])]
    ['6 thou', '0.15 mm']

    References
    ----------
    1 thou = 0.0254 mm exactly: NIST SP 811 (2008), Appendix B.8.
    """
    blades = [Blade(round(size * TENTHS_IN_THOU), f"{trimmed(size)} thou") for size in inch_blades_thou]
    blades += [Blade(in_tenths("blade", size), f"{figure(size, 2)} mm") for size in metric_blades_mm]
    if not 0 < len(blades) <= MOST_BLADES_OWNED:
        raise BadInput(
            f"{len(blades)} blades", hint=f"list the blades you own, 1 to {MOST_BLADES_OWNED} of them"
        )
    for blade in blades:
        within(f"blade {blade.label}", in_mm(blade.tenths), 0.01, _THICKEST_MM, "mm")
    return tuple(sorted(blades, key=lambda blade: -blade.tenths))


def all_stacks(blades: tuple[Blade, ...], most_blades: int, thickest_tenths: int) -> tuple[Stack, ...]:
    """One stack for every thickness and number of blades that can be laid.

    Parameters
    ----------
    blades : tuple of Blade
        Blades owned; each is used once at most.
    most_blades : int
        Blades in a stack at most, 1 to 6, [-]
    thickest_tenths : int
        Thicker stacks are left out, [0.0001 mm]

    Returns
    -------
    tuple of Stack
        By number of blades, then by thickness.

    Raises
    ------
    OutOfRange
        If `most_blades` is outside 1 to 6.

    Examples
    --------
    >>> [stack.text for stack in all_stacks(owned_blades([2, 4], []), 2, 10_000)]
    ['2 thou', '4 thou', '4 thou + 2 thou']

    References
    ----------
    Counting.
    """
    if not 1 <= most_blades <= MOST_IN_STACK:
        raise OutOfRange("most_blades", most_blades, f"1 to {MOST_IN_STACK}")
    laid: list[dict[int, tuple[Blade, ...]]] = [{} for _ in range(most_blades + 1)]
    laid[0][0] = ()
    for blade in blades:
        for pieces in range(most_blades, 0, -1):  # downward, so that no blade is used twice
            for tenths, below in tuple(laid[pieces - 1].items()):
                if tenths + blade.tenths <= thickest_tenths:
                    laid[pieces].setdefault(tenths + blade.tenths, (*below, blade))
    return tuple(
        Stack(laid[pieces][tenths]) for pieces in range(1, most_blades + 1) for tenths in sorted(laid[pieces])
    )


def feel_error_mm(pieces: int, feel_mm: float = 0.005) -> float:
    """How far a gap may be from the stack that drags in it.

    Parameters
    ----------
    pieces : int
        Blades in the stack, [-]
    feel_mm : float, optional
        What one blade leaves to the fingers, 0 to 0.05, [mm]

    Returns
    -------
    float
        Either way, [mm]

    Raises
    ------
    OutOfRange
        If `feel_mm` is outside 0 to 0.05.

    Notes
    -----
    Counted once for each blade: every blade brings its own film of oil, its burr and its bend.

    Examples
    --------
    >>> feel_error_mm(2)
    0.01

    References
    ----------
    Common practice, no source.
    """
    return pieces * within("feel_mm", feel_mm, 0.0, 0.05, "mm")


def best_stack(
    stacks: Iterable[Stack], low_tenths: int, high_tenths: int, rank: Callable[[Stack], tuple[float, ...]]
) -> Stack | None:
    """Best of the stacks between two thicknesses, both included.

    Parameters
    ----------
    stacks : iterable of Stack
        What can be laid.
    low_tenths, high_tenths : int
        The ends, [0.0001 mm]
    rank : callable
        The least is the best; equal ranks go to the stack met first.

    Returns
    -------
    Stack or None
        None when no stack lies between.

    Examples
    --------
    >>> stacks = all_stacks(owned_blades([2, 3, 4], []), 2, 10_000)
    >>> best_stack(stacks, 1200, 1300, lambda stack: (len(stack.blades),)).text
    '3 thou + 2 thou'

    References
    ----------
    Counting.
    """
    fitting = [stack for stack in stacks if low_tenths <= stack.tenths <= high_tenths]
    return min(fitting, key=rank, default=None)


def _stack_result(name: str, label: str, stack: Stack | None, feel_mm: float) -> tuple[Result, ...]:
    if stack is None:
        return (Result(name, label, None, "mm", "no stack of these blades"),)
    size_mm, error_mm = in_mm(stack.tenths), feel_error_mm(len(stack.blades), feel_mm)
    sizes = f"{trimmed(size_mm)} mm, {trimmed(stack.tenths / TENTHS_IN_THOU, 1)} thou"
    text = f"{stack.text} = {sizes}" if len(stack.blades) > 1 else f"one blade, {sizes}"
    return (
        Result(name, label, size_mm, "mm", f"{text}, feel ±{trimmed(error_mm, 3)} mm"),
        Result(f"{name}_blades", f"{label}: blades", tuple(b.label for b in stack.blades), "", stack.text),
    )


def _verdict(setting: Stack | None, nearest: Stack, gap: int, most_blades: int) -> str:
    if setting is None:
        off = figure(abs(in_mm(nearest.tenths - gap)), 4)
        return (
            f"no stack of up to {most_blades} within the limits; nearest is {nearest.text}, off by {off} mm"
        )
    off_mm = in_mm(setting.tenths - gap)
    if not off_mm:
        return f"set to {setting.text}: the gap exactly"
    return f"set to {setting.text}: {figure(abs(off_mm), 4)} mm {'over' if off_mm > 0 else 'under'} the gap"


def _run_feeler_stack(
    *,
    gap_mm: float,
    low_mm: float | None = None,
    high_mm: float | None = None,
    inch_blades_thou: tuple[float, ...] = (),
    metric_blades_mm: tuple[float, ...] = (),
    most_blades: int = 3,
    tolerance_mm: float = 0.01,
    feel_mm: float = 0.005,
) -> Worked:
    gap = in_tenths("gap", gap_mm)
    low = in_tenths("low", low_mm) if low_mm is not None else gap - in_tenths("tolerance", tolerance_mm)
    high = in_tenths("high", high_mm) if high_mm is not None else gap + in_tenths("tolerance", tolerance_mm)
    if not low <= gap <= high:
        raise BadInput(f"gap {trimmed(gap_mm)} mm is not between its limits", hint="low, gap, high must rise")
    blades = owned_blades(inch_blades_thou, metric_blades_mm)
    stacks = all_stacks(blades, most_blades, high + blades[0].tenths)
    feel = in_tenths("feel", feel_mm)
    setting = best_stack(stacks, low, high, lambda s: (len(s.blades), abs(s.tenths - gap)))
    go = best_stack(stacks, low, gap, lambda s: (s.tenths - low + feel * len(s.blades), len(s.blades)))
    no_go = best_stack(
        stacks, gap + 1, high, lambda s: (high - s.tenths + feel * len(s.blades), len(s.blades))
    )
    nearest = min(stacks, key=lambda s: (abs(s.tenths - gap), len(s.blades)))
    return Worked(
        results=(
            *_stack_result("setting", "setting stack", setting, feel_mm),
            *_stack_result("go", "go: must slide in", go, feel_mm),
            *_stack_result("no_go", "no-go: must not enter", no_go, feel_mm),
        ),
        steps=(
            f"gap {trimmed(gap_mm)} mm, limits {trimmed(in_mm(low))} to {trimmed(in_mm(high))} mm",
            f"{len(blades)} blades give {len(stacks)} stacks of up to {most_blades}, counted in 0.0001 mm",
            "setting: fewest blades within the limits, then nearest to the gap",
            "go: not thinner than the low limit; no-go: not thicker than the high one",
            "a further blade only where it gains more than its own feel",
        ),
        cautions=("Wipe the blades and lay the thin ones between thick ones; a bent blade reads thick.",),
        verdict=_verdict(setting, nearest, gap, most_blades),
    )


def _length(
    name: str,
    label: str,
    *,
    high: float,
    unit: str = "mm",
    kind: Literal["number", "numbers"] = "number",
    default: float | None = None,
) -> Input:
    return Input(
        name, label, kind, quantity="length", unit=unit, low=0.0, high=high, default=default, required=False
    )


FEELER_STACK = Working(
    name="feeler-stack",
    title="Feeler blades to stack for a gap",
    subject="conversions",
    inputs=(
        Input("gap_mm", "Gap wanted", quantity="length", unit="mm", low=0.01, high=_THICKEST_MM),
        _length("low_mm", "Low limit", high=_THICKEST_MM),
        _length("high_mm", "High limit", high=_THICKEST_MM),
        _length("inch_blades_thou", "Inch blades owned", kind="numbers", unit="thou", high=394.0),
        _length("metric_blades_mm", "Metric blades owned", kind="numbers", high=_THICKEST_MM),
        Input("most_blades", "Blades in a stack at most", "whole", low=1, high=6, default=3, required=False),
        _length("tolerance_mm", "Allowed either way where no limit is given", high=1.0, default=0.01),
        _length("feel_mm", "Feel of one blade", high=0.05, default=0.005),
    ),
    run=_run_feeler_stack,
    source="1 thou = 0.0254 mm exactly (NIST SP 811); feel per blade: common practice, no source",
    good_for="gaps from 0.01 to 10 mm and up to 80 blades",
    cautions=("Engine stopped and out of gear before a blade goes near a valve or the points.",),
)

WORKINGS = (FEELER_STACK,)
