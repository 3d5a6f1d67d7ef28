"""Short lists against every order there is, and against every minute each task could start."""

import pytest

from shopcli.worklists.planner import check, plan
from tests.worklists.planner_by_hand import best_of_all, better_minute_by_minute
from tests.worklists.planner_cases import sane, wild

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
