"""Pictures of the stations as they stand, compared with the ones that were looked at; the clock stands still.

``python -m pytest tests/stations/test_snapshots.py --snapshot-update`` makes them anew; look at them before keeping them.
"""

from collections.abc import Callable

import pytest
from textual.pilot import Pilot

from shopcli.screens.app import ShopApp
from shopcli.shop.commands import AddFinding, ClockOn, FinishTask, PinTask
from shopcli.store.reads.people import person
from shopcli.store.shop import Shop
from tests.conftest import Clock
from tests.stations.bench_help import bench_shop
from tests.stations.build import Story, press, still, story, write

SMALL, MIDDLE, LARGE = (80, 24), (120, 40), (200, 50)
SIZES = pytest.mark.parametrize("size", [SMALL, MIDDLE], ids=["80x24", "120x40"])
THREE = pytest.mark.parametrize("size", [SMALL, MIDDLE, LARGE], ids=["80x24", "120x40", "200x50"])


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


@THREE
def test_desk(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@SIZES
def test_desk_narrowed(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await write(pilot, "ben")
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@SIZES
def test_an_empty_shop(shop: Shop, snap_compare, size: tuple[int, int]) -> None:
    app = ShopApp(shop, person(shop, "Dora"))

    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)

    assert snap_compare(app, terminal_size=size, run_before=stand)


@SIZES
def test_new_card(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f2")
        await write(pilot, "ada")
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@SIZES
def test_from_earlier_visits(told: Story, snap_compare, size: tuple[int, int]) -> None:
    told.do(AddFinding(told.cards["ben"], "rear left", "hub leaks oil", "stop", wanted="brakes"))

    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f2")
        await write(pilot, "marrow")
        await press(pilot, "enter", "enter", "f2", "1", "down")
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@SIZES
def test_closing_check(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f3")
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@SIZES
def test_summary(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f4")
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@THREE
def test_week(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f7")
        await still(pilot)

    assert snap_compare(told.app("Olive"), terminal_size=size, run_before=stand)


@SIZES
def test_help(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6", "f1")
        await still(pilot)

    assert snap_compare(told.app("Tom"), terminal_size=size, run_before=stand)


# The bench --------------------------------------------------------------------------------------------------


def at_bench(
    make_shop: Callable[..., Shop], clock: Clock, who: str = "Tom", done: tuple[str, ...] = ()
) -> ShopApp:
    busy = bench_shop(make_shop, clock)
    for key in done:
        busy.do(FinishTask(busy.task(f"bench-test:{key}").id, note="trial"))
    return ShopApp(busy.shop, person(busy.shop, who), card_id=busy.card)


@THREE
@pytest.mark.parametrize("keys", [(), ("down",), ("down", "down")], ids=["caution", "grid", "number"])
def test_bench(
    make_shop: Callable[..., Shop], clock: Clock, snap_compare, size: tuple[int, int], keys: tuple[str, ...]
) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6", *keys)
        await still(pilot)

    assert snap_compare(at_bench(make_shop, clock), terminal_size=size, run_before=stand)


@SIZES
def test_bench_barred(
    make_shop: Callable[..., Shop], clock: Clock, snap_compare, size: tuple[int, int]
) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6", "down", "down", "down", "down", "down", "d")
        await still(pilot)

    assert snap_compare(at_bench(make_shop, clock, done=("open-up",)), terminal_size=size, run_before=stand)


@SIZES
def test_bench_typing(
    make_shop: Callable[..., Shop], clock: Clock, snap_compare, size: tuple[int, int]
) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6", "down", "down", "1", "6", "space", "t", "h", "o", "u")
        await still(pilot)

    assert snap_compare(at_bench(make_shop, clock), terminal_size=size, run_before=stand)


@pytest.mark.parametrize("station", ["desk", "bench", "week"])
def test_light_theme(told: Story, snap_compare, station: str) -> None:
    app = told.app("Tom")

    async def stand(pilot: Pilot[None]) -> None:
        app.theme = "textual-light"
        await press(pilot, {"desk": "f5", "bench": "f6", "week": "f7"}[station])
        await still(pilot)

    assert snap_compare(app, terminal_size=MIDDLE, run_before=stand)


@pytest.mark.parametrize("station", ["desk", "bench", "week"])
def test_without_colour(told: Story, snap_compare, station: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = told.app("Tom")

    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, {"desk": "f5", "bench": "f6", "week": "f7"}[station])
        await still(pilot)

    assert snap_compare(app, terminal_size=MIDDLE, run_before=stand)


# The order of work ------------------------------------------------------------------------------------------


@THREE
def test_order_of_work(
    make_shop: Callable[..., Shop], clock: Clock, snap_compare, size: tuple[int, int]
) -> None:
    busy = bench_shop(make_shop, clock)
    busy.do(PinTask(busy.task("bench-test:run").id, "last"))
    busy.do(PinTask(busy.task("bench-test:torque").id, "by", person_id=busy.people["Nell"]))
    busy.do(ClockOn(busy.task("bench-test:open-up").id))
    app = ShopApp(busy.shop, person(busy.shop, "Tom"), card_id=busy.card)

    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6", "a", "down", "down")
        await still(pilot)

    assert snap_compare(app, terminal_size=size, run_before=stand)


@SIZES
def test_order_of_work_refused(
    make_shop: Callable[..., Shop], clock: Clock, snap_compare, size: tuple[int, int]
) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6", "a", "down", "down", "down", "n")
        await still(pilot)

    assert snap_compare(at_bench(make_shop, clock), terminal_size=size, run_before=stand)
