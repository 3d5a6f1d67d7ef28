"""From another station straight to a task at the bench, also when the bench was never shown before."""

from shopcli.screens.app import ShopApp
from shopcli.screens.bench.station import BenchScreen
from shopcli.store.reads.people import person
from tests.conftest import Busy


async def test_the_bench_opens_at_the_task_that_was_meant(busy_shop: Busy) -> None:
    app = ShopApp(busy_shop.shop, person(busy_shop.shop, "Tom"))
    first, second = busy_shop.task("points:set-gap"), busy_shop.task("oil-change:drain")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await app.workers.wait_for_complete()
        for task in (first, second):
            app.open_card(busy_shop.card, task.id)
            await app.workers.wait_for_complete()
            await pilot.pause()
            assert isinstance(app.screen, BenchScreen)
            assert app.screen.chosen == task.id
            app.action_desk()
            await pilot.pause()
