"""Whatever was left open, the card that is chosen is the card that is shown, and the one that is acted on."""

from textual.pilot import Pilot

from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.desk.card_list import CardList
from shopcli.screens.desk.closing import ClosingScreen
from shopcli.screens.desk.station import DeskScreen
from shopcli.store.shop import Shop
from tests.stations.build import press, seen, settle, story, write


async def test_a_card_chosen_at_the_desk_is_shown_though_the_check_of_another_lies_over_the_bench(
    shop: Shop,
) -> None:
    told = story(shop)
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await _check_at_the_bench(pilot)
        await press(pilot, "f5", "down", "enter")
        assert isinstance(app.screen, BenchScreen)
        assert app.screen.view is not None
        assert app.screen.view.id == told.cards["ben"]
        assert "BRW 16" in seen(app)
        await press(pilot, "k")
        assert isinstance(app.screen, ClosingScreen)
        assert "J00002" in seen(app)
        assert "J00001" not in seen(app)


async def test_a_check_left_for_the_bench_is_not_what_the_desk_shows_next(shop: Shop) -> None:
    told = story(shop)
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3")
        assert isinstance(app.screen, ClosingScreen)
        await press(pilot, "f6", "f5")
        assert isinstance(app.screen, DeskScreen)
        await press(pilot, "down", "f3")
        assert "J00002" in seen(app)
        assert "J00001" not in seen(app)
        # F5 where the list lies beneath a check goes to the list, as it says.
        await press(pilot, "f5")
        assert isinstance(app.screen, DeskScreen)


async def test_an_act_after_quick_typing_is_done_to_the_card_that_is_shown(shop: Shop) -> None:
    told = story(shop)
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await _check_at_the_bench(pilot)
        await press(pilot, "f5")
        await write(pilot, "six")
        await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, BenchScreen)
        assert app.card_id == told.cards["corvane"]
        await press(pilot, "f5")
        row = app.screen.query_one(CardList).chosen
        assert row is not None
        assert row.number == "J00003"


async def _check_at_the_bench(pilot: Pilot[None]) -> None:
    """Open the first card at the bench and its closing check over it."""
    await press(pilot, "enter", "k")
    assert isinstance(pilot.app.screen, ClosingScreen)
