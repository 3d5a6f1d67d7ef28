"""Readings in their grid at the bench, the scale beside the number, last year's figures, and the pictures."""

from collections.abc import Callable
from pathlib import Path

import pytest
from textual.pilot import Pilot

from shopcli.screens.app import ShopApp
from shopcli.screens.bench.picturescreen import PictureScreen
from shopcli.shop.commands import AddCustomer, AddVehicle, OpenCard, TakeReading
from shopcli.store.reads import bench, people
from shopcli.store.shop import Shop
from shopcli.worklists.load import load_library
from tests.conftest import Busy, Clock
from tests.stations.bench_help import LARGE, MIDDLE, SMALL, Standing, standing
from tests.stations.build import press, still

KIT = load_library(Path(__file__).parent / "grid_kit", with_shipped=False)
FOUND = "clearance@{}|as found"
BEFORE = ((730, 8), (365, 7))  # days ago, and what valve 3 exhaust was found at, [thou]


def task_of(shop: Shop, card: int, key: str) -> int:
    return next(t.id for t in bench.card(shop, card).tasks if t.task.key == f"grid-test:{key}")


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    """A flat four that was here twice before: one of its valves keeps tightening."""
    shop = make_shop(now=clock)
    shop.library = KIT
    assert not KIT.problems
    who = {p.name: p.id for p in people.people(shop)}
    now = clock.at
    clock.forward(days=-BEFORE[0][0])
    with shop.many() as run:
        customer = run.do(AddCustomer("Ada Flat"), by=who["Dora"]).id
        car = run.do(
            AddVehicle(customer, "FLT 4", "Flat", "Four", 1961, sheet="grid-flat"), by=who["Dora"]
        ).id
    for number, (days, thou) in enumerate(BEFORE):
        clock.at = now
        clock.forward(days=-days)
        with shop.many() as run:
            card = run.do(OpenCard(car, ("grid-test",), odometer=60_000 + 5_000 * number), by=who["Dora"]).id
        for place, typed in (("3 exhaust", f"{thou}"), ("1 inlet", "6")):
            reading = TakeReading(task_of(shop, card, "measure"), FOUND.format(place), typed, unit="thou")
            shop.do(reading, by=who["Tom"])
    clock.at = now
    with shop.many() as run:
        card = run.do(OpenCard(car, ("grid-test",), odometer=70_000), by=who["Dora"]).id
    return Busy(shop, clock, who, customer, car, card)


def kept(here: Standing) -> list[tuple[object, ...]]:
    sql = "SELECT slot, typed FROM reading WHERE card_id = ? AND struck_at IS NULL ORDER BY id"
    return here.rows(sql, here.busy.card)


async def go(here: Standing, key: str) -> None:
    here.bench.said.clear()
    here.bench.choose_task(task_of(here.busy.shop, here.busy.card, key))
    await here.settle()


def line_with(here: Standing, *words: str) -> str:
    return next((line for line in here.words().splitlines() if all(w in line for w in words)), "")


async def test_enter_goes_through_the_engine_in_order(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "measure")
        for figure in ("6", "7", "4"):
            await here.type(figure)
        assert [slot for slot, _ in kept(here)] == [
            FOUND.format(p) for p in ("1 inlet", "1 exhaust", "2 inlet")
        ]
        assert "4 ▾" in line_with(here, "║", "2 ")
        assert "▸ ·" in line_with(here, "║", "2 "), "2 exhaust is next"


async def test_arrows_move_between_cells_and_take_the_typing_along(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "measure")
        await here.press("right")
        assert here.bench.entry.slot_key == FOUND.format("1 exhaust")
        await here.type("7", enter=False)
        await here.press("right", "down")
        assert here.bench.entry.slot_key == FOUND.format("4 inlet")
        await here.press("enter")
        assert kept(here) == [(FOUND.format("4 inlet"), "7")]
        await here.press("left")
        assert here.bench.entry.slot_key == FOUND.format("4 inlet"), "left of the next one, 4 exhaust"


async def test_left_inside_a_text_moves_in_the_text(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "measure")
        await here.type("65", enter=False)
        await here.press("left", "delete", "enter")
        assert kept(here) == [(FOUND.format("1 inlet"), "6")]


async def test_a_caution_is_never_read_past(busy: Busy) -> None:
    async with standing(busy, size=SMALL) as here:
        await go(here, "long")
        assert "CAUTION" in here.words()
        before = here.words()
        await here.press("pagedown")
        assert here.words() != before, "the text went on"
        assert "CAUTION" in here.words()
        await here.press("pagedown", "pagedown", "pagedown")
        assert "CAUTION" in here.words()
        here.bench.refuse("Barred: a refusal that takes many words to say " * 8)
        await here.pilot.pause()
        assert "CAUTION" in here.words()


async def test_overwriting_a_cell_strikes_the_old_reading(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "measure")
        await here.type("6")
        await here.press("left")
        assert "Taken as 6 thou" in here.words()
        await here.type("5")
        await here.press("y")
        assert kept(here) == [(FOUND.format("1 inlet"), "5")]
        struck = "SELECT typed FROM reading WHERE card_id = ? AND struck_at IS NOT NULL"
        assert here.rows(struck, busy.card) == [("6",)]


async def test_tab_goes_from_as_found_to_as_left_and_back(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "tyres")
        assert "tyre pressure, as found" in here.words()
        await here.press("tab")
        assert "tyre pressure, as left" in here.words()
        await here.type("17")
        assert kept(here) == [("tyre pressure@front left|as left", "17")]
        await here.type("18", enter=False)
        await here.press("tab")
        assert here.bench.entry.slot_key == "tyre pressure@front right|as found", "what is typed comes along"
        assert here.bench.entry.typing == "18"


async def test_tab_says_where_there_is_but_one_column(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "measure")
        await here.press("tab")
        assert "asks for its readings once" in here.says


async def test_the_scale_follows_what_is_typed(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "measure")
        scale = line_with(here, "├", "┤")
        assert " 5 ├" in scale
        assert "┤ 7 thou" in scale
        await here.type("30", enter=False)
        far = line_with(here, "typing 30 thou")
        assert far.rstrip().endswith("▶")
        assert "high by 23 thou" in far
        await here.press("backspace")
        assert "◀" not in line_with(here, "typing 3 thou")


async def test_last_year_stands_beside_and_a_tightening_valve_is_said(busy: Busy) -> None:
    async with standing(busy, size=LARGE) as here:
        await go(here, "measure")
        assert "last time 6 thou (Tue 25 Nov 2025, 65,000 mi)" in here.words()
        for _ in range(4):
            await here.type("6")
        await here.press("right")
        await here.type("6", enter=False)
        words = " ".join(here.words().split())
        assert here.bench.entry.slot_key == FOUND.format("3 exhaust")
        assert "↘ tightening 1 thou" in words
        assert "valve 3 exhaust: Tighter at every visit" in words


async def test_what_was_found_stands_below_what_is_left(busy: Busy) -> None:
    async with standing(busy, size=LARGE) as here:
        await go(here, "measure")
        await here.type("3")
        await go(here, "set")
        assert "below: found" in here.words()
        assert "3 ▾" in here.words()
        assert "▲ found 3 thou ▾ low by 2 thou" in here.words(), "on the scale too"


async def test_the_spread_stands_beneath_as_soon_as_it_is_known(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "compression")
        for figure in ("100", "98", "60"):
            await here.type(figure)
        assert "Sum:" not in here.words()
        await here.type("101")
        assert "No. 3 low" in line_with(here, "Sum:")


async def test_pictures_at_one_key(busy: Busy) -> None:
    async with standing(busy) as here:
        await go(here, "measure")
        await press(here.pilot, "g")
        screen = here.app.screen
        assert isinstance(screen, PictureScreen)
        assert screen.sheet.kind == "valves", "the task's own sum says which stands first"
        assert "No. 1 at firing dead centre (No. 3 rocks)" in here.words()
        await press(here.pilot, "down")
        assert "No. 4 at firing dead centre" in here.words()
        await press(here.pilot, "up", "up")
        assert "Position 4 of 4" in here.words()
        kinds = []
        for _ in screen.sheets:
            await press(here.pilot, "right")
            kinds.append(screen.sheet.kind)
        assert kinds == ["tags", "cap", "order", "valves"]
        await press(here.pilot, "pageup", "pageup", "pagedown")
        assert screen.sheet.kind == "order"
        await press(here.pilot, "escape")
        assert here.app.screen is here.bench


@pytest.mark.parametrize(("key", "kind"), [("nuts", "order"), ("leads", "cap"), ("brushes", "cap")])
async def test_each_task_is_looked_at_with_its_own_picture(busy: Busy, key: str, kind: str) -> None:
    async with standing(busy) as here:
        await go(here, key)
        await press(here.pilot, "g")
        assert isinstance(here.app.screen, PictureScreen)
        assert here.app.screen.sheet.kind == kind


async def test_in_plain_characters_band_and_outside_stay_apart(busy: Busy) -> None:
    async with standing(busy) as here:
        here.app.plain = True
        await go(here, "measure")
        await here.type("3", enter=False)
        assert " 5 |===" in here.words()
        assert "^ typing 3 thou" in here.words()
        await here.press("escape")
        await press(here.pilot, "g", "left")
        assert isinstance(here.app.screen, PictureScreen)
        assert here.app.screen.sheet.kind == "order"
        await press(here.pilot, "left")
        assert "+===+" in here.words(), "No. 1 in its double frame"


async def test_no_card_no_picture(busy: Busy) -> None:
    async with standing(busy, card=False) as here:
        await press(here.pilot, "g")
        assert not isinstance(here.app.screen, PictureScreen)
        assert "no task in hand" in here.says


# Pictures of it, looked at --------------------------------------------------------------------------------

SIZES = {"80x24": SMALL, "120x40": MIDDLE, "200x50": LARGE}
STATES = {
    "valves": ("measure", ("6", "enter", "7", "enter", "8", "enter", "6", "enter", "6", "enter", "6")),
    "set": ("set", ("6", "enter")),
    "wheels": ("tyres", ("1", "9", "enter", "1", "7", "enter")),
    "compression": (
        "compression",
        ("1", "0", "0", "enter", "9", "8", "enter", "6", "0", "enter", "9", "9", "enter"),
    ),
    "practice": ("brushes", ("8", "enter")),
    "no-number": ("leads", ()),
    "long": ("long", ("9",)),
}


LOOKS = [
    *((state, size) for state in ("valves", "wheels", "compression", "long") for size in SIZES),
    *((state, "120x40") for state in ("set", "practice", "no-number")),
]
PICTURES = [
    *((key, size) for key in ("measure", "leads") for size in SIZES),
    ("nuts", "120x40"),
    ("compression", "80x24"),
]


def app_at(busy: Busy) -> ShopApp:
    return ShopApp(busy.shop, people.person(busy.shop, "Tom"), card_id=busy.card)


@pytest.mark.parametrize(("state", "size"), LOOKS)
def test_task_looks(busy: Busy, snap_compare, state: str, size: str) -> None:
    key, keys = STATES[state]
    app = app_at(busy)

    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6")
        app.screen.choose_task(task_of(busy.shop, busy.card, key))  # type: ignore[attr-defined]
        await press(pilot, *keys)
        await still(pilot)

    assert snap_compare(app, terminal_size=SIZES[size], run_before=stand)


@pytest.mark.parametrize(("key", "size"), PICTURES)
def test_picture_looks(busy: Busy, snap_compare, key: str, size: str) -> None:
    app = app_at(busy)
    if key == "compression":
        task = task_of(busy.shop, busy.card, key)
        for number, typed in enumerate(("100", "98", "60", "99"), 1):
            busy.do(TakeReading(task, f"compression@{number}|as found", typed, unit="psi"))

    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f6")
        app.screen.choose_task(task_of(busy.shop, busy.card, key))  # type: ignore[attr-defined]
        await press(pilot, "g")
        await still(pilot)

    assert snap_compare(app, terminal_size=SIZES[size], run_before=stand)
