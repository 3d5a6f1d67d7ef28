"""Pictures of what looks back: undo, who stands here, a forgotten clock, times of a day, where was I."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from textual.pilot import Pilot

from shopcli.screens.app import ShopApp
from shopcli.shop.clock_commands import AddClock, EndBreak, GoOnBreak
from shopcli.shop.commands import ClockOff, ClockOn, FinishTask, NoteOnTask
from shopcli.store.reads.people import person
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock
from tests.stations.bench_help import LARGE, MIDDLE, SMALL, bench_shop
from tests.stations.build import press

SIZES = pytest.mark.parametrize("size", [SMALL, MIDDLE], ids=["80x24", "120x40"])
THREE = pytest.mark.parametrize("size", [SMALL, MIDDLE, LARGE], ids=["80x24", "120x40", "200x50"])


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    """Return a bench where Tom worked with a break and Nell's clock runs."""
    told = bench_shop(make_shop, clock)
    ids = {t.task.key: t.id for t in told.view().tasks}
    now = told.shop.at()
    told.do(AddClock(ids["bench-test:pump"], now - 7200, now - 3600, "forgot to clock on"))
    told.do(ClockOn(ids["bench-test:open-up"]))
    clock.forward(minutes=25)
    told.do(GoOnBreak())
    clock.forward(minutes=15)
    told.do(EndBreak())
    clock.forward(minutes=10)
    told.do(FinishTask(ids["bench-test:open-up"]))
    told.do(ClockOn(ids["bench-test:pump"]), "Nell")
    clock.forward(minutes=5)
    return told


def app(busy: Busy, who: str = "Tom") -> ShopApp:
    return ShopApp(busy.shop, person(busy.shop, who), card_id=busy.card)


def keys(*pressed: str) -> Callable[[Pilot[None]], object]:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, *pressed)

    return stand


@SIZES
def test_undo(busy: Busy, snap_compare, size: tuple[int, int]) -> None:
    assert snap_compare(app(busy), terminal_size=size, run_before=keys("f6", "u", "u"))


def test_who(busy: Busy, snap_compare) -> None:
    assert snap_compare(app(busy), terminal_size=SMALL, run_before=keys("f6", "f8"))


def test_forgotten(busy: Busy, clock: Clock, snap_compare) -> None:
    busy.do(ClockOn(busy.task("bench-test:measure").id))
    clock.at = datetime(2026, 11, 26, 8, 5, tzinfo=UTC)
    assert snap_compare(app(busy), terminal_size=SMALL, run_before=keys("f6"))


@THREE
def test_times(busy: Busy, snap_compare, size: tuple[int, int]) -> None:
    busy.do(ClockOn(busy.task("bench-test:measure").id))
    assert snap_compare(app(busy), terminal_size=size, run_before=keys("f6", "f9"))


@THREE
def test_where_was_i(busy: Busy, clock: Clock, snap_compare, size: tuple[int, int]) -> None:
    clock.forward(days=2)
    busy.do(ClockOff(), "Nell")
    busy.do(ClockOn(busy.task("bench-test:set-gap").id), "Nell")
    busy.do(NoteOnTask(busy.task("bench-test:pump").id, "depth taken twice"), "Nell")
    assert snap_compare(app(busy), terminal_size=size, run_before=keys("f6", "l"))
