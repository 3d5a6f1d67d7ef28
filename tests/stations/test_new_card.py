"""A new card by keyboard alone: known customers found, new ones written down, nothing typed lost when the shop refuses."""

from datetime import date

import pytest
from textual import events
from textual.pilot import Pilot

from shopcli.errors import Refused
from shopcli.screens.desk.card_list import CardList
from shopcli.screens.desk.carried import CarriedScreen
from shopcli.screens.desk.draft import Draft, field_of
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.dialogs import AskKey, Confirm
from shopcli.screens.widgets.field import Field
from shopcli.shop.commands import AddCustomer, AddVehicle, OpenCard
from shopcli.store.reads import bench, desk
from shopcli.store.reads.found import find_customers
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, quiet, seen, settle, story, write

TODAY = date(2026, 11, 25)


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


def focused(pilot: Pilot[None]) -> str:
    """Return the name of the field that is typed in."""
    field = pilot.app.focused
    return next((str(node.id) for node in field.ancestors if isinstance(node, Field)), "") if field else ""


def text(pilot: Pilot[None], key: str) -> str:
    return pilot.app.screen.query_one(f"#{key}", Field).text


async def fill(pilot: Pilot[None], *lines: str) -> None:
    """Type each line and go on with Enter."""
    for line in lines:
        if line:
            await write(pilot, line)
        await press(pilot, "enter")


async def test_a_known_customer_and_car_take_three_letters_and_enter(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2", "m", "a", "r")
        assert "Ben Marrow" in seen(app)
        await press(pilot, "enter")
        assert focused(pilot) == "vehicle"
        assert "COV 24, Corvane Six 1971" in seen(app)
        await press(pilot, "enter")
        picture = seen(app)
        assert "open card: J00002" in picture
        assert "soon: exhaust, blowing at the joint (J00005" in picture
        assert "last 61,004 mi" in picture
        await fill(pilot, "61 250", "Squeals when braking", "one", "a rug", "half", "wing dented", "300")
        await fill(pilot, "Ben", "ph", "fri", "")
        assert focused(pilot) == "jobs"
        assert "up to £300.00 with VAT" in seen(app)
        assert "Fri 27 Nov 2026, in 2 days" in seen(app)
        await fill(pilot, "brak", "cool")
        assert "2 jobs, 1 h 45 expected" in seen(app)
        await press(pilot, "f2")
        assert isinstance(app.screen, CarriedScreen), "the exhaust is asked about; see test_carried_over"
        await press(pilot, "f2")
        assert isinstance(app.screen, DeskScreen)
        assert app.screen.query_one(CardList).chosen.number == "J00006"
    view = bench.card(told.shop, bench.card_id(told.shop, "J00006"))
    assert (view.registration, view.odometer, view.words) == ("BRW 16", 61_250, "Squeals when braking")
    assert (view.car_keys, view.left_with, view.fuel) == ("one", "a rug", "half")
    assert (view.damage, view.authority, view.authority_by) == ("wing dented", 300, "Ben")
    assert view.authority_how == "phone"
    assert (view.promised, view.templates) == (date(2026, 11, 27), ("brakes", "coolant"))


async def test_fields_stay_in_place_and_a_limit_below_the_price_is_asked_about_once(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2")
        fields = [app.screen.query_one(f"#{key}", Field) for key in ("odometer", "promised", "title", "jobs")]
        stood = [field.region.y for field in fields]
        await press(pilot, "m", "a", "r")
        assert "Ben Marrow" in seen(app)
        assert [field.region.y for field in fields] == stood, "what is offered lies over the fields"
        await fill(pilot, "", "", "61 250", *[""] * 5)
        stood = [field.region.y for field in fields]
        await write(pilot, "50")
        assert [field.region.y for field in fields] == stood, "who allowed it has its room"
        await fill(pilot, "", "Ben", "ph", "fri", "", "brak")  # invented prices: brakes come to about 72
        await press(pilot, "f2")
        assert focused(pilot) == "authority"
        assert "the jobs come to about £72.00" in " ".join(seen(app).split())
        assert told.shop.fetch("SELECT id FROM card WHERE authority_minor = 5000") == []
        await press(pilot, "f2")
        assert isinstance(app.screen, CarriedScreen), "asked once, it is taken at its word"
        await press(pilot, "f2")
        assert isinstance(app.screen, DeskScreen)
    assert len(told.shop.fetch("SELECT id FROM card WHERE authority_minor = 5000")) == 1


async def test_a_new_customer_with_a_new_car(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await fill(pilot, "Zoë Quick", "01234 1", "zoe 1", "Lark", "1200", "1965")
        assert focused(pilot) == "sheet"
        await fill(pilot, "lark", "km")
        assert focused(pilot) == "odometer"
        assert "kilometres" in seen(app)
        await fill(pilot, *[""] * 9)
        await fill(pilot, "contact")
        await press(pilot, "f2")
        # A card may be opened without an odometer, which is asked about once.
        assert focused(pilot) == "odometer"
        assert "! empty: no check by distance can be told. F2 again leaves it empty" in " ".join(
            seen(app).split()
        )
        await press(pilot, "f2")
        assert "Card J00006 opened." in seen(app)
    customer = find_customers(told.shop, "Quick")[0]
    assert (customer.name, customer.phone) == ("Zoë Quick", "01234 1")
    car = desk.find_vehicles(told.shop, "ZOE 1", customer.id)[0]
    assert (car.make, car.model, car.year, car.sheet, car.distance_unit) == (
        "Lark",
        "1200",
        1965,
        "demo-lark",
        "km",
    )
    assert bench.card(told.shop, bench.card_id(told.shop, "J00006")).templates == ("points",)


async def test_only_jobs_that_fit_are_offered(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await fill(pilot, "lark", "lrk", *[""] * 9)
        assert focused(pilot) == "jobs"
        assert "Contact points: set" in seen(app)
        assert "Coolant" not in seen(app)
        await press(pilot, "enter", "enter")
        assert "✓" not in seen(app), "an Enter too many takes nothing"
        assert "Letters or arrows mark a job" in seen(app)
        await press(pilot, "down", "enter")
        assert "✓ Brakes: adjust" in seen(app)
        await press(pilot, "enter")
        assert "✓ Brakes: adjust" in seen(app), "nor does it give one back"
        await fill(pilot, "brak")
        assert "◦ Brakes: adjust" in seen(app)


async def test_a_car_that_changed_hands_brings_its_owner(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await fill(pilot, "lark")
        await write(pilot, "brw")
        assert "of Ben Marrow" in seen(app)
        await press(pilot, "enter")
        assert text(pilot, "customer") == "Ben Marrow"
        assert "the owner of BRW 16" in seen(app)


async def test_what_is_missing_is_said_and_nothing_is_saved(told: Story) -> None:
    app = told.app()
    before = told.shop.fetch("SELECT COUNT(*) FROM journal")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2", "f2")
        assert focused(pilot) == "customer"
        assert "! Whose is it?" in seen(app)
        await fill(pilot, "lark", "")
        await fill(pilot, "a lot", *[""] * 5, "400")
        await press(pilot, "f2")
        picture = seen(app)
        assert "! the odometer 'a lot' is not a whole number" in picture
        assert "! Who said so?" in picture
        assert focused(pilot) == "odometer"
    assert told.shop.fetch("SELECT COUNT(*) FROM journal") == before


async def test_a_name_that_may_be_two_people_is_never_guessed(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await write(pilot, "lar")
        await press(pilot, "tab", "f2")
        assert "! Choose a customer, or the line that says new" in seen(app)
        await press(pilot, "down", "down", "enter")
        assert "new customer" in seen(app)
        assert focused(pilot) == "phone"


async def test_a_refusal_keeps_what_is_typed_and_saving_again_goes_on(
    told: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await fill(pilot, "Zoe Quick", "01234 1", "ZOE 1", "Lark")
        # Somebody writes the same car down at another terminal in this very moment.
        told.do(AddVehicle(told.customers["Ada Lark"], "ZOE 1", "Brindle"), by="Olive")
        await press(pilot, "f2", "f2")
        picture = seen(app)
        assert "ZOE 1 is already known (Brindle" in picture
        assert focused(pilot) == "vehicle"
        assert text(pilot, "make") == "Lark"
        await write(pilot, "ZOE 2")
        await press(pilot, "f2")
        assert isinstance(app.screen, DeskScreen)
    assert len(find_customers(told.shop, "Zoe Quick")) == 1
    assert desk.find_vehicles(told.shop, "ZOE 2")[0].customer == "Zoe Quick"


async def test_esc_keeps_the_form_and_offers_it_again(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2", "escape")
        assert isinstance(app.screen, DeskScreen)
        await press(pilot, "f2")
        assert "! Kept" not in seen(app), "an empty form is not kept"
        await fill(pilot, "lark", "lrk", "48 300", "Runs rough")
        await press(pilot, "escape")
        assert isinstance(app.screen, DeskScreen)
        await press(pilot, "f2")
        assert text(pilot, "customer") == ""
        assert "! Kept: Ada Lark, LRK 120, Wed 25 Nov 10:15. F9 takes it up." in seen(app)
        await write(pilot, "mar")
        await press(pilot, "f9")
        assert text(pilot, "words") == "Runs rough"
        assert "Lark 1200 1964" in seen(app), "the vehicle is known again"
        assert "! Kept: mar," in seen(app), "the form that was open is kept instead"
        await press(pilot, "f2", "f2")
        assert "Card J00006 opened." in seen(app)
        await press(pilot, "f2", "f9")
        assert text(pilot, "customer") == "mar"
        await press(pilot, "f12")
        assert isinstance(app.screen, Confirm)
        await press(pilot, "enter", "n")
        assert text(pilot, "customer") == "mar"
        await press(pilot, "ctrl+r", "y")
        assert isinstance(app.screen, DeskScreen)
        await press(pilot, "f2")
        assert "! Kept" not in seen(app)
    view = bench.card(told.shop, bench.card_id(told.shop, "J00006"))
    assert (view.registration, view.odometer, view.words) == ("LRK 120", 48_300, "Runs rough")


async def test_the_first_card_of_an_empty_shop(shop: Shop) -> None:
    told = Story(quiet(shop), {})
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2")
        await fill(pilot, "Ada Lark", "", "LRK 120", "Lark")
        await press(pilot, "f2", "f2")
        assert "LRK 120  Lark" in seen(app)
        assert "To be looked at" in seen(app)


async def test_enter_on_an_empty_sheet_takes_no_sheet(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await fill(pilot, "Zoe", "", "ZOE 1", "Lark", "", "", "")
        assert focused(pilot) == "unit"
        assert "no sheet" in seen(app)
        await press(pilot, "f2", "f2")
    assert desk.find_vehicles(told.shop, "ZOE 1")[0].sheet == ""


@pytest.mark.parametrize(
    ("act", "message", "field"),
    [
        (AddCustomer("x"), "the customer's name has 300 characters", "customer"),
        (AddCustomer("x"), "the phone has 80 characters", "phone"),
        (AddVehicle(1, "A", "B"), "the registration is empty", "vehicle"),
        (AddVehicle(1, "A", "B"), "the make is empty", "make"),
        (AddVehicle(1, "A", "B"), "the year is 3", "year"),
        (AddVehicle(1, "A", "B"), 'no spec sheet is called "x"', "sheet"),
        (OpenCard(1), "the odometer shows -1", "odometer"),
        (OpenCard(1), "the promise date 'x' is not a date", "promised"),
        (OpenCard(1), "the authority is out of reach", "authority"),
        (OpenCard(1), "the customer's words has 9000 characters; at most 4000 are kept", "words"),
        (OpenCard(1), '"Coolant: renew" does not fit', "jobs"),
    ],
)
def test_a_refusal_finds_its_field(
    act: AddCustomer | AddVehicle | OpenCard, message: str, field: str
) -> None:
    assert field_of(act, Refused(message)) == field


def test_each_act_is_done_once() -> None:
    draft = Draft(new_customer=True, new_vehicle=True)
    draft.texts = {"customer": "Ada", "vehicle": "A 1", "make": "Lark", "unit": "mi", "promised": "+1"}
    assert draft.faults(TODAY) == ()
    assert draft.next_act(TODAY) == AddCustomer("Ada")
    assert not draft.done(AddCustomer("Ada"), 7)
    act = draft.next_act(TODAY)
    assert act == AddVehicle(7, "A 1", "Lark")
    assert not draft.done(act, 8)
    assert draft.next_act(TODAY) == OpenCard(8, promised="2026-11-26")
    assert draft.done(OpenCard(8), 9)


async def test_keys_in_one_burst_land_in_the_right_fields(told: Story) -> None:
    """As a fast hand or a paste sends them: no key waits for what the one before sets off."""
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        for line in ("Zoe Quick", "01234 1", "ZOE 1", "Lark", "1200", "1965"):
            for sign in line:
                app.post_message(events.Key("space" if sign == " " else sign, sign))
            app.post_message(events.Key("tab", None))
        for _ in range(8):
            await settle(pilot)
        assert focused(pilot) == "sheet"
        fields = ("customer", "phone", "vehicle", "make", "model", "year")
        assert [text(pilot, key) for key in fields] == [
            "Zoe Quick",
            "01234 1",
            "ZOE 1",
            "Lark",
            "1200",
            "1965",
        ]


async def test_an_odometer_that_runs_backwards_is_asked_about(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2")
        await fill(pilot, "lark", "lrk", "48 000")
        await press(pilot, "f2", "f2")  # what earlier visits left is asked about first
        assert isinstance(app.screen, AskKey)
        picture = " ".join(seen(app).split())
        assert "The odometer shows 48,000; the last was 48,213." in picture
        assert "c Save it as typed: clock changed" in picture
        await press(pilot, "enter")
        assert isinstance(app.screen, AskKey), "Enter is no answer"
        await press(pilot, "escape")
        assert focused(pilot) == "odometer"
        assert len(told.shop.fetch("SELECT id FROM card")) == 5
        await press(pilot, "f2", "m")
        assert isinstance(app.screen, DeskScreen)
        assert "misread before" in " ".join(seen(app).split())
    rows = told.shop.fetch("SELECT odometer FROM card ORDER BY id DESC LIMIT 1")
    assert rows == [(48_000,)]


async def test_the_desk_and_the_closing_check_ask_about_it_too(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await write(pilot, "J00002")
        await press(pilot, "f3", "o")
        await write(pilot, "60 000")
        await press(pilot, "enter")
        assert isinstance(app.screen, AskKey)
        await press(pilot, "escape")
        await write(pilot, "60 001")
        await press(pilot, "enter", "c")
        assert bench.card(told.shop, told.cards["ben"]).odometer == 60_001
