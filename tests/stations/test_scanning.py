"""A scanner at any screen: a card opens, a part goes to the task in hand, anything else is said; typing stays typing."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual import events
from textual.widgets import Input

from shopcli.codes import Code, begins_code, card_code, is_code, part_code, read_code
from shopcli.screens.app import ShopApp
from shopcli.screens.bench.partslist import PartsList
from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.desk.new_card import NewCardScreen
from shopcli.screens.dialogs import AskText
from shopcli.screens.scanning import Held
from shopcli.shop.commands import AddPart, OpenCard
from shopcli.store.reads import people
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock
from tests.stations.bench_help import Standing, bench_shop, standing


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    made = bench_shop(make_shop, clock)
    made.more["second"] = made.do(OpenCard(made.vehicle, ("bench-test",), title="Another"), by="Dora").id  # type: ignore[attr-defined]
    made.do(AddPart("X-9", "split pin", 10, stock_milli=5000))
    return made


async def scan(here: Standing, text: str) -> None:
    """Send what a scanner sends: the signs without a pause, then Enter."""
    await here.pilot.press(*text, "enter")
    for _ in range(3):
        scans = [w for w in here.app.workers if w.group == "scans"]
        if scans:
            await here.app.workers.wait_for_complete(scans)
        await here.settle()


def shown(here: Standing) -> str | None:
    screen = here.app.screen_stack[0]
    return screen.view.number if isinstance(screen, BenchScreen) and screen.view else None


async def test_a_card_opens_from_the_desk_while_the_field_has_the_focus(busy: Busy) -> None:
    async with standing(busy, card=False) as here:
        await here.press("f5")
        field = here.app.focused
        assert isinstance(field, Input)
        await scan(here, card_code("J00002"))
        assert (here.app.current_mode, shown(here)) == ("bench", "J00002")
        assert "Bench  J00002" in here.words()
        assert field.value == "", "nothing of the code is left in the field"


async def test_a_card_opens_at_the_bench_over_a_question_and_a_half_typed_reading(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("o")
        assert isinstance(here.app.screen, AskText)
        await scan(here, card_code("J00002"))
        assert here.app.screen is here.bench
        assert shown(here) == "J00002"
        assert "Bench  J00002" in here.words()
        assert not here.bench.is_asking
        await here.press("5")
        await scan(here, card_code("J00001"))
        assert shown(here) == "J00001"
        assert not here.bench.entry.is_open
        assert busy.shop.fetch("SELECT COUNT(*) FROM reading") == [(0,)]


async def test_a_half_written_card_is_still_there_after_a_scan(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("f5", "f2")
        assert isinstance(here.app.screen, NewCardScreen)
        await here.type("Ada", enter=False)
        await scan(here, card_code("J00002"))
        assert shown(here) == "J00002"
        await here.press("f5")
        assert isinstance(here.app.screen, NewCardScreen)
        assert any(field.value == "Ada" for field in here.app.screen.query(Input))


async def test_a_part_goes_to_the_task_in_hand(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("set-gap")
        await scan(here, part_code("X-9"))
        assert isinstance(here.app.screen, PartsList)
        put = next(p for p in busy.view().parts if p.description == "split pin")
        assert (put.state, put.task_id) == ("wanted", busy.task("bench-test:set-gap").id)
        await here.press("f")
        assert next(p for p in busy.view().parts if p.description == "split pin").state == "fitted"


async def test_a_part_the_card_waits_for_is_not_put_on_twice(busy: Busy) -> None:
    before = len(busy.view().parts)
    async with standing(busy) as here:
        await here.go("open-up")
        await scan(here, part_code("t-002"))
        assert isinstance(here.app.screen, PartsList)
        await here.press("escape")
    parts = busy.view().parts
    assert len(parts) == before
    assert next(p for p in parts if p.number == "T-002").task_id == busy.task("bench-test:open-up").id


async def test_one_part_after_the_other(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("open-up")
        await scan(here, part_code("X-9"))
        await scan(here, part_code("T-002"))
        assert isinstance(here.app.screen, PartsList)
        mine = {p.description for p in busy.view().parts if p.task_id == busy.task("bench-test:open-up").id}
        assert mine == {"split pin", "contact set"}


@pytest.mark.parametrize(
    ("code", "words"), [("%C%J99999", "there is no card"), ("%P%NOPE", "no part has the number")]
)
async def test_an_unknown_code_is_said_and_changes_nothing(busy: Busy, code: str, words: str) -> None:
    async with standing(busy) as here:
        journal = busy.shop.fetch("SELECT COUNT(*) FROM journal")
        await scan(here, code)
        assert words in " ".join(here.words().split())
        assert shown(here) == "J00001"
        assert busy.shop.fetch("SELECT COUNT(*) FROM journal") == journal


async def test_a_part_without_a_card_in_hand_is_said(busy: Busy) -> None:
    async with standing(busy, card=False) as here:
        await here.press("f5")
        await scan(here, part_code("X-9"))
        assert "Scan the card first" in " ".join(here.words().split())


async def test_a_per_cent_sign_is_typed_as_ever(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("o")
        await here.pilot.press("5", "space", "%", "space", "o", "f", "f")
        assert here.app.focused.value == "5 % off"  # type: ignore[union-attr]
        await here.pilot.press("%", "%", "C", "a", "%")
        await here.pilot.pause(0.3)
        assert here.app.focused.value == "5 % off%%Ca%"  # type: ignore[union-attr]
        await here.pilot.press("%", "C", "%", "escape")
        assert here.app.screen is here.bench, "Esc still goes back"
        assert busy.task("bench-test:open-up").state == "open"


async def test_a_per_cent_sign_before_enter_is_kept(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("pump")
        await here.press("o")
        await here.pilot.press("5", "%", "enter")
        await here.settle()
        assert busy.task("bench-test:pump").left_out_for == "5%"


async def test_figures_of_a_makers_bar_code_are_a_reading_that_is_refused(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("set-gap")
        await scan(here, "5012345678900")
        assert busy.shop.fetch("SELECT COUNT(*) FROM reading") == [(0,)], here.words()
        assert "looks like the number of a bar code" in " ".join(here.words().split())


def key(sign: str) -> events.Key:
    return events.Key("enter", "\r") if sign == "\r" else events.Key(sign, sign)


SIGNS = st.text(st.sampled_from("%CPcp J01ab \r"), max_size=40)


@given(SIGNS)
def test_every_key_is_handed_on_in_order_or_part_of_a_code(text: str) -> None:
    """What comes out, with the codes put back in their places, is what went in."""
    held, out = Held(), ""
    for sign in text:
        typed = held.text
        freed, code = held.take(key(sign))
        out += "".join(k.character or "" for k in freed)
        if code is not None:
            assert sign == "\r"
            assert read_code(typed) == code
            out += typed + "\r"
    out += "".join(k.character or "" for k in held.let_go())
    assert out == text


@given(
    st.text(
        st.characters(min_codepoint=33, max_codepoint=126, exclude_characters="%"), min_size=1, max_size=40
    )
)
def test_what_is_printed_is_what_is_read(number: str) -> None:
    for make, kind in ((card_code, "C"), (part_code, "P")):
        text = make(number)
        assert is_code(text)
        assert all(begins_code(text[: i + 1]) for i in range(len(text)))
        assert read_code(text) == Code(kind, number)


def test_a_word_is_no_code() -> None:
    assert [read_code(t) for t in ("", "%", "%C%", "%X%J1", "5%C%J1", "%C%" + "9" * 99)] == [None] * 6


def app_of(busy: Busy) -> ShopApp:
    return ShopApp(busy.shop, people.people(busy.shop)[0])


async def test_a_code_before_the_first_picture_has_settled(
    busy: Busy, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A scanner's signs come in one burst; here each waits for the one before, on a machine busy with starting.
    monkeypatch.setattr("shopcli.screens.scanning.PAUSE_S", 10.0)
    app = app_of(busy)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        here = Standing(busy, app, pilot)
        await scan(here, card_code("J00001"))
        assert shown(here) == "J00001"
