"""Valves with bucket shims: as found, as wanted, and the shim that gets from one to the other.

A thicker shim makes less clearance. Everything is counted in whole steps of 0.0001 mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.say import in_mm, in_tenths, spread_over, within

MOST_VALVES = 48
THICKEST_MM = 10.0
WIDEST_MM = 3.0
NO_GAP_HINT = "no gap at all hides how tight it is: fit a thinner shim first and measure again"


@dataclass(frozen=True, slots=True)
class BucketValve:
    """One valve as found and as wanted, lengths in 0.0001 mm."""

    name: str
    measured: int
    old: int
    low: int
    high: int
    wanted: int

    def after(self, shim: int) -> int:
        """Clearance with another shim, [0.0001 mm]."""
        return self.measured - (shim - self.old)

    def takes(self, shim: int) -> bool:
        """Whether that shim leaves the clearance within the limits."""
        return self.low <= self.after(shim) <= self.high


@dataclass(frozen=True, slots=True)
class Stock:
    """Shims that can be bought: from, to and step in 0.0001 mm."""

    thinnest: int
    thickest: int
    step: int

    @classmethod
    def of(cls, from_mm: float, to_mm: float, step_mm: float) -> "Stock":
        """Stock sizes from millimetres.

        Parameters
        ----------
        from_mm, to_mm, step_mm : float
            Thinnest, thickest and step, up to 10, [mm]

        Returns
        -------
        Stock
            The sizes.

        Raises
        ------
        OutOfRange
            If the step is nothing or the ends do not rise.

        Examples
        --------
        >>> Stock.of(2.0, 2.1, 0.05).sizes()
        (20000, 20500, 21000)
        """
        step = in_tenths("step", within("step", step_mm, 0.001, 1.0, "mm"))
        low = in_tenths("stock from", within("stock from", from_mm, 0.0, THICKEST_MM, "mm"))
        return cls(low, in_tenths("stock to", within("stock to", to_mm, from_mm, THICKEST_MM, "mm")), step)

    def sizes(self) -> tuple[int, ...]:
        """All sizes, thinnest first, [0.0001 mm]."""
        return tuple(range(self.thinnest, self.thickest + 1, self.step))


def needed_shim_mm(old_mm: float, measured_mm: float, wanted_mm: float) -> float:
    """Shim that would give the wanted clearance exactly.

    Parameters
    ----------
    old_mm : float
        Shim in place, as measured, [mm]
    measured_mm : float
        Clearance found, above 0, [mm]
    wanted_mm : float
        Clearance wanted, [mm]

    Returns
    -------
    float
        Shim thickness, [mm]

    Raises
    ------
    OutOfRange
        If there was no clearance: how tight the valve is cannot be known then.

    Notes
    -----
    Shim between cam and bucket, or under the bucket: thicker makes less clearance. Not for shims under a
    rocker post, which work the other way.

    Examples
    --------
    >>> needed_shim_mm(2.40, 0.33, 0.20)
    2.53

    References
    ----------
    Published bucket-shim formula with 0.02 mm steps.
    """
    if not measured_mm > 0:
        raise OutOfRange("clearance found", measured_mm, "above 0 mm", hint=NO_GAP_HINT)
    return in_mm(
        in_tenths("old", old_mm) + in_tenths("measured", measured_mm) - in_tenths("wanted", wanted_mm)
    )


def clearance_after_mm(measured_mm: float, old_mm: float, new_mm: float) -> float:
    """Clearance to expect with another shim.

    Parameters
    ----------
    measured_mm : float
        Clearance found, [mm]
    old_mm, new_mm : float
        Shim in place, and the other one, [mm]

    Returns
    -------
    float
        Clearance; below zero where the valve would be held open, [mm]

    Examples
    --------
    >>> clearance_after_mm(0.33, 2.40, 2.52)
    0.21

    References
    ----------
    Geometry.
    """
    return in_mm(in_tenths("measured", measured_mm) - in_tenths("new", new_mm) + in_tenths("old", old_mm))


def stock_shim(valve: BucketValve, stock: Stock, *, lean_larger: bool = True) -> int | None:
    """Stock shim for a valve.

    Parameters
    ----------
    valve : BucketValve
        As found and as wanted.
    stock : Stock
        Sizes that can be bought.
    lean_larger : bool, optional
        Between two that will do, prefer the one that leaves the clearance at or above the wanted one.

    Returns
    -------
    int or None
        Thickness in 0.0001 mm; None when none leaves the clearance within the limits.

    Notes
    -----
    Valves that wear into their seats close up, so the larger clearance lasts longer.

    Examples
    --------
    >>> stock_shim(BucketValve("E1", 3300, 24000, 1500, 2500, 2000), Stock.of(2.0, 3.0, 0.02))
    25200

    References
    ----------
    Odd sizes taken 0.01 mm smaller: published bucket-shim formula with 0.02 mm steps.
    """
    exact = valve.old + valve.measured - valve.wanted
    fitting = [shim for shim in stock.sizes() if valve.takes(shim)]
    return min(
        fitting, key=lambda shim: (lean_larger and shim > exact, abs(shim - exact), shim), default=None
    )


def valve_names(text: str | None, count: int) -> tuple[str, ...]:
    """Names of the valves, given or made up by counting.

    Parameters
    ----------
    text : str or None
        Names with blanks or commas between them, e.g. "I1 E1 I2 E2".
    count : int
        How many valves there are, 1 to 48, [-]

    Returns
    -------
    tuple of str
        One name each.

    Raises
    ------
    BadInput
        If there is not one name for each valve, or a name stands twice.

    Examples
    --------
    >>> valve_names("I1, E1", 2), valve_names(None, 2)
    (('I1', 'E1'), ('V1', 'V2'))
    """
    if not 0 < count <= MOST_VALVES:
        raise BadInput(f"{count} valves", hint=f"1 to {MOST_VALVES}")
    if text is None:
        return tuple(f"V{number}" for number in range(1, count + 1))
    names = tuple(text.replace(",", " ").split())
    if len(names) != count or len(set(names)) != count:
        raise BadInput(
            f"{len(set(names))} different names for {count} valves", hint="one name for each valve"
        )
    return names


def read_valves(
    *,
    names: str | None,
    measured_mm: Sequence[float],
    old_mm: Sequence[float],
    low_mm: Sequence[float],
    high_mm: Sequence[float],
    wanted_mm: Sequence[float] = (),
) -> tuple[BucketValve, ...]:
    """Valves from columns of figures.

    Parameters
    ----------
    names : str or None
        Names of the valves.
    measured_mm, old_mm : sequence of float
        Clearance found and shim in place, one for each valve, [mm]
    low_mm, high_mm, wanted_mm : sequence of float
        Limits and wanted clearance, one for each valve or one for all; wanted is the middle when empty, [mm]

    Returns
    -------
    tuple of BucketValve
        In the order given.

    Raises
    ------
    BadInput
        If the columns are not equally long, or wanted is outside the limits.
    OutOfRange
        If a clearance is zero, or a figure is outside its range.

    Examples
    --------
    >>> read_valves(names="E1", measured_mm=[0.33], old_mm=[2.4], low_mm=[0.15], high_mm=[0.25])
    (BucketValve(name='E1', measured=3300, old=24000, low=1500, high=2500, wanted=2000),)
    """
    count = len(measured_mm)
    labels = valve_names(names, count)
    if len(old_mm) != count:
        raise BadInput(f"{len(old_mm)} shims for {count} clearances", hint="one shim for each valve")
    lows, highs = spread_over("low_mm", low_mm, count), spread_over("high_mm", high_mm, count)
    middles = [(low + high) / 2.0 for low, high in zip(lows, highs, strict=True)]
    wants = spread_over("wanted_mm", wanted_mm, count) if wanted_mm else tuple(middles)
    valves = []
    for label, gap, old, low, high, want in zip(labels, measured_mm, old_mm, lows, highs, wants, strict=True):
        within(f"{label}: clearance found", gap, 0.0001, WIDEST_MM, "mm", hint=NO_GAP_HINT)
        within(f"{label}: shim", old, 0.1, THICKEST_MM, "mm")
        within(f"{label}: limits", low, 0.0, high, "mm")
        within(f"{label}: limits", high, low, WIDEST_MM, "mm")
        within(f"{label}: wanted", want, low, high, "mm")
        valves.append(BucketValve(label, *(in_tenths(label, each) for each in (gap, old, low, high, want))))
    return tuple(valves)
