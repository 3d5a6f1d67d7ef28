"""The desk at work: found in three letters, opened, held, changed; other terminals' acts appear by themselves."""

from datetime import date

import pytest
from textual.widgets import Input

from shopcli.screens.desk import looking, station
from shopcli.screens.desk.card_list import CardList
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.dialogs import AskText, Pick
from shopcli.screens.help import HelpScreen
from shopcli.shop.commands import MoveCard, OpenCard
from shopcli.store.reads import bench
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, quiet, seen, settle, story, write


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


def chosen(app: object) -> str:
    row = app.screen.query_one(CardList).chosen  # type: ignore[attr-defined]
    return row.number if row else ""


async def test_the_first_picture_is_made_of_real_rows(told: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    # Nothing is ever looked at again in this test: what is seen was there from the first moment.
    monkeypatch.setattr(station.DeskScreen, "reload", lambda _self: None)
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True):
        picture = seen(app)
    for words in (
        "Ada Lark  01234 567890",
        "LRK 120  Lark 1200 1964",
        "J00001   ▸ in hand  Fri 27 Nov",
        "● Tom on it",
    ):
        assert words in picture


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (120, 40), (200, 50)])
async def test_nothing_that_matters_is_cut_at_any_width(told: Story, size: tuple[int, int]) -> None:
    app = told.app()
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        picture = seen(app)
    for words in (
        "Engine oil: change, Contact points: set",
        "⋯ held",
        "! Mon 23 Nov (late)",
        "3:30 of 1:45 over",
        "1/2",
        "held: waiting for a radiator hose",
        "tag: sump dry",
        "● Tom on it",
        "Noise from the gearbox in third",
        "Wed 25 Nov (today)",
        "4 cards: 1 booked, 2 in hand, 1 held, 1 late",
    ):
        assert words in picture


async def test_letters_narrow_at_once_and_esc_clears(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "m", "a", "r")
        assert "J00001" not in seen(app)
        assert "2 cards found" in seen(app)
        await write(pilot, "marrow six")
        assert chosen(app) == "J00003"
        assert "1 card found" in seen(app)
        await write(pilot, "nobody at all")
        assert "Nothing open fits what is typed." in seen(app)
        await press(pilot, "f3")
        assert app.screen.__class__ is station.DeskScreen
        await press(pilot, "escape")
        assert "4 cards:" in seen(app)


async def test_arrows_choose_while_the_field_keeps_the_typing(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        chain = []
        for key in ("down", "down", "down", "down", "up", "pageup", "pagedown"):
            await press(pilot, key)
            chain.append(chosen(app))
            assert isinstance(app.focused, Input)
    assert chain == ["J00002", "J00003", "J00004", "J00004", "J00003", "J00001", "J00004"]


async def test_enter_opens_the_card_at_the_bench_and_f5_comes_back(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "down", "enter")
        assert (app.current_mode, app.card_id) == ("bench", told.cards["ben"])
        assert "BRW 16" in seen(app)
        await press(pilot, "f5")
        assert app.current_mode == "desk"
        assert chosen(app) == "J00002"
        assert isinstance(app.focused, Input)


async def test_hold_asks_why_and_go_on_does_not(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f9")
        assert isinstance(app.screen, AskText)
        await press(pilot, "enter")
        assert told.state("ada") == "in hand"  # nothing typed is no reason
        await write(pilot, "waiting for Ada to ring back")
        await press(pilot, "enter")
        assert told.state("ada") == "held"
        assert "held: waiting for Ada to ring back" in seen(app)
        await press(pilot, "f9")
        assert told.state("ada") == "in hand"


async def test_a_refusal_is_told_and_changes_nothing(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f12")
        await write(pilot, "void")
        await press(pilot, "enter")
        await write(pilot, "a mistake [/oops]")
        await press(pilot, "enter")
        assert "it cannot be voided" in seen(app)
    assert told.state("ada") == "in hand"


async def change(pilot: object, what: str, *lines: str) -> None:
    """Go through the questions of the key that changes a card."""
    await press(pilot, "f12")  # type: ignore[arg-type]
    assert isinstance(pilot.app.screen, Pick)  # type: ignore[attr-defined]
    for line in (what, *lines):
        await write(pilot, line)  # type: ignore[arg-type]
        await press(pilot, "enter")  # type: ignore[arg-type]


async def test_the_promise_is_said_back_before_it_is_kept(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await change(pilot, "promise")
        await write(pilot, "4.12")
        assert "Fri 4 Dec 2026, in 9 days" in seen(app)
        await write(pilot, "31.2.")
        await press(pilot, "enter")
        assert "there is no 31 February" in seen(app)
        await write(pilot, "4.12.")
        await press(pilot, "enter")
        assert "Fri 4 Dec" in seen(app)
    assert bench.card(told.shop, told.cards["ada"]).promised == date(2026, 12, 4)


async def test_the_rest_of_what_the_desk_writes(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await change(pilot, "authority", "1,250", "Ada")
        await press(pilot, "enter")
        await change(pilot, "deposit", "50", "card")
        assert "Deposit of 50.00 taken." in seen(app)
        await change(pilot, "odometer", "48 300")
        await change(pilot, "customer said", "It stalls [/oops].")
        await change(pilot, "left in the car", "a blanket")
        await change(pilot, "keys", "one")
        await change(pilot, "fuel", "half")
    view = bench.card(told.shop, told.cards["ada"])
    assert (view.authority, view.authority_by, view.odometer) == (1250, "Ada", 48_300)
    assert (view.words, view.left_with) == ("It stalls [/oops].", "a blanket")
    assert (view.car_keys, view.fuel, view.authority_how) == ("one", "half", "phone")
    paid = told.shop.fetch("SELECT amount_minor, method FROM payment WHERE card_id = ?", (view.id,))
    assert paid == [(5_000, "card")]


async def test_a_card_nobody_worked_on_can_be_voided(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await write(pilot, "J00003")
        await change(pilot, "void", "opened twice")
        assert "Nothing open fits" in seen(app)
    assert told.state("corvane") == "void"


async def test_other_terminals_acts_appear_and_the_place_is_kept(
    told: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(station, "EVERY_S", 0.01)
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "down")
        assert chosen(app) == "J00002"
        told.do(OpenCard(told.vehicles["LRK 120"], title="Squeaks in front"), by="Olive")
        told.do(MoveCard(told.cards["ben"], "in hand"), by="Olive")
        for _ in range(200):
            await pilot.pause(0.01)
            if "Squeaks in front" in seen(app) and "radiator hose" not in seen(app):
                break
        else:
            pytest.fail("the other terminal's act never appeared")
        assert chosen(app) == "J00002"


async def test_who_stands_here_changes_on_the_bar(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f8")
        assert "● 1:10 J00001" in seen(app), "whose clock runs on what stands beside the names"
        await press(pilot, "t")
        assert "Tom  ● 1:10 on J00001" in seen(app)


async def test_an_empty_shop_says_what_to_press(shop: Shop) -> None:
    app = Story(quiet(shop), {}).app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "down", "enter", "f3", "f4", "f9", "f12")
        assert "No open cards." in seen(app)
        assert "F2 opens the first one" in seen(app)
        assert app.screen.__class__ is station.DeskScreen


async def test_more_cards_than_fit_are_said(told: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(looking, "MOST", 2)
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        assert "the first 2 cards; type to find the others" in seen(app)


async def test_a_question_mark_in_an_empty_field_opens_help(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "question_mark")
        assert isinstance(app.screen, HelpScreen)
        await press(pilot, "escape", "l", "question_mark")
        assert isinstance(app.screen, DeskScreen)
        assert app.screen.query_one("#find", Input).value == "l?"


async def test_help_tells_every_key_of_the_desk(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await press(pilot, "f1")
        picture = seen(app)
    assert "F9  Hold / go on" in picture
    assert "Esc  Clear" in picture


async def test_what_was_told_does_not_lie_over_the_keys_of_the_next_station(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.screen.notify("a long story", timeout=60)
        await pilot.pause()
        assert "a long story" in seen(app)
        await press(pilot, "f7")
        assert "a long story" not in seen(app)
        await press(pilot, "f5")
        assert "a long story" not in seen(app)
