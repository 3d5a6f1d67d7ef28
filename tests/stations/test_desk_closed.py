"""Closed cards at the desk: found by customer, car or number in a group of their own, and opened from there."""

import pytest
from textual.pilot import Pilot

from shopcli.screens.desk.card_list import CardList
from shopcli.screens.desk.handing import HandingScreen
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.summary import SummaryScreen
from shopcli.shop.commands import CloseCard, TakePayment
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, seen, settle, still, story, write


@pytest.fixture
def told(shop: Shop) -> Story:
    told = story(shop)
    told.do(CloseCard(told.cards["hallam"]), "Dora")
    return told


async def test_a_closed_card_is_found_opened_paid_and_come_back_from(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await still(pilot)
        assert "J00004" not in seen(app)
        await write(pilot, "clara")
        picture = seen(app)
        assert "Closed cards, the newest first" in picture
        assert "J00004" in picture
        assert "£122.26 is due" in picture
        assert "not fetched yet" in picture
        await press(pilot, "enter")
        assert isinstance(app.screen, HandingScreen)
        assert "Clara Oddy" in seen(app)
        await press(pilot, "f9", "enter", "enter", "escape")
        assert isinstance(app.screen, DeskScreen)
        await settle(pilot)
        assert "paid" in seen(app)
        await press(pilot, "f4")
        assert isinstance(app.screen, SummaryScreen)
        await press(pilot, "escape", "f3")
        assert isinstance(app.screen, HandingScreen)
    assert told.shop.fetch("SELECT SUM(amount_minor) FROM payment WHERE kind = 'payment'") == [(12_226,)]


async def test_open_ones_come_first_and_arrows_go_on_to_the_closed(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await write(pilot, "marrow")
        cards = app.screen.query_one(CardList)
        assert cards.chosen is not None
        assert cards.chosen.number == "J00002"
        await press(pilot, "down", "down")
        assert cards.chosen is None
        assert cards.chosen_closed is not None
        assert cards.chosen_closed.id == told.cards["wipers"]
        # What is not for a closed card says so and does nothing to the open one above.
        await press(pilot, "f9")
        assert isinstance(app.screen, DeskScreen)
        assert "is closed" in seen(app)
        await press(pilot, "up")
        assert cards.chosen is not None


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("J00004", {"J00004"}),
        ("INV-000002", {"J00004"}),
        ("hlm", {"J00004"}),
        ("wiper marrow", {"J00005"}),
        ("marrow nothing-such", set()),
        ("cl", set()),
        ("nobody", set()),
        ("wiper", {"J00005"}),  # by its job alone
        ("hallam", {"J00004"}),  # by its make
        ("hallam wiper", set()),
    ],
)
def test_what_a_closed_card_is_found_by(told: Story, text: str, found: set[str]) -> None:
    from shopcli.store.reads.closed_cards import closed_cards

    assert {row.number for row in closed_cards(told.shop, text)} == found


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=lambda s: f"{s[0]}x{s[1]}")
def test_closed_found(told: Story, snap_compare, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    told.do(TakePayment(told.cards["hallam"], 12_226, "payment"), "Dora")

    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)
        await write(pilot, "r")
        await write(pilot, "marrow")
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=size, run_before=stand)
