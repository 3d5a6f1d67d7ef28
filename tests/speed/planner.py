"""The order of work beside its references: the bound no order beats, the list top to bottom, every order there is.

Times are of this process alone [ms], so that a busy machine does not tell.
"""

import statistics
import time
from collections.abc import Callable

from shopcli.worklists.planner import Plan, plan, top_to_bottom
from tests.speed.rows import Row
from tests.worklists.planner_by_hand import best_of_all
from tests.worklists.planner_cases import sane, shipped, shop_day

DAYS, SHORT = 40, 12
CARS = {"flat four": "demo-lark-1200", "inline four": "demo-brindle-1600"}
CARS |= {"inline six": "demo-corvane-24", "vee eight": "demo-hallam-35"}


def rows() -> list[Row]:
    """Measure plans beside their references.

    The goal for the time of a long plan is in terms of its reference too: 100 ms.
    """
    return [*_long_days(), _short_lists(), *_services()]


def _timed(work: Callable[[], object]) -> tuple[object, float]:
    started = time.process_time()
    result = work()
    return result, (time.process_time() - started) * 1000


def _long_days() -> list[Row]:
    found = []
    for hands in (1, 2):
        plans: list[Plan] = []
        times, listed = [], []
        for seed in range(DAYS):
            tasks = shop_day(seed, 60)
            done, ms = _timed(lambda tasks=tasks, hands=hands: plan(tasks, hands=hands))
            plans.append(done)
            times.append(ms)
            listed.append(_timed(lambda tasks=tasks, hands=hands: top_to_bottom(tasks, hands=hands))[1])
        gaps = sorted(done.elapsed_min / done.lower_bound_min for done in plans)
        who = f"60 tasks, {hands} {'person' if hands == 1 else 'people'}"
        found.append(Row(f"{who}: plan [ms], against 100 ms", statistics.median(times), 100.0, 1.0))
        found.append(
            Row(
                f"{who}: plan against one pass down the list [ms]",
                statistics.median(times),
                statistics.median(listed),
                50,
            )
        )
        middle = sorted(plans, key=lambda done: done.elapsed_min / done.lower_bound_min)[len(plans) // 2]
        found.append(
            Row(
                f"{who}: median elapsed against its bound [min]",
                middle.elapsed_min,
                middle.lower_bound_min,
                1.03,
            )
        )
        found.append(Row(f"{who}: worst elapsed against its bound [-]", gaps[-1], 1.0, 1.1))
    return found


def _short_lists() -> Row:
    ours, every = [], []
    for seed in range(SHORT):
        tasks = sane(8000 + seed, 8)
        ours.append(_timed(lambda tasks=tasks: plan(tasks, cool_down_min=10_000))[1])
        every.append(_timed(lambda tasks=tasks: best_of_all(tasks, 1, 10_000))[1])
    return Row(
        "8 tasks: best order against trying all [ms]", statistics.median(ours), statistics.median(every), 0.1
    )


def _services() -> list[Row]:
    found = []
    for name, demo in CARS.items():
        done = plan(shipped(demo, "engine-service"))
        found.append(
            Row(
                f"service, {name}: elapsed against the list [min]",
                done.elapsed_min,
                done.top_to_bottom_min,
                0.8,
            )
        )
        found.append(
            Row(
                f"service, {name}: elapsed against its bound [min]",
                done.elapsed_min,
                done.lower_bound_min,
                1.03,
            )
        )
    return found
