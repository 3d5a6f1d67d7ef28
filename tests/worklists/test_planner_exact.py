"""Short lists against every order there is, and against every minute each task could start."""

import statistics

import pytest

from shopcli.worklists.planner import check, plan
from shopcli.worklists.planner.bound import lower_bound
from shopcli.worklists.planner.build import Ask, build
from shopcli.worklists.planner.tasks import State
from tests.worklists.planner_by_hand import best_of_all, better_minute_by_minute
from tests.worklists.planner_cases import sane, shop_day, wild

pytestmark = pytest.mark.long

NEVER_COOLS = 10_000
COUNTS = [(8, 1, 12), (7, 1, 60), (6, 1, 120), (6, 2, 12), (5, 2, 80), (5, 3, 12), (4, 2, 80)]


@pytest.mark.parametrize(("size", "hands", "count"), COUNTS)
def test_no_order_is_better(size, hands, count):
    compared = 0
    for seed in range(count):
        tasks = sane(1000 * size + seed, size)
        done = plan(tasks, hands=hands, cool_down_min=NEVER_COOLS)
        best = best_of_all(tasks, hands, NEVER_COOLS)
        assert check(done, tasks) == []
        if done.left_out:
            assert best is None, seed  # what is left out could not have been done in any order
        elif done.elapsed_min < NEVER_COOLS:
            assert (done.elapsed_min, done.walks) == best, seed
            compared += 1
        else:  # cold work first is a rule, not a saving: a cool-down for two may be shorter
            assert best <= (done.elapsed_min, done.walks), seed
    assert compared >= count // 2


@pytest.mark.parametrize(("size", "hands", "count"), [(4, 1, 40), (3, 2, 40), (4, 2, 8)])
def test_no_minute_is_better(size, hands, count):
    compared = 0
    for seed in range(count):
        tasks = sane(seed, size, most=2, longest=2)
        done = plan(tasks, hands=hands, cool_down_min=NEVER_COOLS)
        if not done.left_out and done.elapsed_min < NEVER_COOLS:
            assert better_minute_by_minute(done, tasks, check) is None, seed
            compared += 1
    assert compared >= count // 2


def test_short_plans_are_proved():
    for seed in range(60):
        done = plan(wild(seed, 8), hands=2)
        assert done.proved
        assert done.lower_bound_min == done.elapsed_min


@pytest.mark.parametrize("hands", [1, 2, 3])
def test_the_bound_is_never_above_the_best(hands):
    for seed in range(60):
        tasks = sane(seed, 7)
        done = plan(tasks, hands=hands)
        ask = Ask(tuple(tasks), hands, 0, (), State(), 120, "last")
        problem = build(ask, {gone.key: gone.why for gone in done.left_out})
        assert lower_bound(problem, done.elapsed_min + 50) <= done.elapsed_min


@pytest.mark.parametrize("hands", [1, 2])
def test_long_days_come_within_three_per_cent_of_their_bound(hands):
    plans = [plan(shop_day(seed, 60), hands=hands) for seed in range(100, 115)]
    assert statistics.median(p.elapsed_min / p.lower_bound_min for p in plans) <= 1.03
    assert all(p.elapsed_min < p.top_to_bottom_min for p in plans)
