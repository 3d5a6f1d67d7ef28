"""The sheets, key by key: looking up, typing numbers, confirming, history, withdrawing, adding, facts, new sheets."""

import json

import pytest
from textual import events
from textual.widgets import Input

from shopcli.screens.acts import acts_of
from shopcli.screens.dialogs import Pick
from shopcli.screens.sheets.entryform import EntryForm
from shopcli.screens.sheets.facts import FactsScreen
from shopcli.screens.sheets.station import SheetsScreen
from shopcli.shop.commands import EnterSpec, OpenCard, TakeReading
from shopcli.shop.sheet_commands import ChangeVehicleFacts, EnterOnSheet, MakeSheet
from shopcli.store.reads import bench, sheets
from shopcli.store.reads.vehicle_facts import vehicle_facts
from shopcli.store.shop import Shop
from shopcli.worklists.library import Library
from shopcli.worklists.load import load_library
from tests.stations.build import KNOWLEDGE, MIXED, MIXED_IDS, Story, press, seen, settle, story, write


@pytest.fixture(scope="module")
def knowledge() -> Library:
    """The sheets of the tests over the shipped ones: a long list of numbers."""
    return load_library(KNOWLEDGE)


@pytest.fixture
def told(shop: Shop, knowledge: Library) -> Story:
    """A shop with an own sheet over the Lark's; the desk opens at the Lark's card."""
    told = story(shop)
    shop.library = knowledge
    told.do(MakeSheet("lark-mk2", "Lark mark 2", "demo-lark"))
    return told


def numbers(told: Story, where: str = "vehicle", name: str = "LRK 120") -> dict[str, str]:
    """What stands on the vehicle or sheet itself, as printed."""
    found = sheets.choose(told.shop, name)
    view = sheets.sheet(told.shop, where, found.key, name)
    return {n.name: n.shown.spec.limits.text() for n in view.numbers if n.shown and n.shown.row}


def form(app: object) -> EntryForm:
    return app.screen.query_one(EntryForm)  # type: ignore[attr-defined]


async def test_every_act_has_its_action() -> None:
    for act in acts_of("sheets") + acts_of("sheet_facts"):
        station, verb = act.id.split(".")
        screen = {"sheets": SheetsScreen, "sheet_facts": FactsScreen}.get(station)
        assert screen is None or callable(getattr(screen, f"action_{verb}")), act.id


@pytest.mark.parametrize("station", ["f5", "f6"], ids=["desk", "bench"])
async def test_one_key_opens_the_numbers_of_the_car_in_hand(told: Story, station: str) -> None:
    app = told.app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        app.card_id = told.cards["ada"]
        await press(pilot, station, "f10")
        assert "LRK 120 over demo-lark" in seen(app)
        await press(pilot, "f10")
        assert isinstance(app.screen, Pick), "pressed again it asks which"
        await press(pilot, "escape", "escape")
        assert not isinstance(app.screen, SheetsScreen)


async def test_numbers_are_typed_one_after_the_other(told: Story) -> None:
    """The document once; after that a number takes its figures and two Enters."""
    app = told.app("Nell")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f10", "enter")
        names = [n.name for n in app.screen.numbers._numbers]
        await write(pilot, "0.35-0.45 mm")
        assert "= 0.35–0.45 mm" in seen(app)
        await press(pilot, "enter", "1", "2", "enter")
        assert "which document" in seen(app)
        await write(pilot, "Lark handbook")
        await press(pilot, "enter")
        second = app.screen.numbers.chosen
        assert second.name == names[1], "on to the next by itself"
        assert form(app).field("document").text == "Lark handbook"
        await write(pilot, {"length": "3-4", "torque": "30", "volume": "2.5"}.get(second.quantity, "5"))
        await press(pilot, "enter", "enter")
        kept = numbers(told)
        assert kept[names[0]] == "0.35 to 0.45 mm"
        assert names[1] in kept
        rows = told.shop.fetch("SELECT spec FROM vehicle_spec ORDER BY id")
        assert all("Lark handbook" in r[0] and '"12"' in r[0] and "Nell" in r[0] for r in rows)


async def test_three_numbers_in_one_burst_land_where_they_were_meant(told: Story) -> None:
    """A number takes its figures and two Enters, as fast as a numeric pad gives them."""
    app = told.app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10")
        await write(pilot, "length")
        await press(pilot, "enter")
        form(app).field("document").input.value = "Lark handbook"
        form(app).remembered.units["length"] = "thou"
        await settle(pilot)
        chosen = [n.name for n in app.screen.numbers._numbers[:3]]
        assert len(chosen) == 3
        for key in ("4", "\r", "1", "2", "\r", "5", "-", "6", "\r", "\r", "7", "\r", "1", "3", "\r"):
            app.post_message(events.Key("enter" if key == "\r" else "minus" if key == "-" else key, key))
        for _ in range(40):
            await settle(pilot)
        assert numbers(told) == dict(zip(chosen, ("4 thou", "5 to 6 thou", "7 thou"), strict=True))
        pages = [json.loads(r[0])[4][2] for r in told.shop.fetch("SELECT spec FROM vehicle_spec ORDER BY id")]
        assert pages == ["12", "12", "13"]


async def test_an_empty_number_is_passed_over_and_arrows_move(told: Story) -> None:
    app = told.app("Nell")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f10", "enter")
        first = app.screen.numbers.chosen
        await press(pilot, "enter")
        assert app.screen.numbers.chosen is not first
        await press(pilot, "up")
        assert app.screen.numbers.chosen is first
        assert numbers(told) == {}
        await press(pilot, "escape")
        assert not app.screen.typing
        await press(pilot, "pagedown")
        further = app.screen.numbers.highlighted
        assert further > 5
        await press(pilot, "pageup", "up", "up")
        assert app.screen.numbers.highlighted < further


WRONG = (
    ("40 psi", "pressure"),
    ("0.45-0.35 mm", "out of order"),
    ("[/oops]", "does not begin with a figure"),
    ("0.4 thou to 0.5 mm", "the figures are in"),
    ("400", "is far from"),
)


async def test_wrong_figures_stay_in_the_field_with_the_way_out(told: Story) -> None:
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10")
        await write(pilot, "points gap")
        await press(pilot, "enter")
        for typed, words in WRONG:
            await write(pilot, typed)
            await press(pilot, "enter")
            assert words in " ".join(seen(app).split())
            assert form(app).field("figures").text == typed
            assert form(app).field("figures").input.has_focus
        assert numbers(told) == {}


async def test_a_bare_figure_counts_in_the_unit_typed_last_but_is_never_guessed(told: Story) -> None:
    app = told.app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10")
        await write(pilot, "gap")
        await press(pilot, "enter")
        await write(pilot, "14-18 thou")
        await press(pilot, "enter", "1", "enter")
        await write(pilot, "Lark handbook")
        await press(pilot, "enter")
        assert "a bare figure counts in thou" in seen(app)
        await write(pilot, "15-17")
        assert "= 15–17 thou" in seen(app)
        await write(pilot, ".016")
        await press(pilot, "enter")
        assert ".016 thou or .016 in?" in seen(app)


async def test_a_number_is_confirmed_with_its_page(told: Story) -> None:
    told.do(
        EnterOnSheet(
            sheets.choose(told.shop, "lark-mk2").key, "points_gap", "0.3 mm", "", "0.4 mm", kind="practice"
        )
    )
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10", "f10")
        await write(pilot, "lark-mk2")
        await press(pilot, "enter")
        await write(pilot, "points gap")
        assert "? points gap" in seen(app)
        assert "judges nothing before somebody confirms it (F2)" in " ".join(seen(app).split())
        await press(pilot, "f2", "1", "2", "enter")
        await write(pilot, "Lark handbook")
        await press(pilot, "enter")
        assert not app.screen.typing
        assert "✓ points gap" in seen(app)
        (row,) = told.shop.fetch("SELECT spec FROM sheet_spec WHERE replaced_at IS NULL")
        assert '"handbook","Lark handbook","12","Nell"' in row[0]


async def test_what_speaks_against_a_number_is_shown_with_both_sources(told: Story) -> None:
    car = told.vehicles["LRK 120"]
    told.do(EnterSpec(car, "points_gap", "0.20 mm", document="Old leaflet", page="3"))
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10")
        await write(pilot, "differs")
        words = " ".join(seen(app).split())
        assert "≠ points gap" in words
        assert "handbook: Old leaflet, page 3, entered by Tom" in words
        assert "≠ hidden: " in words
        assert "on demo-lark" in words


async def test_history_and_withdrawal(told: Story) -> None:
    car = told.vehicles["LRK 120"]
    told.do(EnterSpec(car, "points_gap", "0.20 mm", document="Old leaflet", page="3"))
    told.do(
        EnterSpec(car, "points_gap", "0.40 mm", document="Handbook", page="9", why="the leaflet is wrong")
    )
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10")
        await write(pilot, "points gap")
        await press(pilot, "f3")
        words = " ".join(seen(app).split())
        assert "why: the leaflet is wrong; it stands" in words
        assert "put aside by Tom" in words
        await press(pilot, "down", "enter")
        await write(pilot, "a misprint")
        await press(pilot, "enter")
        rows = told.shop.fetch("SELECT replaced_for FROM vehicle_spec ORDER BY id")
        assert rows == [("a misprint",), ("",)]
        await press(pilot, "f4")
        await write(pilot, "of another car")
        await press(pilot, "enter")
        assert numbers(told) == {}
        await press(pilot, "f4")
        assert "it stands on demo-lark, not on LRK 120" in seen(app)


async def test_a_new_number_and_one_known_elsewhere_are_added(told: Story) -> None:
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10")
        await write(pilot, "moon gap")
        assert "No number fits" in seen(app)
        await press(pilot, "f9", "enter", "enter")
        await write(pilot, "length")
        await press(pilot, "enter")
        assert form(app).number.name == "moon_gap"
        await write(pilot, "3 thou")
        await press(pilot, "enter", "1", "enter")
        await write(pilot, "Lark handbook")
        await press(pilot, "enter")
        assert numbers(told) == {"moon_gap": "3 thou"}


async def test_a_new_sheet_is_made_and_takes_numbers(told: Story) -> None:
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10", "f10", "enter")
        await write(pilot, "Lark 1200, late")
        await press(pilot, "enter")
        await write(pilot, "mark 2")
        await press(pilot, "enter")
        assert "lark-1200-late over lark-mk2 over demo-lark" in seen(app)
        await press(pilot, "enter")
        await write(pilot, "0.4 mm")
        await press(pilot, "enter", "enter")
        await write(pilot, "Book")
        await press(pilot, "enter")
        await settle(pilot)
        assert "needs its page" in " ".join(seen(app).split()), (
            "a sheet's number needs its page: said, nothing lost"
        )
        assert form(app).field("figures").text == "0.4 mm"
        await press(pilot, "enter", "7", "enter")
        assert len(numbers(told, "sheet", "lark-1200-late")) == 1


async def test_a_shipped_sheet_says_it_stays_as_it_is(told: Story) -> None:
    app = told.app("Nell")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f10", "f10")
        await write(pilot, "shipped demo-lark")
        await press(pilot, "enter")
        for key in ("enter", "f2", "f4", "f9", "f12"):
            await press(pilot, key)
            assert isinstance(app.screen, SheetsScreen)
            assert "stays as it is" in seen(app)


async def test_facts_are_prefilled_and_kept(told: Story) -> None:
    car = told.vehicles["LRK 120"]
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10", "f12")
        assert isinstance(app.screen, FactsScreen)
        assert "takes: " in seen(app)
        await write(pilot, "lark-mk2")
        await press(pilot, "enter")
        await write(pilot, "6")
        assert "= 1, 2, 3, 4, 5, 6" in seen(app)
        await press(pilot, "f2")
        assert "does not name each of the cylinders" in " ".join(seen(app).split()) or vehicle_facts(
            told.shop, car
        ).cylinders == tuple("123456")
        if isinstance(app.screen, FactsScreen):
            await press(pilot, "escape", "y")
        await press(pilot, "f12")
        await press(pilot, "escape")
        assert isinstance(app.screen, SheetsScreen)


async def test_a_wrong_fact_stays_in_its_field(told: Story) -> None:
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f10", "f12")
        await write(pilot, "nowhere")
        await press(pilot, "f2")
        assert 'no sheet is called "nowhere"' in " ".join(seen(app).split())
        await press(pilot, "escape", "n")
        assert isinstance(app.screen, FactsScreen)
        await press(pilot, "escape", "y")
        assert isinstance(app.screen, SheetsScreen)


async def test_the_bench_shows_a_newer_number_beside_the_cards_own(told: Story) -> None:
    car = told.vehicles["LRK 120"]
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        app.open_card(told.cards["ada"], told.task("ada", "points:gap"))
        await settle(pilot)
        assert "entered since" not in seen(app)
        told.do(EnterSpec(car, "points_gap", "", "0.20 mm", document="Leaflet", page="3"))
        app.screen.read_again()
        await settle(pilot)
        words = " ".join(seen(app).split())
        assert "entered since: 0.20 mm" in words
        assert "handbook: Leaflet, page 3" in words


@pytest.mark.parametrize(
    ("text", "size"),
    zip(MIXED, [(80, 24), (200, 50), (80, 24)], strict=True),
    ids=MIXED_IDS,
)
async def test_hostile_text_in_every_field_harms_nothing(
    told: Story, text: str, size: tuple[int, int]
) -> None:
    car = told.vehicles["LRK 120"]
    told.do(EnterSpec(car, "points_gap", "0.20 mm", document=text[:60], page="3", note=text[:60]))
    app = told.app("Nell")
    async with app.run_test(size=size, notifications=True) as pilot:
        await press(pilot, "f10")
        await write(pilot, text)
        await press(pilot, "escape", "enter")
        for key in ("page", "document", "kind", "state", "note"):
            form(app).field(key).input.value = text
        await write(pilot, "0.4 mm")
        form(app).keep()
        await settle(pilot)
        unharmed(app)
        assert app.screen.typing, "the text is no source: it is kept in the form, not in the records"
        await press(pilot, "escape", "f3")
        unharmed(app)
        await press(pilot, "escape", "f12")
        for field in app.screen.query(Input):
            field.value = text
        await press(pilot, "f2")
        unharmed(app)
        assert isinstance(app.screen, FactsScreen)


def unharmed(app: object) -> None:
    """See that nothing of the text drove the screen."""
    picture = seen(app)  # type: ignore[arg-type]
    assert not {"\x1b", "\x00", "\u202e"} & set(picture)


async def test_practice_of_an_own_sheet_judges_nothing_at_the_bench_until_confirmed(told: Story) -> None:
    """The number of an own sheet reaches the bench as common practice; the key n confirms it for the car."""
    key = sheets.choose(told.shop, "lark-mk2").key
    told.do(EnterOnSheet(key, "points_gap", "0.3 mm", "", "0.4 mm", kind="practice"))
    car = told.vehicles["COV 24"]
    told.do(ChangeVehicleFacts(car, 1, sheet="lark-mk2"))
    told.shop.library = load_library(KNOWLEDGE, with_shipped=False)
    card = told.do(OpenCard(car, ("points",), odometer=1)).id
    app = told.app("Nell")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        task = next(t for t in bench.card(told.shop, card).tasks if t.task.spec("points_gap"))
        app.open_card(card, task.id)
        await settle(pilot)
        assert "common practice, no source" in seen(app)
        slot = task.task.readings[0].key
        assert "not judged" in told.do(TakeReading(task.id, slot, "0.35 mm"), "Nell").said[0]
        told.do(EnterSpec(car, "points_gap", confirm=True, document="Corvane handbook", page="4"))
        assert "in limits" in told.do(TakeReading(task.id, slot, "0.35 mm"), "Nell").said[0]
        app.screen.read_again()
        await settle(pilot)
        assert "to be confirmed" not in seen(app)
