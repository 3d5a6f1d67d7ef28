"""Limits in words: as printed in the sheet's own unit, and safely rounded in any other.

A limit converted for another tool is rounded inwards (the low one up, the high one down): whatever the
bench is shown as allowed must also be judged to be in.
"""

from decimal import Decimal

from shopcli.units.display import figure_in, marked, plain, rounded, with_label
from shopcli.units.kinds import from_canonical, unit_named
from shopcli.units.table import Unit

Triple = tuple[float | None, float | None, float | None]
_FINEST = 12


def as_printed(values: Triple, unit: str, step: float | None) -> str:
    """Say low, nominal, high in the unit they were printed in, all with the same decimals.

    Parameters
    ----------
    values : tuple of float or None
        Low, nominal, high, [canonical unit]
    unit : str
        Unit of the print.
    step : float or None
        Last printed digit, [canonical unit]; trailing zeros come back by it.
    """
    named = unit_named(unit)
    figures = _in_order(values, unit)
    digits = max(decimals_of(f) for f in figures if f is not None)
    if step is not None and not named.reciprocal:
        digits = max(digits, decimals_of(Decimal(format(step / named.factor, ".9g"))))
    if digits > named.decimals + 2:  # was never printed so: it came by conversion
        return converted(values, unit)
    return _sentence(tuple(None if f is None else rounded(f, digits) for f in figures), named)


def converted(values: Triple, unit: str) -> str:
    """Say low, nominal, high in another unit, rounded inwards to the tool's marks or, failing that, finer."""
    named = unit_named(unit)
    figures = _in_order(values, unit)
    ways = ("up", "nearest", "down")
    marks = tuple(None if f is None else marked(f, named, way) for f, way in zip(figures, ways, strict=True))
    if all((f is None) == (m is None) for f, m in zip(figures, marks, strict=True)) and _sensible(marks):
        digits = decimals_of(Decimal(str(named.graduation)))
        return _sentence(tuple(None if m is None else rounded(m, digits) for m in marks), named)
    for digits in range(named.decimals, _FINEST + 1):
        finer = tuple(
            None if f is None else rounded(f, digits, way) for f, way in zip(figures, ways, strict=True)
        )
        if _sensible(finer):
            break
    return _sentence(finer, named)


def difference(value: float, limit: float, unit: str) -> str:
    """Say how far a value is from a limit, in `unit`; never as nothing when it is something."""
    named = unit_named(unit)
    gap = abs(figure_in(value, unit) - figure_in(limit, unit))
    digits = named.decimals
    while digits < _FINEST and gap and not rounded(gap, digits):
        digits += 1
    return with_label(plain(rounded(gap, digits)), named)


def span(nominal: float, unit: str, figure: float) -> float:
    """Width of `figure` steps of `unit` around a nominal, [canonical unit]."""
    named = unit_named(unit)
    if not named.reciprocal:
        return figure * named.factor
    said = from_canonical(nominal, unit)
    return abs(nominal) * figure / said


def decimals_of(figure: Decimal) -> int:
    """Decimals needed to write the figure in full."""
    exponent = figure.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def _in_order(values: Triple, unit: str) -> tuple[Decimal | None, ...]:
    figures = tuple(None if v is None else figure_in(v, unit) for v in values)
    return figures[::-1] if unit_named(unit).reciprocal else figures


def _sensible(figures: tuple[Decimal | None, ...]) -> bool:
    given = [f for f in figures if f is not None]
    return given == sorted(given)


def _sentence(figures: tuple[Decimal | None, ...], unit: Unit) -> str:
    low, nominal, high = (None if f is None else plain(f, keep=True) for f in figures)
    aim = f", aim for {with_label(nominal, unit)}" if nominal is not None else ""
    if low is not None and high is not None:
        return with_label(low if low == high else f"{low} to {high}", unit) + aim
    if low is not None:
        return f"at least {with_label(low, unit)}{aim}"
    if high is not None:
        return f"at most {with_label(high, unit)}{aim}"
    return with_label(nominal or "", unit)
