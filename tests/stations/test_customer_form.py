"""The form of a customer who is known: reached with one key from a card, nothing of another's overwritten."""

import pytest
from textual.pilot import Pilot

from shopcli.screens.desk.customer import CustomerScreen
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.dialogs import Confirm
from shopcli.screens.widgets.field import Field
from shopcli.shop.commands import ChangeCustomer
from shopcli.shop.seen import over
from shopcli.store.reads.customers import customer_entry, customer_of_card
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, seen, settle, still, story, write


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


async def test_a_customer_is_changed_from_a_card_and_two_changes_stand_together(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await still(pilot)
        await write(pilot, "marrow")
        await press(pilot, "ctrl+k")
        assert isinstance(app.screen, CustomerScreen)
        before = customer_entry(told.shop, told.customers["Ben Marrow"])
        assert before.name in seen(app)
        # The name is marked, so that typing begins anew; Enter goes on.
        await press(pilot, "enter")
        app.screen.query_one("#phone", Field).put("")
        await write(pilot, "01632 960 123")
        await press(pilot, "enter", "enter")
        await write(pilot, "7 New Lane")
        await press(pilot, "enter")
        await write(pilot, "Upper Proof")
        # Meanwhile somebody else writes down the e-mail.
        values = {k: getattr(before, k) for k in ("name", "phone", "address")}
        told.do(
            over(before, ChangeCustomer(before.id, before.version, **values, email="ben@marrow.example")),
            "Olive",
        )
        await press(pilot, "f2")
        await settle(pilot)
        assert isinstance(app.screen, DeskScreen)
        assert "Ben Marrow changed." in seen(app)
        now = customer_entry(told.shop, before.id)
        assert (now.phone, now.email) == ("01632 960 123", "ben@marrow.example")
        assert now.address == "7 New Lane\nUpper Proof"
        # Nothing typed: Esc goes back without a question; something typed: it asks.
        await press(pilot, "ctrl+k", "escape")
        assert isinstance(app.screen, DeskScreen)
        await press(pilot, "ctrl+k")
        await still(pilot)
        await write(pilot, "x")
        await press(pilot, "escape")
        assert isinstance(app.screen, Confirm)


async def test_what_is_refused_stays_typed_and_a_closed_card_has_a_customer_too(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await still(pilot)
        await write(pilot, "hallam")
        await press(pilot, "ctrl+k")
        await still(pilot)
        whose = customer_of_card(told.shop, told.cards["hallam"])
        assert app.screen.query_one("#name", Field).text == whose.name
        app.screen.query_one("#country", Field).put("123")
        await press(pilot, "f2")
        await settle(pilot)
        assert isinstance(app.screen, CustomerScreen)
        assert app.screen.query_one("#country", Field).input.has_focus
        assert customer_entry(told.shop, whose.id) == whose


@pytest.mark.parametrize(
    ("size", "tax"), [((80, 24), "VAT"), ((120, 40), "Sales tax")], ids=["80x24", "120x40 sales tax"]
)
def test_the_form(told: Story, snap_compare, size: tuple[int, int], tax: str) -> None:  # type: ignore[no-untyped-def]
    told.shop.settings = told.shop.settings._replace(tax_word=tax)

    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)
        await press(pilot, "ctrl+k")
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=size, run_before=stand)
