"""What a reading does over the years: the line through its visits, and whether it goes one way at every one.

Two visits are a difference and no more; a line needs three. Nothing smaller than the tool can read counts.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import fsum

YEAR_DAYS = 365.25
FOR_A_LINE = 3
_DUST = 1e-9  # of the smallest mark: a difference of just one mark counts


@dataclass(frozen=True, slots=True)
class Trend:
    """Several visits in one look.

    Attributes
    ----------
    visits : int
        How many, [-]
    years : float
        From the first to the last, [year]
    change : float
        Last less first, [unit of the reading]
    per_year : float or None
        Slope of the line through all visits, from three on, [unit a year]
    way : int
        1 rising, -1 falling, 0 steady: it moved less than the tool can read.
    keeps : bool
        Whether it went that way at each of three visits or more, with no step back.
    """

    visits: int
    years: float
    change: float
    per_year: float | None
    way: int
    keeps: bool


def slope_per_year(days: Sequence[float], values: Sequence[float]) -> float | None:
    """Slope of the line of least squares.

    Parameters
    ----------
    days : sequence of float
        When each was read, from any day, [day]
    values : sequence of float
        What was read, one for each day, [any unit]

    Returns
    -------
    float or None
        Slope, None where all were read on one day, [unit a year]

    Examples
    --------
    >>> slope_per_year([0.0, 365.25, 730.5], [10.0, 8.0, 6.0])
    -2.0

    References
    ----------
    Method of least squares; held against the standard library's own in the tests.
    """
    middle_day, middle = fsum(days) / len(days), fsum(values) / len(values)
    spread = fsum((day - middle_day) ** 2 for day in days)
    if not spread:
        return None
    together = fsum((d - middle_day) * (v - middle) for d, v in zip(days, values, strict=True))
    return together / spread * YEAR_DAYS


def trend(days: Sequence[float], values: Sequence[float], least: float) -> Trend | None:
    """Look at a reading over its visits.

    Parameters
    ----------
    days : sequence of float
        When each was read, rising, [day]
    values : sequence of float
        What was read, one for each day, [any unit]
    least : float
        Smallest step the tool shows, above zero, [the same]

    Returns
    -------
    Trend or None
        None for fewer than two visits.

    Notes
    -----
    A line through readings that were set right in between tells what is found, not how fast it wears.

    Examples
    --------
    >>> found = trend([0, 365.25, 730.5], [0.30, 0.25, 0.20], 0.01)
    >>> found.way, round(found.per_year, 3), found.keeps
    (-1, -0.05, True)
    >>> trend([0, 400], [6.0, 6.0], 1.0).way
    0
    """
    if len(values) < 2:  # noqa: PLR2004 - one visit goes nowhere
        return None
    change = values[-1] - values[0]
    line = slope_per_year(days, values) if len(values) >= FOR_A_LINE else None
    years = (days[-1] - days[0]) / YEAR_DAYS
    told = change if line is None else line * years
    way = 0 if abs(told) < least * (1 - _DUST) else 1 if told > 0 else -1
    steps = [b - a for a, b in pairwise(values)]
    one_way = all(step * way >= least * (1 - _DUST) for step in steps)
    return Trend(
        len(values), years, change, line, way, keeps=bool(way) and len(values) >= FOR_A_LINE and one_way
    )
