"""Expected hours: pooling against a dense calculation, points that cover what they say in shops of known truth, sums."""

from math import exp, log, sqrt
from random import Random
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from shopcli.errors import OutOfRange
from shopcli.workings.estimates import Estimator, Past, at, sum_of_jobs
from shopcli.workings.pooling import KIND_MOVES, SCALE, WORTH, corners, heaps
from shopcli.workings.student import student_cdf, student_pdf

# Upper critical values, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2: (freedom, value, part below).
NIST = [
    (1, 3.078, 0.90), (1, 6.314, 0.95), (2, 4.303, 0.975), (5, 2.571, 0.975), (10, 1.372, 0.90),
    (10, 1.812, 0.95), (30, 2.457, 0.99), (100, 1.660, 0.95),
]  # fmt: skip
JOBS = ("oil", "points", "valves", "brakes", "clutch", "cooling")
KINDS = ("four", "six")


@pytest.mark.parametrize(("freedom", "value", "part"), NIST)
def test_students_distribution_is_the_published_one(freedom: int, value: float, part: float) -> None:
    slope = student_pdf(value, freedom)
    assert student_cdf(value, freedom) == pytest.approx(part, abs=slope * 0.0006 + 1e-6)


@given(st.floats(-30, 30), st.integers(1, 1_000_000))
def test_students_distribution_against_another_library(x: float, freedom: int) -> None:
    assert student_cdf(x, freedom) == pytest.approx(stats.t.cdf(x, freedom), abs=1e-10)
    assert student_cdf(x, freedom) + student_cdf(-x, freedom) == pytest.approx(1, abs=1e-12)


def test_no_freedom_is_refused() -> None:
    with pytest.raises(OutOfRange):
        student_cdf(1.0, 0)


# Pooling ----------------------------------------------------------------------------------------------


def some_past(rng: Random, many: int) -> list[Past]:
    return [Past(rng.choice(JOBS[:3]), rng.choice(KINDS), rng.gauss(0.2, 0.4)) for _ in range(many)]


@pytest.mark.parametrize("many", [1, 2, 9, 25])
def test_a_corner_is_what_the_whole_covariance_matrix_gives(many: int) -> None:
    """The same model written as one covariance matrix and solved densely: prediction, scale and weight agree."""
    past = some_past(Random(many), many)
    rows = [(p.job, p.kind) for p in past]
    y = np.array([p.log_ratio for p in past])
    asked = ("points", "six")

    def cov(a: tuple[str, str], b: tuple[str, str], shop: float, job: float, kind: float) -> float:
        return shop + job * (a[0] == b[0]) + kind * (a == b)

    fits = {}
    from shopcli.workings.pooling import JOB_MOVES, SHOP_MOVES, _corner

    for shop, job, kind in [(s * s, j * j, k * k) for s in SHOP_MOVES for j in JOB_MOVES for k in KIND_MOVES]:
        matrix = np.array([[cov(a, b, shop, job, kind) for b in rows] for a in rows]) + np.eye(many)
        across = np.array([cov(asked, b, shop, job, kind) for b in rows])
        solved = np.linalg.solve(matrix, y)
        middle = across @ solved
        spread = shop + job + kind - across @ np.linalg.solve(matrix, across) + 1
        squares = WORTH * SCALE**2 + y @ solved
        fit = -np.linalg.slogdet(matrix)[1] / 2 - (WORTH + many) / 2 * log(squares)
        ours, corner = _corner(heaps(past), shop, job, kind)
        _w, m, s, f = Estimator._part(corner, *asked)
        assert m == pytest.approx(middle, abs=1e-9)
        assert s == pytest.approx(sqrt(spread * squares / (WORTH + many)), rel=1e-9)
        assert f == WORTH + many
        fits[shop, job, kind] = (ours, fit)
    first = next(iter(fits.values()))
    for ours, dense in fits.values():
        assert ours - first[0] == pytest.approx(dense - first[1], abs=1e-8)


def test_the_more_was_clocked_the_less_it_leans_on_the_others() -> None:
    others = [Past(job, "four", 0.25 * (-1) ** k) for job in JOBS[1:] for k in range(4)]
    ratios = []
    for count in (0, 1, 3, 10, 50):
        own = [Past("oil", "four", log(2))] * count
        ratios.append(Estimator([*others, *own]).expected("oil", "four", 100).usual_min)
    assert ratios == sorted(ratios)
    assert ratios[0] == pytest.approx(100, abs=3)
    assert 180 < ratios[-1] < 210


def test_another_kind_of_vehicle_teaches_something_but_not_all() -> None:
    past = [Past("oil", "six", log(2))] * 12 + [Past(job, "four", 0.0) for job in JOBS[1:] for _ in range(4)]
    there = Estimator(past)
    six, four = there.expected("oil", "six", 60), there.expected("oil", "four", 60)
    never = there.expected("tyres", "four", 60)
    assert never.usual_min < four.usual_min < six.usual_min
    assert (four.past, four.on_such, four.others) == (12, 0, 20)
    assert four.says == "from 12 past jobs, none on such a vehicle"
    assert never.says == "never clocked here; from 32 other jobs"
    assert four.most_min / four.usual_min > six.most_min / six.usual_min


def test_one_job_more_narrows_the_range() -> None:
    alike = [Past("oil", "four", 0.1 * (-1) ** k) for k in range(60)]
    ranges = [Estimator(alike[:n]).expected("oil", "four", 60) for n in (0, 4, 16, 60)]
    assert [r.most_min / r.usual_min for r in ranges] == sorted(
        (r.most_min / r.usual_min for r in ranges), reverse=True
    )
    assert ranges[-1].most_min / ranges[-1].usual_min == pytest.approx(exp(0.1 * 0.842), rel=0.1)


@given(st.lists(st.tuples(st.sampled_from(JOBS), st.sampled_from(KINDS), st.floats(-2, 2)), max_size=30))
def test_points_lie_where_they_say_and_in_order(rows: list[tuple[str, str, float]]) -> None:
    there = Estimator(Past(*row) for row in rows)
    predicted = there.predicted("oil", "six")
    assert sum(w for w, *_ in predicted.parts) == pytest.approx(1)
    for part in (0.1, 0.5, 0.8, 0.99):
        assert predicted.below(log(predicted.point(part))) == pytest.approx(part, abs=1e-6)
    found = there.expected("oil", "six", 30)
    assert 0 < found.usual_min < found.most_min
    assert there.expected("oil", "six", 60).usual_min == pytest.approx(2 * found.usual_min)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfRange):
        Estimator(()).expected("oil", "four", -1)
    with pytest.raises(OutOfRange):
        Estimator(()).predicted("oil", "four").point(1.0)
    assert Estimator(()).expected("oil", "four", 0).most_min == 0


# Coverage in shops of known truth ---------------------------------------------------------------------


class Truth:
    """A shop whose means and spreads are known: how far off its lists are, each job, each kind; one job's scatter."""

    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.scatter = rng.choice((0.15, 0.25, 0.35, 0.5))
        self.shop = rng.gauss(0, rng.choice((0.1, 0.25)))
        jobs, kinds = rng.choice((0.1, 0.2, 0.4)), rng.choice((0.03, 0.1, 0.2))
        self.job = {job: rng.gauss(self.shop, jobs) for job in JOBS}
        self.mean = {(job, kind): rng.gauss(self.job[job], kinds) for job in JOBS for kind in KINDS}

    def actual(self, job: str, kind: str) -> float:
        return self.rng.gauss(self.mean[job, kind], self.scatter)

    def past(self, own: int) -> list[Past]:
        """Return `own` jobs of the first sort, and what else such a shop has clocked by then."""
        rows = [(JOBS[0], KINDS[0])] * own
        for job in JOBS[1:]:
            rows += [(job, self.rng.choice(KINDS)) for _ in range(self.rng.choice((0, 1, 3, 8, 20)))]
        return [Past(job, kind, self.actual(job, kind)) for job, kind in rows]


def covered(own: int, shops: int, held_back: int = 20) -> float:
    """Return which part of held-back actuals stays below the 80 % point."""
    rng, below = Random(1000 + own), 0
    for _ in range(shops):
        truth = Truth(rng)
        limit = log(Estimator(truth.past(own)).ratios(JOBS[0], KINDS[0])[1])
        below += sum(truth.actual(JOBS[0], KINDS[0]) <= limit for _ in range(held_back))
    return below / (shops * held_back)


@pytest.mark.parametrize("own", [0, 1, 3, 10, 50])
def test_four_in_five_stay_below_the_most(own: int) -> None:
    assert 0.75 <= covered(own, 40) <= 0.85


@pytest.mark.long
@pytest.mark.parametrize("own", [0, 1, 3, 10, 50])
def test_four_in_five_stay_below_the_most_in_many_shops(own: int) -> None:
    part = covered(own, 3000)
    print(f"n={own}: {part:.1%}")
    assert 0.75 <= part <= 0.85


# Sums -------------------------------------------------------------------------------------------------


def covered_sum(shops: int, draws: int) -> float:
    rng, below = Random(7), 0
    jobs = [(job, "four", minutes) for job, minutes in zip(JOBS[:4], (30, 90, 45, 240), strict=True)]
    for _ in range(shops):
        truth = Truth(rng)
        _usual, most = sum_of_jobs(Estimator(truth.past(3)), jobs, draws)
        below += sum(sum(m * exp(truth.actual(j, k)) for j, k, m in jobs) <= most for _ in range(20))
    return below / (shops * 20)


def test_four_in_five_sums_stay_below_the_most() -> None:
    assert 0.75 <= covered_sum(30, 300) <= 0.85


@pytest.mark.long
def test_four_in_five_sums_stay_below_the_most_in_many_shops() -> None:
    part = covered_sum(1500, 400)
    print(f"sums: {part:.1%}")
    assert 0.75 <= part <= 0.85


def fenton(means: list[float], scales: list[float], part: float) -> float:
    """Return that point of a sum of independent lognormals by matching moments (Fenton 1960)."""
    mean = sum(exp(m + s * s / 2) for m, s in zip(means, scales, strict=True))
    spread = sum((exp(s * s) - 1) * exp(2 * m + s * s) for m, s in zip(means, scales, strict=True))
    variance = log(1 + spread / mean**2)
    return exp(log(mean) - variance / 2 + sqrt(variance) * NormalDist().inv_cdf(part))


def test_drawing_a_sum_keeps_what_matching_moments_leaves_out() -> None:
    """Independent jobs: both agree. Jobs that share an unknown shop: moments of each alone fall short of the truth."""
    rng = Random(3)
    well = Estimator([Past(job, "four", rng.gauss(0, 0.3)) for job in JOBS for _ in range(400)])
    jobs = [(job, "four", 60.0) for job in JOBS]

    def matched(there: Estimator) -> float:
        means, scales = [], []
        for job, kind, listed in jobs:
            usual, most = there.ratios(job, kind)
            means.append(log(listed * usual))
            scales.append(log(most / usual) / NormalDist().inv_cdf(0.8))
        return fenton(means, scales, 0.8)

    assert sum_of_jobs(well, jobs)[1] == pytest.approx(matched(well), rel=0.015)
    little = Estimator(())
    assert matched(little) < 0.95 * sum_of_jobs(little, jobs, 6000)[1]


def test_a_sum_is_the_same_every_time_and_one_job_is_itself() -> None:
    there = Estimator(some_past(Random(1), 12))
    jobs = [("oil", "four", 40.0), ("points", "four", 60.0)]
    assert sum_of_jobs(there, jobs) == sum_of_jobs(there, jobs)
    one = there.expected("oil", "four", 40.0)
    assert sum_of_jobs(there, jobs[:1]) == (one.usual_min, one.most_min)
    assert sum_of_jobs(there, []) == (0.0, 0.0)


def test_drawing_one_job_comes_to_its_points() -> None:
    there = Estimator(some_past(Random(5), 8))
    rng = Random(2)
    drawn = sorted(there.draw(rng).ratio("valves", "six") for _ in range(8000))
    usual, most = there.ratios("valves", "six")
    assert at(drawn, 0.5) == pytest.approx(usual, rel=0.04)
    assert at(drawn, 0.8) == pytest.approx(most, rel=0.04)


def test_corners_that_explain_nothing_are_left_out() -> None:
    assert len(corners({})) == 3 * 4 * len(KIND_MOVES)
    many = corners(heaps(some_past(Random(4), 300)))
    assert len(many) < 36
    assert sum(c.weight for c in many) == pytest.approx(1)
