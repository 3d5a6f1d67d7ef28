"""What the shop's past times teach about the next: jobs pooled in part, narrow groups leaning on wide ones.

The logarithm of actual over listed time is taken as normal. Its mean is that of the shop, moved by the job, moved by
the kind of vehicle; each move is drawn towards the wider group by as much as such moves have been small, and what a
group has of its own draws it back. Spreads are never taken as known: the scale is integrated out, which leaves Student's
distribution, and the sizes of the moves are weighed over a grid by how well they explain what was clocked.

References
----------
.. [1] Gelman and Hill, Data Analysis Using Regression and Multilevel/Hierarchical Models, 2007, chapter 12: partial
   pooling.
.. [2] Gelman and others, Bayesian Data Analysis, 3rd edition, 2013, chapter 3 (normal data, unknown variance) and
   chapter 5 (hierarchical models).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from math import exp, fsum, log

# What is believed before anything was clocked: our own guesses, no source. The scale of one job around its kind is
# about a third either way, worth four jobs; moves are in scales.
SCALE, WORTH = 0.30, 4
SHOP_MOVES, JOB_MOVES, KIND_MOVES = (0.3, 0.8, 1.6), (0.2, 0.5, 1.0, 1.8), (0.1, 0.4, 0.9)
LEAST_WEIGHT = 2e-3  # a corner of the grid that explains less than this is left out


@dataclass(frozen=True, slots=True)
class Past:
    """A job as it was clocked: which, on what kind of vehicle, and log of actual over listed time, [-]."""

    job: str
    kind: str
    log_ratio: float


@dataclass(frozen=True, slots=True)
class Heap:
    """Jobs of one sort on one kind of vehicle: how many, their mean, and their squares around it."""

    count: int
    mean: float
    squares: float


@dataclass(frozen=True, slots=True)
class Known:
    """What a group's own jobs say of its mean: precision and value, the precision in units of 1 / scale squared."""

    precision: float
    value: float


@dataclass(frozen=True, slots=True)
class Corner:
    """One corner of the grid: sizes of the moves (variances, in scales squared) and what they make of the past.

    `squares` over `freedom` is the scale squared; `middle` and `spread` are the shop's own mean, in scales squared.
    """

    weight: float
    job_move: float
    kind_move: float
    squares: float
    freedom: int
    middle: float
    spread: float
    jobs: Mapping[str, Known]
    kinds: Mapping[tuple[str, str], Known]


def heaps(past: Iterable[Past]) -> dict[tuple[str, str], Heap]:
    """Return the past gathered by job and kind of vehicle."""
    gathered: dict[tuple[str, str], list[float]] = {}
    for one in past:
        gathered.setdefault((one.job, one.kind), []).append(one.log_ratio)
    found = {}
    for key, values in sorted(gathered.items()):
        mean = fsum(values) / len(values)
        found[key] = Heap(len(values), mean, fsum((v - mean) ** 2 for v in values))
    return found


def corners(of: Mapping[tuple[str, str], Heap]) -> tuple[Corner, ...]:
    """Return the corners of the grid that explain the past, their weights summing to one.

    Parameters
    ----------
    of : mapping of (job, kind) to Heap
        The past, gathered; may be empty, then every corner weighs the same.
    """
    found = [
        _corner(of, shop * shop, job * job, kind * kind)
        for shop, job, kind in product(SHOP_MOVES, JOB_MOVES, KIND_MOVES)
    ]
    best = max(fit for fit, _ in found)
    total = fsum(exp(fit - best) for fit, _ in found)
    kept = [(exp(fit - best) / total, corner) for fit, corner in found]
    kept = [(weight, corner) for weight, corner in kept if weight >= LEAST_WEIGHT]
    whole = fsum(weight for weight, _ in kept)
    return tuple(_weighed(corner, weight / whole) for weight, corner in kept)


def _weighed(c: Corner, weight: float) -> Corner:
    return Corner(weight, c.job_move, c.kind_move, c.squares, c.freedom, c.middle, c.spread, c.jobs, c.kinds)


@dataclass(slots=True)
class _Sum:
    """Normal evidence about one mean, gathered; `fit` keeps the logarithms of the determinants."""

    precision: float = 0.0
    times: float = 0.0
    squares: float = 0.0
    fit: float = 0.0

    def add(self, value: float, variance: float) -> None:
        self.precision += 1 / variance
        self.times += value / variance
        self.squares += value * value / variance
        self.fit -= log(variance) / 2

    def known(self) -> Known:
        return Known(self.precision, self.times / self.precision)

    def left(self) -> float:
        """Return the squares around the mean that was gathered."""
        return max(0.0, self.squares - self.times * self.times / self.precision)


def _corner(
    of: Mapping[tuple[str, str], Heap], shop: float, job_move: float, kind_move: float
) -> tuple[float, Corner]:
    kinds: dict[tuple[str, str], Known] = {}
    sums: dict[str, _Sum] = {}
    count, squares, fit = 0, WORTH * SCALE * SCALE, 0.0
    for key, heap in of.items():
        kinds[key] = Known(float(heap.count), heap.mean)
        count += heap.count
        squares += heap.squares
        sums.setdefault(key[0], _Sum()).add(heap.mean, kind_move + 1 / heap.count)
    whole = _Sum()
    whole.add(0.0, shop)
    jobs: dict[str, Known] = {}
    for job, gathered in sums.items():
        jobs[job] = known = gathered.known()
        squares += gathered.left()
        fit += gathered.fit - log(known.precision) / 2
        whole.add(known.value, job_move + 1 / known.precision)
    squares += whole.left()
    fit += whole.fit - log(whole.precision) / 2
    freedom = WORTH + count
    fit -= freedom / 2 * log(squares)
    middle = whole.known().value
    return fit, Corner(0.0, job_move, kind_move, squares, freedom, middle, 1 / whole.precision, jobs, kinds)


def drawn_to(known: Known | None, move: float) -> tuple[float, float, float]:
    """Return what a group's mean is once its wider group's is: (fixed part, part of the wider mean, variance).

    The mean is ``fixed + part * wider`` with that variance, in scales squared; a group nothing is known of is the
    wider one with the whole move as its variance.

    Examples
    --------
    >>> drawn_to(None, 0.25)
    (0.0, 1.0, 0.25)
    >>> drawn_to(Known(4.0, 0.2), 0.25)
    (0.1, 0.5, 0.125)
    """
    if known is None:
        return 0.0, 1.0, move
    precision = known.precision + 1 / move
    return known.precision * known.value / precision, 1 / move / precision, 1 / precision
