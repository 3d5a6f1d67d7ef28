"""A shop with something in its stores for the pilot tests and pictures: a low shelf, an order late, work out, exchanges."""

from pathlib import Path

from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input

from shopcli.screens import app as app_module
from shopcli.screens.app import ShopApp
from shopcli.screens.stores.page import StoresPage
from shopcli.screens.stores.pages import page
from shopcli.shop.commands import (
    AddOutwork,
    AddPart,
    AddSupplier,
    AddToOrder,
    Command,
    GoodsIn,
    MoveCard,
    MovePart,
    OldUnitBack,
    PutPart,
    SendBack,
    SendOrder,
)
from shopcli.store.reads.people import person
from shopcli.store.shop import Shop
from tests.stations.build import Story, at, seen, settle, story

SPARK, ARMATURE = "Sparkwell Electrics", "Armature & Son"


def full(shop: Shop) -> Story:
    """Fill the stores of the shop of the stations."""
    told = story(shop)
    dora = told.people["Dora"]
    with shop.many() as run:

        def do(command: Command, day: int = 23) -> int:
            return run.do(command, by=dora, at=at(day, 9)).id

        do(AddSupplier(SPARK, "01632 960111", account="TL 44", usual_days=2))
        do(AddSupplier(ARMATURE, "01632 960222"))
        lamp = do(
            AddPart(
                "L-1", "lamp, 6 volt", 150, stock_milli=2_000, reorder_milli=4_000, bin="B4", supplier=SPARK
            )
        )
        do(
            AddPart(
                "L-2", "lamp, 12 volt", 170, stock_milli=9_000, reorder_milli=4_000, bin="B4", supplier=SPARK
            )
        )
        coil = do(AddPart("C-1", "ignition coil", 2_400, bin="B2", supplier=SPARK, pack_milli=1_000))
        dynamo = do(
            AddPart("D-1", "dynamo", 9_000, stock_milli=3_000, surcharge_minor=4_000, supplier=ARMATURE)
        )
        do(MoveCard(told.cards["ben"], "in hand"))
        do(PutPart(told.cards["ben"], None, "radiator hose"))
        do(PutPart(told.cards["ben"], coil))
        do(AddToOrder(1, coil, 3_000), 19)
        do(AddToOrder(1, lamp, 1_000), 19)
        do(SendOrder(1), 19)
        do(GoodsIn(1, 1_000), 24)
        do(AddToOrder(2, dynamo, 2_000))
        do(
            AddOutwork(
                told.cards["ben"],
                "Radiator: new core",
                "Fell & Co",
                9_000,
                13_500,
                "2026-11-16",
                "2026-11-23",
            )
        )
        do(
            AddOutwork(
                told.cards["ada"], "Dynamo: rewind", ARMATURE, 6_400, 9_200, "2026-11-20", "2026-12-02"
            )
        )
        for card in ("ada", "ben"):
            line = do(PutPart(told.cards[card], dynamo))
            do(MovePart(line, "fitted"))
        do(OldUnitBack(line))
        do(SendBack(lamp, 1_000, "wrong base", 150))
    return told


class AtPage(ShopApp):
    """The application as it is, but begun at a page of the stores: the desk beneath is not drawn for every test."""

    CSS_PATH = Path(app_module.__file__).with_name("theme.tcss")

    def __init__(self, told: Story, name: str) -> None:
        super().__init__(told.shop, person(told.shop, "Dora"))
        self._first = name

    def get_default_screen(self) -> Screen[None]:
        return Screen()

    def on_mount(self) -> None:
        self.push_screen(page(self._first))


async def open_page(pilot: Pilot[None], name: str) -> StoresPage:
    """Open the stores and turn to a page."""
    await settle(pilot)
    if not isinstance(pilot.app.screen, StoresPage):
        await pilot.press("ctrl+t")
        await settle(pilot)
    for _ in range(5):
        here = pilot.app.screen
        assert isinstance(here, StoresPage), here
        if name == here.PAGE:
            return here
        await pilot.press("tab")
        await settle(pilot)
    raise AssertionError(name)


async def done(pilot: Pilot[None]) -> None:
    """Wait for acts and looks; a question that stands is waited for by nobody."""
    calm = 0
    while calm < 3:
        busy = [w for w in pilot.app.workers if w.group in {"acts", "looks"}]
        if busy:
            await pilot.app.workers.wait_for_complete(busy)
        await pilot.pause()
        asked = any(getattr(screen, "open_questions", None) for screen in pilot.app.screen_stack)
        calm = 0 if busy or asked else calm + 1


async def keys(pilot: Pilot[None], *pressed: str) -> None:
    """Press keys that may ask something."""
    for key in pressed:
        await pilot.press(key)
        await pilot.pause()
        await done(pilot)


async def answer(pilot: Pilot[None], *texts: str | None) -> None:
    """Answer questions one after the other; None takes what stands in the field."""
    for text in texts:
        field = pilot.app.focused
        assert isinstance(field, Input), field
        if text is not None:
            field.value = text
            await pilot.pause()
        await keys(pilot, "enter")


async def narrow(pilot: Pilot[None], text: str) -> None:
    """Narrow the page by a text."""
    pilot.app.screen.query_one("#find", Input).value = text
    await done(pilot)


def shown(pilot: Pilot[None]) -> str:
    """Return what stands on the screen."""
    return seen(pilot.app)  # type: ignore[arg-type]
