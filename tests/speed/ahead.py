"""A promise date, a price and the look ahead of the desk for a shop with sixty open cards. Times of this process alone [ms]."""

import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

from shopcli.shop.commands import AddVehicle, OpenCard
from shopcli.store.reads.ahead import ahead
from shopcli.store.reads.prices import price_for
from shopcli.store.reads.promises import promise_for
from shopcli.store.shop import Shop, open_shop
from tests.conftest import SETTINGS, Clock, fill
from tests.speed.rows import Row

CARDS, TIMES, GOAL_MS = 60, 5, 1000.0
PAIRS = (
    ("oil-change", "points"),
    ("valve-clearances", "plugs-leads"),
    ("brakes-adjust",),
    ("wheel-bearings", "greasing"),
)


def rows() -> list[Row]:
    """Measure each against the second a screen may take in its thread."""
    with _full_shop() as (shop, vehicle):
        jobs = PAIRS[0]
        asked: tuple[tuple[str, Callable[[], object]], ...] = (
            ("price of two jobs", lambda: price_for(shop, jobs, vehicle)),
            ("promise of two jobs, 60 cards before", lambda: promise_for(shop, jobs, vehicle)),
            ("authorities and promises at risk, 60 cards", lambda: ahead(shop)),
        )
        return [Row(f"{what} [ms], against 1 s", _timed(work), GOAL_MS, 1.0) for what, work in asked]


def _timed(work: Callable[[], object]) -> float:
    work()
    times = []
    for _ in range(TIMES):
        started = time.process_time()
        work()
        times.append((time.process_time() - started) * 1000)
    return median(times)


@contextmanager
def _full_shop() -> Iterator[tuple[Shop, int]]:
    with tempfile.TemporaryDirectory() as folder:
        clock = Clock()
        shop = open_shop(str(Path(folder) / "full.db"), settings=SETTINGS, now=clock)
        busy = fill(shop, clock)
        with shop.many() as run:
            for k in range(CARDS):
                car = AddVehicle(busy.customer, f"CAR {k}", "Lark", "1200", 1964, sheet="demo-lark-1200")
                vehicle = run.do(car, by=1).id
                jobs, day = PAIRS[k % len(PAIRS)], f"2026-12-{1 + k % 28:02d}"
                run.do(OpenCard(vehicle, jobs, odometer=1, authority_minor=20_000, promised=day), by=1)
        yield shop, busy.vehicle
        shop.close()
