"""How long a job is expected to take: its listed time, and what the shop's own past makes of it."""

from array import array
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp, sqrt
from random import Random

from shopcli.errors import OutOfRange
from shopcli.workings.pooling import Corner, Known, Past, corners, drawn_to, heaps
from shopcli.workings.student import student_cdf

__all__ = ["Estimator", "Expected", "Past", "Predicted", "at", "sum_of_jobs"]

USUAL, MOST = 0.5, 0.8
DRAWS, SEED = 2_000, 20_240_229
CLOSE = 1e-9
_STEPS = 80


@dataclass(frozen=True, slots=True)
class Predicted:
    """Where the logarithm of actual over listed time of the next job lies: Student's distributions, weighed.

    Each is (weight, middle, scale, degrees of freedom).
    """

    parts: tuple[tuple[float, float, float, int], ...]

    def below(self, log_ratio: float) -> float:
        """Return how likely the next job stays below that, 0 to 1."""
        return sum(w * student_cdf((log_ratio - m) / s, f) for w, m, s, f in self.parts)

    def point(self, part: float) -> float:
        """Return the ratio of actual to listed time below which that part of jobs stays, [-].

        Raises
        ------
        OutOfRange
            When the part is not between 0 and 1.
        """
        if not 0 < part < 1:
            raise OutOfRange("part", part, "above 0 and below 1")
        low = high = self.parts[0][1]
        step = max(s for _w, _m, s, _f in self.parts)
        while self.below(low) > part:
            low -= step
            step *= 2
        while self.below(high) < part:
            high += step
            step *= 2
        for _ in range(_STEPS):
            middle = (low + high) / 2
            if high - low < CLOSE:
                break
            low, high = (middle, high) if self.below(middle) < part else (low, middle)
        return exp((low + high) / 2)


@dataclass(frozen=True, slots=True)
class Expected:
    """How long a job takes: half are over by `usual_min`, four in five by `most_min`, [min].

    `on_such` of its `past` times were on such vehicles; `others` are the shop's other jobs that were leaned on.
    """

    listed_min: float
    usual_min: float
    most_min: float
    past: int
    on_such: int
    others: int

    @property
    def says(self) -> str:
        """What the figures rest on, in words."""
        if not self.past and not self.others:
            return "nothing clocked yet: the listed time, with a wide range"
        if not self.past:
            return f"never clocked here; from {self.others} other {_jobs(self.others)}"
        elsewhere = self.past - self.on_such
        if not elsewhere:
            return f"from {self.past} past {_jobs(self.past)} on such vehicles"
        if not self.on_such:
            return f"from {self.past} past {_jobs(self.past)}, none on such a vehicle"
        return f"from {self.past} past jobs, {self.on_such} on such vehicles"


def _jobs(count: int) -> str:
    return "job" if count == 1 else "jobs"


class Estimator:
    """The shop's past, weighed once and asked for many jobs.

    Parameters
    ----------
    past : iterable of Past
        What was clocked; may be empty.

    Examples
    --------
    >>> wide = Estimator(()).expected("points", "any", 60)
    >>> round(wide.usual_min), round(wide.most_min)
    (60, 99)
    >>> slow = Estimator([Past("points", "any", 0.4)] * 20).expected("points", "any", 60)
    >>> 85 < slow.usual_min < 91, slow.says
    (True, 'from 20 past jobs on such vehicles')

    Notes
    -----
    One job takes its spread from all the shop's jobs alike; a job listed at nothing is expected to take nothing.

    References
    ----------
    See `shopcli.workings.pooling`.
    """

    def __init__(self, past: Iterable[Past]) -> None:
        self._heaps = heaps(past)
        self._corners = corners(self._heaps)
        self._known: dict[tuple[str, str], Predicted] = {}
        self._points: dict[tuple[str, str], tuple[float, float]] = {}
        self._shops: dict[int, list[Drawn]] = {}
        self._drawn: dict[tuple[str, str, int], Sequence[float]] = {}
        self.count = sum(h.count for h in self._heaps.values())

    def predicted(self, job: str, kind: str) -> Predicted:
        """Return where the next such job lies."""
        known = self._known.get((job, kind))
        if known is None:
            known = Predicted(tuple(self._part(c, job, kind) for c in self._corners))
            self._known[job, kind] = known
        return known

    @staticmethod
    def _part(c: Corner, job: str, kind: str) -> tuple[float, float, float, int]:
        fixed, part, variance = drawn_to(c.jobs.get(job), c.job_move)
        middle, spread = fixed + part * c.middle, part * part * c.spread + variance
        fixed, part, variance = drawn_to(c.kinds.get((job, kind)), c.kind_move)
        middle, spread = fixed + part * middle, part * part * spread + variance
        return c.weight, middle, sqrt((spread + 1) * c.squares / c.freedom), c.freedom

    def ratios(self, job: str, kind: str) -> tuple[float, float]:
        """Return the usual ratio of actual to listed time, and the one four in five stay below, [-]."""
        found = self._points.get((job, kind))
        if found is None:
            there = self.predicted(job, kind)
            self._points[job, kind] = found = there.point(USUAL), there.point(MOST)
        return found

    def expected(self, job: str, kind: str, listed_min: float) -> Expected:
        """Return how long a job takes on a kind of vehicle.

        Parameters
        ----------
        job, kind : str
            Which job; on which kind of vehicle.
        listed_min : float
            What its template says, hands on, [min]

        Raises
        ------
        OutOfRange
            When the listed time is below zero.
        """
        if listed_min < 0:
            raise OutOfRange("listed_min", listed_min, "0 or more")
        usual, most = self.ratios(job, kind)
        past = sum(h.count for (name, _), h in self._heaps.items() if name == job)
        such = self._heaps.get((job, kind))
        on_such = such.count if such else 0
        return Expected(listed_min, listed_min * usual, listed_min * most, past, on_such, self.count - past)

    def draw(self, rng: Random) -> "Drawn":
        """Return one way the shop may be, jobs and all: what is not known of it is the same for every job asked."""
        at_most, corner = rng.random(), self._corners[-1]
        for one in self._corners:
            at_most -= one.weight
            if at_most < 0:
                corner = one
                break
        # A chi-squared of f is a gamma of f / 2 and scale 2; the scale squared is the squares over it.
        scale = sqrt(corner.squares / rng.gammavariate(corner.freedom / 2, 2))
        return Drawn(corner, scale, rng)

    def drawn_ratios(self, job: str, kind: str, draws: int = DRAWS) -> Sequence[float]:
        """Return actual over listed time of one such job in that many shops as they may be, [-].

        Place by place the shops are the same for every job, so sums over jobs keep what the jobs share; and a job has the
        same figures whatever else was asked before it.
        """
        found = self._drawn.get((job, kind, draws))
        if found is None:
            found = self._drawn[job, kind, draws] = array("d", self._ratios(job, kind, draws))
        return found

    def _ratios(self, job: str, kind: str, draws: int) -> Iterator[float]:
        shops = self._shops.get(draws)
        if shops is None:
            rng = Random(SEED)  # noqa: S311 - the same answer every time is wanted
            shops = self._shops[draws] = [self.draw(rng) for _ in range(draws)]
        wide = [_moved(c.jobs.get(job), c.job_move) for c in self._corners]
        near = [_moved(c.kinds.get((job, kind)), c.kind_move) for c in self._corners]
        of_corner = {id(c): (*w, *n) for c, w, n in zip(self._corners, wide, near, strict=True)}
        names = (f"job {job}", f"kind {job} {kind}", f"one {job} {kind}")
        noise = zip(*(_normals(name, draws) for name in names), strict=True)
        for shop, (of_job, of_kind, of_one) in zip(shops, noise, strict=True):
            fixed, part, spread, fixed2, part2, spread2 = of_corner[id(shop.corner)]
            mean = fixed + part * shop.shop + shop.scale * spread * of_job
            mean = fixed2 + part2 * mean + shop.scale * spread2 * of_kind
            yield exp(mean + shop.scale * of_one)


class Drawn:
    """One way the shop may be. `ratio` is of one job more each time it is asked, [-]."""

    def __init__(self, corner: Corner, scale: float, rng: Random) -> None:
        self.corner, self.scale, self._rng = corner, scale, rng
        self.shop = corner.middle + scale * sqrt(corner.spread) * rng.gauss(0, 1)
        self._means: dict[tuple[str, str], float] = {}
        self._jobs: dict[str, float] = {}

    def ratio(self, job: str, kind: str) -> float:
        """Return actual over listed time of one such job."""
        mean = self._means.get((job, kind))
        if mean is None:
            mean = self._means[job, kind] = self._mean(job, kind)
        return exp(mean + self.scale * self._rng.gauss(0, 1))

    def _mean(self, job: str, kind: str) -> float:
        corner, gauss = self.corner, self._rng.gauss
        wide = self._jobs.get(job)
        if wide is None:
            fixed, part, spread = _moved(corner.jobs.get(job), corner.job_move)
            wide = fixed + part * self.shop + self.scale * spread * gauss(0, 1)
            self._jobs[job] = wide
        fixed, part, spread = _moved(corner.kinds.get((job, kind)), corner.kind_move)
        return fixed + part * wide + self.scale * spread * gauss(0, 1)


def _moved(known: Known | None, move: float) -> tuple[float, float, float]:
    """Return `drawn_to` with the root of its variance."""
    fixed, part, variance = drawn_to(known, move)
    return fixed, part, sqrt(variance)


@lru_cache(maxsize=256)
def _normals(of: str, draws: int) -> Sequence[float]:
    """Return standard normal draws that belong to a name, the same ones always."""
    gauss = Random(f"{SEED} {of}").gauss  # noqa: S311 - the same answer every time is wanted
    return array("d", (gauss(0, 1) for _ in range(draws)))


def at(sorted_values: Sequence[float], part: float) -> float:
    """Return the value below which that part of sorted values lies, between neighbours in a straight line.

    Examples
    --------
    >>> at([1.0, 2.0, 3.0], 0.5), at([1.0, 2.0], 0.75)
    (2.0, 1.75)
    """
    place = part * (len(sorted_values) - 1)
    below = int(place)
    above = min(below + 1, len(sorted_values) - 1)
    return sorted_values[below] + (sorted_values[above] - sorted_values[below]) * (place - below)


def sum_of_jobs(
    estimator: Estimator,
    jobs: Sequence[tuple[str, str, float]],
    draws: int = DRAWS,
    *,
    clocked_min: Sequence[float] = (),
) -> tuple[float, float]:
    """Return the usual time still to come of several jobs together and what four in five stay below, [min].

    Parameters
    ----------
    estimator : Estimator
        The shop's past.
    jobs : sequence of (str, str, float)
        Job, kind of vehicle, listed time, [min]; a job on a kind of vehicle stands in it once.
    draws : int, optional
        How often it is drawn, always from the same seed.
    clocked_min : sequence of float, optional
        What was clocked on each of them already, [min]; nothing when left out.

    Notes
    -----
    The sum of lognormals has no closed form. It is drawn, because what is unknown of the shop is common to its jobs,
    which a match of moments (Fenton 1960, for independent ones) leaves out; one job alone needs no drawing. The order the
    jobs are named in does not matter.

    References
    ----------
    .. [1] L. F. Fenton, The sum of log-normal probability distributions in scatter transmission systems, IRE
       Transactions on Communications Systems 8, 1960, pages 57 to 67.
    """
    done = clocked_min or [0.0] * len(jobs)
    if not jobs:
        return 0.0, 0.0
    if len(jobs) == 1:
        one = estimator.expected(*jobs[0])
        return max(0.0, one.usual_min - done[0]), max(0.0, one.most_min - done[0])
    sums = [0.0] * draws
    for (job, kind, listed), spent in sorted(zip(jobs, done, strict=True)):
        ratios = estimator.drawn_ratios(job, kind, draws)
        if spent:
            sums = [s + max(0.0, listed * r - spent) for s, r in zip(sums, ratios, strict=True)]
        else:
            sums = [s + listed * r for s, r in zip(sums, ratios, strict=True)]
    sums.sort()
    return at(sums, USUAL), at(sums, MOST)
