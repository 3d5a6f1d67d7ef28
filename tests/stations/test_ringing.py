"""Whom to ring on the screen: one list, a key that notes the call, the row that goes or moves."""

from decimal import Decimal

import pytest
from textual.pilot import Pilot

from shopcli.screens.ahead.screen import AheadScreen
from shopcli.screens.desk.handing import HandingScreen
from shopcli.screens.dialogs import AskText
from shopcli.screens.ringing.station import RingScreen
from shopcli.shop.commands import ChangeCard, CloseCard, MakeOffer, NoteCall
from shopcli.store.reads import bench
from shopcli.store.shop import Shop
from tests.conftest import Clock
from tests.stations.build import HOSTILE, Story, press, seen, settle, still, story, write

SIZES = pytest.mark.parametrize(
    "size",
    [(80, 24), (120, 40), pytest.param((200, 50), marks=pytest.mark.long)],
    ids=["80x24", "120x40", "200x50"],
)
NOTES = "SELECT about, reached, said, next_on FROM call_note ORDER BY id"


@pytest.fixture
def told(shop: Shop, clock: Clock) -> Story:
    """A shop where Ada's card is past its authority, Clara's car is ready and an offer to Ben waits."""
    told = story(shop)
    version = bench.card(shop, told.cards["ada"]).version
    told.do(ChangeCard(told.cards["ada"], version, authority_minor=2_000, authority_by="Ada"), "Dora")
    told.do(CloseCard(told.cards["hallam"]), "Dora")
    told.do(MakeOffer(told.vehicles["BRW 16"], ("coolant",)), "Dora")
    return told


async def open_list(pilot: Pilot[None]) -> None:
    await still(pilot)
    await press(pilot, "ctrl+n")
    assert isinstance(pilot.app.screen, RingScreen)


async def test_who_waits_on_what_with_the_telephone(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_list(pilot)
        picture = seen(app)
        for words in (
            "Ada Lark  01234 567890",
            "authority",
            "£20.00 was allowed",
            "Clara Oddy  no telephone written",
            "ready since Wed 25 Nov, not fetched",
            "waits for an answer",
        ):
            assert words in picture


async def test_a_call_is_noted_and_the_row_goes(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await open_list(pilot)
        await press(pilot, "enter", "enter")
        assert isinstance(app.screen, AskText)
        await press(pilot, "enter")
        assert "Nothing is typed yet." in seen(app)
        await write(pilot, "Go up to 300 [/oops].")
        await press(pilot, "enter")
        assert "Up to what sum" in seen(app)
        await press(pilot, "enter")
        assert "settled; the limit stays £20.00" in " ".join(seen(app).split())
        await press(pilot, "escape", "enter", "enter")
        await write(pilot, "Go up to 300 [/oops].")
        await press(pilot, "enter")
        await write(pilot, "300")
        await press(pilot, "enter")
        assert "Call to Ada Lark noted: Ada Lark reached." in seen(app)
        assert "£20.00 was allowed" not in seen(app)
    ((about, *rest),) = told.shop.fetch(NOTES)
    assert about.startswith(f"authority:{told.cards['ada']}:20")
    assert rest == ["Ada Lark", "Go up to 300 [/oops].", ""]
    card = bench.card(told.shop, told.cards["ada"])
    assert (card.authority, card.authority_by) == (Decimal(300), "Ada Lark")


async def test_nobody_reached_moves_the_row_to_tomorrow(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await open_list(pilot)
        await press(pilot, "x")
        picture = seen(app)
        assert "nobody reached; again Thu 26 Nov (Dora)" in picture
        assert "2 now, 1 later" in picture
        assert picture.index("Clara Oddy") < picture.index("Ada Lark")
        chosen = app.screen.chosen()  # type: ignore[attr-defined]
        assert chosen.later is None, "the next one is chosen, not the one that moved"


async def test_esc_notes_nothing_and_other_keys_neither(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await open_list(pilot)
        await press(pilot, "n", "escape", "n", "enter", "escape", "d", "delete", "y", "space")
        assert isinstance(app.screen, RingScreen)
        await press(pilot, "n")
        await write(pilot, "")
        await press(pilot, "enter")
        assert "Ring again on which day?" in seen(app)
        await write(pilot, "")
        await press(pilot, "enter")
        assert "Nothing is typed yet." in seen(app)
        await press(pilot, "escape", "escape")
        assert not isinstance(app.screen, RingScreen)
    assert told.shop.fetch(NOTES) == []


async def test_from_the_row_to_where_it_is_mended(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await open_list(pilot)
        await press(pilot, "g")
        assert isinstance(app.screen, AheadScreen)
        await press(pilot, "escape", "down", "g")
        assert isinstance(app.screen, HandingScreen)
        await press(pilot, "escape", "down", "g")
        assert type(app.screen).__name__ == "OffersScreen"


async def test_text_of_people_stays_text(told: Story) -> None:
    text = " ".join(HOSTILE)
    matter = f"ready:{told.cards['hallam']}:closed"
    note = NoteCall(told.customers["Clara Oddy"], matter, text[:80], text[:900], "2026-11-25")
    told.do(note, "Dora")
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_list(pilot)
        assert "[/oops]" in seen(app)


@SIZES
def test_whom_to_ring(told: Story, snap_compare, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    async def stand(pilot: Pilot[None]) -> None:
        await open_list(pilot)
        await press(pilot, "down", "x")
        pilot.app.clear_notifications()
        await settle(pilot)
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=size, run_before=stand)
