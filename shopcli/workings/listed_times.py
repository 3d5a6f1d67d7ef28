"""Whether a job's listed time still fits: what was clocked against it, how far that scatters, and what to list instead.

A listed time is changed only when there are enough cases, when the middle of them is surely not where it is listed, and
when the change is worth the trouble.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.errors import OutOfRange
from shopcli.workings.estimates import at

ENOUGH = 8  # cases before anything is proposed: common practice, no source
SURE = 0.95
WORTH = 0.10  # the smallest change proposed: common practice, no source
LEAST_FACTOR, MOST_FACTOR = 0.25, 4.0
STEP = 20  # factors are proposed in twentieths: a time is not known more finely


@dataclass(frozen=True, slots=True)
class Against:
    """Actual over listed time of one job, [-].

    Attributes
    ----------
    cases : int
        How many jobs, [-]
    middle : float
        The median.
    low, high : float
        A quarter of the jobs stay below `low`, a quarter above `high`.
    surely_from, surely_to : float or None
        Between these the shop's true median lies in 95 of 100 such counts; None with too few cases.
    to : float or None
        The factor to list it at instead; None where it stays.
    """

    cases: int
    middle: float
    low: float
    high: float
    surely_from: float | None
    surely_to: float | None
    to: float | None


def median_between(cases: int, sure: float = SURE) -> int | None:
    """Return how many of the sorted cases are left off at either end so that the median lies between the rest.

    Parameters
    ----------
    cases : int
        How many cases, [-]
    sure : float, optional
        How sure it has to be, above 0 and below 1.

    Returns
    -------
    int or None
        0 leaves the least and the most themselves as ends; None where even these are not sure enough.

    Raises
    ------
    OutOfRange
        When `sure` is not between 0 and 1.

    Examples
    --------
    >>> median_between(5), median_between(6), median_between(10), median_between(20)
    (None, 0, 1, 5)

    Notes
    -----
    Each case lies below the true median with one half, whatever the distribution [1]_.

    References
    ----------
    .. [1] W. R. Thompson, On Confidence Ranges for the Median and Other Expectation Distributions for Populations of
       Unknown Distribution Form, Annals of Mathematical Statistics 7, 1936, pages 122 to 128.
    """
    if not 0 < sure < 1:
        raise OutOfRange("sure", sure, "above 0 and below 1")
    left, outside, ways = -1, 0, 1
    while left + 1 < cases - left - 1:
        outside += 2 * ways
        if outside / 2**cases > 1 - sure:
            break
        left += 1
        ways = ways * (cases - left) // (left + 1)  # so many of the cases from one fewer, exactly
    return left if left >= 0 else None


def against(ratios: Sequence[float], leaned: float | None = None) -> Against:
    """Hold what was clocked against the listed time and say what to list instead.

    Parameters
    ----------
    ratios : sequence of float
        Actual over listed time, one for each job, [-]
    leaned : float, optional
        The usual ratio as `estimates.Estimator` leans it on the shop's other jobs; without it the median is taken, [-]

    Raises
    ------
    OutOfRange
        Without a case, or when a ratio is not above zero.

    Examples
    --------
    >>> slow = against([1.2, 1.3, 1.3, 1.35, 1.4, 1.4, 1.5, 1.6])
    >>> slow.to, slow.middle, slow.surely_from, slow.surely_to
    (1.4, 1.375, 1.2, 1.6)
    >>> against([0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.3, 1.4]).to, against([1.5] * 3).to
    (None, None)
    """
    if not ratios or min(ratios) <= 0:
        raise OutOfRange("ratios", min(ratios, default=0.0), "one or more, each above 0")
    values = sorted(ratios)
    cases = len(values)
    left = median_between(cases)
    ends: tuple[float | None, float | None] = (
        (None, None) if left is None else (values[left], values[cases - 1 - left])
    )
    middle = at(values, 0.5)
    usual = middle if leaned is None else leaned
    return Against(cases, middle, at(values, 0.25), at(values, 0.75), *ends, _to(cases, ends, usual))


def _to(cases: int, ends: tuple[float | None, float | None], usual: float) -> float | None:
    low, high = ends
    if cases < ENOUGH or low is None or high is None or low <= 1 <= high:
        return None
    factor = round(min(MOST_FACTOR, max(LEAST_FACTOR, usual)) * STEP) / STEP
    return factor if abs(factor - 1) >= WORTH - 1e-9 and (factor > 1) == (low > 1) else None
