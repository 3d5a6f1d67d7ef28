"""A customer is erased from their form: why is asked, then whether it is meant; who may not is told so."""

from shopcli.screens.desk.customer import CustomerScreen
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.dialogs import AskText, Confirm
from shopcli.shop.amounts import to_minor
from shopcli.shop.balance import balance
from shopcli.shop.commands import CloseCard, TakePayment
from shopcli.store.reads.customers import customer_of_card
from shopcli.store.shop import Shop
from tests.stations.build import press, seen, settle, still, story, write


async def test_who_a_customer_is_is_erased_for_good(shop: Shop) -> None:
    told = story(shop)
    card = told.cards["hallam"]
    told.do(CloseCard(card), "Dora")
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await still(pilot)
        await write(pilot, "hlm")
        await press(pilot, "ctrl+k", "f12")
        assert isinstance(app.screen, AskText)
        await press(pilot, "escape")
        assert isinstance(app.screen, CustomerScreen)
        await press(pilot, "f12")
        await write(pilot, "asked in writing")
        await press(pilot, "enter")
        assert isinstance(app.screen, Confirm)
        assert "Erase Clara Oddy for good?" in seen(app)
        await press(pilot, "n")
        assert customer_of_card(shop, card).name == "Clara Oddy"
        await press(pilot, "f12")
        await write(pilot, "asked in writing")
        await press(pilot, "enter", "y")
        assert "still to be paid" in seen(app)  # the form stays
        assert isinstance(app.screen, CustomerScreen)

        told.do(TakePayment(card, to_minor(balance(shop.fetch, card).due), "payment"), "Dora")
        await press(pilot, "f12")
        await write(pilot, "asked in writing")
        await press(pilot, "enter", "y")
        await settle(pilot)
        assert isinstance(app.screen, DeskScreen)
        assert "for good." in seen(app)
    assert customer_of_card(shop, card).name == "erased"
