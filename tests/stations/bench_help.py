"""A bench to stand at: a shop with a card of the tests' own templates, and small helpers for the keys."""

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from textual import events
from textual.pilot import Pilot
from textual.widgets import Input

from shopcli.screens.app import ShopApp
from shopcli.screens.bench.station import BenchScreen
from shopcli.shop.commands import AddCustomer, AddPart, AddVehicle, OpenCard
from shopcli.store.reads import people
from shopcli.store.shop import Shop
from shopcli.worklists.library import Library
from shopcli.worklists.load import load_library
from tests.conftest import Busy, Clock
from tests.stations.build import press
from tests.told_once import told_once

KIT = Path(__file__).parent / "bench_kit"
BENCH_LIBRARY = load_library(KIT, with_shipped=False)
SMALL, MIDDLE, LARGE = (80, 24), (120, 40), (200, 50)


def bench_shop(make_shop: Callable[..., Shop], clock: Clock, library: Library = BENCH_LIBRARY) -> Busy:
    """Return a shop with one card of the bench's test template."""
    shop = make_shop(now=clock)
    shop.library = library
    return Busy(shop, clock, *told_once(shop, f"bench {id(library)}", lambda: _filled(shop)))


def _filled(shop: Shop) -> tuple[dict[str, int], int, int, int]:
    who = {p.name: p.id for p in people.people(shop)}
    with shop.many() as run:
        dora = who["Dora"]
        customer = run.do(AddCustomer("Ada Twin", "01234 567890"), by=dora).id
        vehicle = run.do(AddVehicle(customer, "TWN 2", "Twin", "500", 1960, sheet="bench-twin"), by=dora).id
        run.do(
            AddPart("T-002", "contact set", 620, stock_milli=2_000, reorder_milli=1_000, bin="A1"), by=dora
        )
        card = run.do(OpenCard(vehicle, ("bench-test",), odometer=12_345), by=dora).id
    return who, customer, vehicle, card


@dataclass
class Standing:
    """Somebody standing at the bench, with fingers on the keys."""

    busy: Busy
    app: ShopApp
    pilot: Pilot[None]

    @property
    def bench(self) -> BenchScreen:
        screen = self.app.screen_stack[0]
        assert isinstance(screen, BenchScreen)
        return screen

    @property
    def says(self) -> str:
        """What the line of answers says."""
        return self.bench.said.says

    async def settle(self) -> None:
        """Wait until everything asked of the shop is answered and shown. Questions to people may stand open."""
        for _ in range(3):
            busy = [w for w in self.app.workers if w.group in {"acts", "looks"}]
            if busy:  # waiting for none would mean waiting for all, the open question too
                await self.app.workers.wait_for_complete(busy)
            await self.pilot.pause()

    async def press(self, *keys: str) -> None:
        await self.pilot.press(*keys)
        await self.settle()

    def at_once(self, *keys: str) -> None:
        """Press keys as fast as a line carries them, none waiting for what the one before sets off."""
        for key in keys:
            self.app.post_message(events.Key(key, key if len(key) == 1 else None))

    async def type(self, text: str, *, enter: bool = True) -> None:
        """Type text as fingers do; into a field that is open already all but the last sign comes at once."""
        if isinstance(self.app.focused, Input) and len(text) > 1:
            self.app.focused.post_message(events.Paste(text[:-1]))
            await self.pilot.pause()
            text = text[-1]
        names = {
            " ": "space",
            ".": "full_stop",
            ",": "comma",
            '"': "quotation_mark",
            "-": "minus",
            ":": "colon",
        }
        await self.pilot.press(*(names.get(c, c) for c in text))
        if enter:
            await self.pilot.press("enter")
        await self.settle()

    async def go(self, key: str) -> None:
        """Take a task of the card in hand."""
        self.bench.said.clear()
        self.bench.choose_task(self.busy.task(f"bench-test:{key}").id)
        await self.pilot.pause()

    def rows(self, sql: str, *params: object) -> list[tuple[object, ...]]:
        return self.busy.shop.fetch(sql, params)

    def words(self) -> str:
        """Every word on the screen, read off the picture."""
        _width, height = self.app.size
        strips = self.app.screen._compositor.render_strips()
        return "\n".join(strip.text for strip in strips[:height])


@asynccontextmanager
async def standing(
    busy: Busy, who: str = "Tom", size: tuple[int, int] = MIDDLE, card: bool = True
) -> AsyncIterator[Standing]:
    """Open the application at the bench."""
    person = next(p for p in people.people(busy.shop) if p.name == who)
    app = ShopApp(busy.shop, person, card_id=busy.card if card else None)
    async with app.run_test(size=size, notifications=True) as pilot:
        here = Standing(busy, app, pilot)
        await press(pilot, "f6")
        yield here
