"""The sums from where one stands: the task's own at the bench, filled in and said beneath the readings; any elsewhere."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import pytest
from textual.pilot import Pilot

from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.dialogs import Pick
from shopcli.screens.workings.panel import WorkingsPanel
from shopcli.shop.commands import AddVehicle, OpenCard, TakeReading
from shopcli.store.shop import Shop
from shopcli.worklists.load import load_library
from shopcli.worklists.workings_at_hand import working_named
from tests.stations.build import Story, press, seen, settle, story, write
from tests.stations.sums_help import answered, beside, field


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


@pytest.fixture
def benched(told: Story) -> Story:
    """Put a card on the bench whose tasks have sums: the shipped knowledge has them."""
    told.shop.library = load_library()
    with told.shop.many() as run:
        dora = told.people["Dora"]
        vehicle = run.do(
            AddVehicle(told.customers["Ada Lark"], "SUM 1", "Lark", "1200", 1964, "demo-lark-1200", "mi"),
            by=dora,
        ).id
        card = OpenCard(vehicle, ("points", "plugs-leads"), title="Points and leads", odometer=50_000)
        told.cards["sums"] = run.do(card, by=dora).id
    return told


@asynccontextmanager
async def at_bench(told: Story, task: str) -> AsyncIterator[tuple[BenchScreen, Pilot[None]]]:
    app = told.app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        app.open_card(told.cards["sums"])
        await settle(pilot)
        bench = app.screen
        assert isinstance(bench, BenchScreen)
        bench.choose_task(told.task("sums", task))
        await settle(pilot)
        yield bench, pilot


async def test_the_tasks_own_sum_opens_filled_in(benched: Story) -> None:
    async with at_bench(benched, "plugs-leads:fit-leads") as (_bench, pilot):
        assert "Sum: towers clockwise from No. 1 1-4-3-2" in seen(pilot.app)  # type: ignore[arg-type]
        await press(pilot, "w")
        panel = pilot.app.screen
        assert isinstance(panel, WorkingsPanel)
        assert panel.working is working_named("lead-order")
        assert field(panel, "firing_order").text == "1-4-3-2"
        assert field(panel, "rotor").text == "cw"
        assert "╔═══╗" in answered(panel)
        await press(pilot, "f2")
        pick = pilot.app.screen
        assert isinstance(pick, Pick)
        assert pick._shown[0].label == "▸ This task: Lead order round the cap"
        await press(pilot, "escape", "escape")
        assert isinstance(pilot.app.screen, BenchScreen)


async def test_a_reading_taken_on_the_task_is_in_the_form_and_beneath_the_readings(benched: Story) -> None:
    task = benched.task("sums", "points:set-gap")
    async with at_bench(benched, "points:set-gap") as (bench, pilot):
        assert "Sum:" not in seen(pilot.app)  # type: ignore[arg-type]
        benched.do(TakeReading(task, "points gap|as left", "14 thou"))
        bench.read_again()
        await settle(pilot)
        assert "Sum: trend: timing retarded" in seen(pilot.app)  # type: ignore[arg-type]
        await press(pilot, "w")
        panel = pilot.app.screen
        assert isinstance(panel, WorkingsPanel)
        assert field(panel, "gap_after_mm").text == "14 thou"
        assert beside(panel, "gap_after_mm") == "= 0.3556 mm, read here: points gap"
        assert "timing retarded" in answered(panel)


async def test_a_task_without_a_sum_asks_which_and_knows_the_vehicle(benched: Story) -> None:
    async with at_bench(benched, "points:cap-off") as (_bench, pilot):
        await press(pilot, "w")
        assert isinstance(pilot.app.screen, Pick)
        await write(pilot, "spark interval")
        await press(pilot, "enter")
        panel = pilot.app.screen
        assert isinstance(panel, WorkingsPanel)
        assert field(panel, "cylinders").text == "4"


async def test_the_palette_opens_the_sums_from_anywhere(told: Story) -> None:
    app = told.app("Dora")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        assert "Sums" in [command.title for command in app.get_system_commands(app.screen)]
        for station in ("f5", "f7"):
            await press(pilot, station)
            app.action_sums()
            await settle(pilot)
            assert isinstance(app.screen, Pick)
            await press(pilot, "escape")
            assert not isinstance(app.screen, WorkingsPanel)
