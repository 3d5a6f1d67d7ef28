"""Price and promise, offers and their answers, at the keys; checked in the records, and as pictures."""

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from shopcli.screens.ahead.looking import Before
from shopcli.screens.ahead.offers import OffersScreen
from shopcli.screens.ahead.screen import AheadScreen
from shopcli.screens.dialogs import AskText
from shopcli.shop.commands import AcceptOffer, ChangeCard, ClockOn, MakeOffer
from shopcli.store.reads import bench
from shopcli.store.reads.made_offers import made_offers
from shopcli.store.shop import Shop
from tests.papers.test_bench_sheet import read_pdf
from tests.stations.build import Story, press, seen, settle, still, story, until, write
from tests.stations.test_tools_screen import ask, done, type_in

SIZES = pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


async def on_card(pilot: Pilot[None], find: str = "lark") -> AheadScreen:
    """Find a card at the desk and look ahead."""
    await still(pilot)
    pilot.app.screen.query_one("#find").value = find  # type: ignore[attr-defined]
    await settle(pilot)
    await press(pilot, "ctrl+y")
    assert isinstance(pilot.app.screen, AheadScreen)
    return pilot.app.screen


def on_paper(folder: Path) -> str:
    """Return what stands in the one PDF of a folder."""
    (path,) = folder.glob("*.pdf")
    return read_pdf(path.read_bytes())[1]


def promised(told: Story, card: str) -> str:
    return str(bench.card(told.shop, told.cards[card]).promised)


async def test_the_price_and_the_date_of_a_card_are_shown(told: Story) -> None:
    async with told.app().run_test(size=(120, 40), notifications=True) as pilot:
        await on_card(pilot)
        text = seen(pilot.app)  # type: ignore[arg-type]
        assert "Price and promise  J00001  LRK 120  Ada Lark" in text
        assert "£400.00 was allowed by Ada Lark, by phone" in text
        assert "sure by " in text
        assert "by Fri 27 Nov: " in text
        assert "Put before all others" in text
        assert "No offer was made." in text
        await press(pilot, "escape")
        await on_card(pilot, "brindle")
        assert "! no day is sure: it is held: waiting for a radiator hose" in " ".join(
            seen(pilot.app).split()
        )  # type: ignore[arg-type]
        await press(pilot, "p")
        assert promised(told, "ben") == "2026-11-23", "what waits without a date is not promised by one key"


async def test_another_day_is_looked_at_before_it_is_promised(told: Story) -> None:
    async with told.app().run_test(size=(120, 40), notifications=True) as pilot:
        await on_card(pilot)
        await ask(pilot, "d")
        await type_in(pilot, "7.12.")
        await done(pilot)
        assert "by Mon 7 Dec: as good as certain" in seen(pilot.app)  # type: ignore[arg-type]
        assert promised(told, "ada") == "2026-11-27"
        await press(pilot, "p")
        assert promised(told, "ada") == "2026-12-07"
        await ask(pilot, "d")
        await type_in(pilot, "")
        await done(pilot)
        screen = pilot.app.screen
        assert isinstance(screen, AheadScreen)
        assert screen._seen is not None
        assert screen._seen.card is not None
        assert screen._seen.card.promise is not None
        await press(pilot, "p")
        assert promised(told, "ada") == str(screen._seen.card.promise.sure)


async def test_an_offer_is_made_put_on_paper_and_said_yes_to(
    told: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shopcli.screens.saving.default_folder", lambda: tmp_path)
    async with told.app().run_test(size=(120, 40), notifications=True) as pilot:
        await on_card(pilot)
        await press(pilot, "y", "f2")
        assert made_offers(told.shop) == ()
        assert "No offer was made on this card" in seen(pilot.app)  # type: ignore[arg-type]
        await ask(pilot, "o")
        await pilot.press("enter")
        await done(pilot)
        (offer,) = made_offers(told.shop)
        assert (offer.card, offer.registration) == ("J00001", "LRK 120")
        assert "OF00001: £" in seen(pilot.app)  # type: ignore[arg-type]
        await ask(pilot, "f2")
        await pilot.press("enter")
        await until(pilot, lambda: list(tmp_path.glob("*OF00001*.pdf")))
        assert "OF00001" in on_paper(tmp_path)
        await ask(pilot, "y")
        await write(pilot, "Bob Lark")
        assert pilot.app.screen.query_one(Input).value == "Bob Lark", (
            "the owner's name gives way to another's"
        )
        await type_in(pilot, "Ada Lark", "mail", "450")
        await done(pilot)
        (offer,) = made_offers(told.shop)
        assert (offer.answer, offer.how, str(offer.amount)) == ("accepted", "mail", "450.00")
        assert bench.card(told.shop, told.cards["ada"]).authority == offer.amount
        assert "accepted up to £450.00 by Ada Lark, mail" in " ".join(seen(pilot.app).split())  # type: ignore[arg-type]


async def test_a_no_is_noted_with_its_words_and_a_question_that_is_left_notes_nothing(told: Story) -> None:
    told.do(MakeOffer(told.vehicles["LRK 120"], ("oil",), told.cards["ada"]), "Dora")
    async with told.app().run_test(size=(80, 24), notifications=True) as pilot:
        await on_card(pilot)
        await ask(pilot, "y")
        assert isinstance(pilot.app.screen, AskText)
        await press(pilot, "escape")
        assert made_offers(told.shop)[0].answer == ""
        await ask(pilot, "n")
        await type_in(pilot, "Ada Lark", "phone", "next year")
        await done(pilot)
        (offer,) = made_offers(told.shop)
        assert (offer.answer, offer.reason) == ("declined", "next year")


async def test_the_list_of_offers_answers_and_opens_the_card(told: Story) -> None:
    told.do(MakeOffer(told.vehicles["LRK 120"], ("oil",)), "Dora")
    async with told.app().run_test(size=(80, 24), notifications=True) as pilot:
        await on_card(pilot)
        await press(pilot, "l")
        assert isinstance(pilot.app.screen, OffersScreen)
        await press(pilot, "enter")
        assert "not answered yet" in seen(pilot.app)  # type: ignore[arg-type]
        await ask(pilot, "y")
        await type_in(pilot, "Ada", "signed", "")
        await done(pilot)
        await press(pilot, "c")
        (offer,) = made_offers(told.shop)
        assert (offer.answer, offer.opened) == ("accepted", "J00006")
        assert pilot.app.current_mode == "bench"


async def test_jobs_that_are_only_asked_about(told: Story) -> None:
    async with told.app().run_test(size=(120, 40), notifications=True) as pilot:
        await still(pilot)
        pilot.app.push_screen(AheadScreen(Before(("oil", "points"), told.vehicles["LRK 120"])))
        await settle(pilot)
        text = seen(pilot.app)  # type: ignore[arg-type]
        assert "2 jobs asked about" in text
        assert "four in five such jobs stay below the most" in text
        await press(pilot, "p")
        assert "Only an open card is promised" in seen(pilot.app)  # type: ignore[arg-type]
        await press(pilot, "o")
        assert [o.card for o in made_offers(told.shop)] == [""]
        await press(pilot, "escape")
        pilot.app.push_screen(AheadScreen(Before(("oil",), sheet="demo-lark")))
        await settle(pilot)
        await press(pilot, "o")
        assert len(made_offers(told.shop)) == 1


async def test_from_the_form_of_a_new_card_and_back_to_it(told: Story) -> None:
    async with told.app().run_test(size=(80, 24), notifications=True) as pilot:
        await still(pilot)
        await press(pilot, "f2", "ctrl+y")
        assert "Choose a job first" in seen(pilot.app)  # type: ignore[arg-type]
        form = pilot.app.screen
        form._draft.jobs, form._draft.sheet = ("oil",), "demo-lark"  # type: ignore[attr-defined]
        await press(pilot, "ctrl+y")
        assert isinstance(pilot.app.screen, AheadScreen)
        assert "1 job asked about" in seen(pilot.app)  # type: ignore[arg-type]
        await press(pilot, "escape")
        assert pilot.app.screen is form
        assert form._draft.jobs == ("oil",)  # type: ignore[attr-defined]


async def test_the_desk_marks_what_is_heading_past_its_authority(told: Story) -> None:
    async with told.app().run_test(size=(120, 40), notifications=True) as pilot:
        await still(pilot)
        assert "authority" not in seen(pilot.app)  # type: ignore[arg-type]
        version = bench.card(told.shop, told.cards["ada"]).version
        told.do(ChangeCard(told.cards["ada"], version, authority_minor=2_000), "Dora")
        pilot.app.screen.records_changed()  # type: ignore[attr-defined]
        await still(pilot)
        assert "! past the authority: £" in seen(pilot.app)  # type: ignore[arg-type]
    said = told.do(ClockOn(told.task("ada", "points:gap")), "Nell").said
    assert any("Tell the desk before going on" in words for words in said)


# Pictures ---------------------------------------------------------------------------------------------


@SIZES
def test_price_and_promise(told: Story, snap_compare, size: tuple[int, int]) -> None:
    key = told.do(MakeOffer(told.vehicles["LRK 120"], ("oil", "points"), told.cards["ada"]), "Dora").id
    told.do(AcceptOffer(key, "Ada Lark", "phone", 12_000), "Dora")

    async def stand(pilot: Pilot[None]) -> None:
        await on_card(pilot)
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@SIZES
def test_jobs_asked_about(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)
        pilot.app.push_screen(AheadScreen(Before(("oil", "points"), told.vehicles["LRK 120"])))
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)


@SIZES
def test_offers(told: Story, snap_compare, size: tuple[int, int]) -> None:
    first = told.do(MakeOffer(told.vehicles["LRK 120"], ("oil",)), "Dora").id
    told.do(MakeOffer(told.vehicles["BRW 16"], ("coolant",), told.cards["ben"]), "Dora")
    told.do(AcceptOffer(first, "Ada Lark", "signed"), "Dora")

    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)
        pilot.app.push_screen(OffersScreen())
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)
