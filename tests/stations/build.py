"""A small shop at a standstill clock for the pictures and the acts of the desk: knowledge of its own, invented people.

The shipped templates grow; pictures made from them would change with every word. These here are for tests only.
"""

import asyncio
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from html import unescape
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from shopcli.screens.app import ShopApp
from shopcli.shop.act import Done
from shopcli.shop.commands import (
    AddCustomer,
    AddFinding,
    AddPart,
    AddVehicle,
    ClockOn,
    CloseCard,
    Command,
    FinishTask,
    MoveCard,
    MovePart,
    OpenCard,
    TakePayment,
    TakeReading,
)
from shopcli.store.reads import bench, people
from shopcli.store.shop import Run, Shop
from shopcli.worklists.load import load_library
from tests.told_once import told_once

TEXT = re.compile(r'<text class="[^"]*-r\d+" x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]*)</text>')
CELL = 12.2
PATIENCE = 1_000  # looks, then a screen that broke before it stood is told instead of waited for
KNOWLEDGE = Path(__file__).parent / "knowledge"
HOSTILE = (
    "[/oops] [bold]x[/bold] $text-error [@click=app.quit]out[/]",
    "\u202eright to left\u202c שלום עולם",
    "\x1b[2J\x1b]0;title\x07 bell\x00",
    "車検整備工場" * 20,
    "x" * 10_000,
)
# The same dangers close together, for screens that take seconds to walk through.
MIXED = ("[/o] [@click=app.quit]x[/] \u202eשלום\u202c \x1b[2J\x00", *HOSTILE[3:])
MIXED_IDS = ("everything", "wide", "endless")


def quiet(shop: Shop) -> Shop:
    """Give the shop the knowledge of the tests, and nothing else."""
    shop.library = load_library(KNOWLEDGE, with_shipped=False)
    return shop


def at(day: int, hour: int, minute: int = 0) -> datetime:
    """Return a moment in November 2026 (London and UTC are the same then)."""
    return datetime(2026, 11, day, hour, minute, tzinfo=UTC)


@dataclass
class Story:
    """The shop with something in it, and the ids by name."""

    shop: Shop
    people: dict[str, int]
    cards: dict[str, int] = field(default_factory=dict)
    vehicles: dict[str, int] = field(default_factory=dict)
    customers: dict[str, int] = field(default_factory=dict)

    def app(self, who: str = "Dora") -> ShopApp:
        """Return the application with somebody standing in front of it."""
        return ShopApp(self.shop, people.person(self.shop, who))

    def do(self, command: Command, by: str = "Tom") -> Done:
        """Do something as somebody, at another terminal as it were."""
        return self.shop.do(command, by=self.people[by])

    def task(self, card: str, key: str) -> int:
        """Return the id of a task by its key."""
        return next(t.id for t in bench.card(self.shop, self.cards[card]).tasks if t.task.key == key)

    def state(self, card: str) -> str:
        """Return the state of a card."""
        return bench.card(self.shop, self.cards[card]).state


def story(shop: Shop) -> Story:
    """Fill an empty shop: a card in hand with a dry sump, one held, one booked and late, one that may be closed."""
    quiet(shop)

    def tell() -> tuple[dict[str, int], ...]:
        told = _tell(shop)
        return told.people, told.cards, told.vehicles, told.customers

    return Story(shop, *(dict(ids) for ids in told_once(shop, "story", tell)))


def _tell(shop: Shop) -> Story:
    told = Story(shop, {p.name: p.id for p in people.people(shop)})
    with shop.many() as run:
        _people_and_cars(told, run)
        _cards(told, run)
    with shop.many() as run:
        _work(told, run)
    with shop.many() as run:
        _last_month(told, run)
    return told


def _people_and_cars(told: Story, run: Run) -> None:
    dora = told.people["Dora"]
    for name, phone, cars in (
        ("Ada Lark", "01234 567890", (("LRK 120", "Lark", "1200", 1964, "demo-lark", "mi"),)),
        (
            "Ben Marrow",
            "01234 555012",
            (
                ("BRW 16", "Brindle", "1600 tourer", 1958, "demo-brindle", "mi"),
                ("COV 24", "Corvane", "Six", 1971, "", "km"),
            ),
        ),
        ("Clara Oddy", "", (("HLM 35", "Hallam", "", None, "", "mi"),)),
    ):
        customer = run.do(AddCustomer(name, phone, address="2 Proof Road\nLittle Proof"), by=dora).id
        told.customers[name] = customer
        for registration, make, model, year, sheet, unit in cars:
            command = AddVehicle(customer, registration, make, model, year, sheet, unit)
            told.vehicles[registration] = run.do(command, by=dora).id
    oil = AddPart("T-001", "engine oil", 450, stock_milli=20_000, reorder_milli=1_000, bin="A1", unit="L")
    run.do(oil, by=dora)


def _open(told: Story, run: Run, name: str, when: datetime, command: OpenCard) -> None:
    told.cards[name] = run.do(command, by=told.people["Dora"], at=when).id


def _cards(told: Story, run: Run) -> None:
    cars = told.vehicles
    ada = OpenCard(
        cars["LRK 120"],
        ("oil", "points"),
        words="Runs roughly when warm.",
        odometer=48_213,
        left_with="two keys, a blanket in the boot",
        authority_minor=40_000,
        authority_by="Ada Lark, by phone",
        promised="2026-11-27",
    )
    _open(told, run, "ada", at(23, 9), ada)
    _open(told, run, "ben", at(16, 9), OpenCard(cars["BRW 16"], ("coolant", "brakes"), promised="2026-11-23"))
    corvane = OpenCard(cars["COV 24"], title="Noise from the gearbox in third", promised="2026-12-04")
    _open(told, run, "corvane", at(24, 16), corvane)
    hallam = OpenCard(cars["HLM 35"], ("oil",), odometer=9_120, promised="2026-11-25", authority_minor=30_000)
    _open(told, run, "hallam", at(20, 8, 30), hallam)


def _work(told: Story, run: Run) -> None:
    who = told.people
    tom, nell, olive = who["Tom"], who["Nell"], who["Olive"]
    drain = told.task("ada", "oil:drain")
    run.do(ClockOn(drain), by=tom, at=at(25, 8, 10))
    run.do(FinishTask(drain), by=tom, at=at(25, 9, 0))
    gap = told.task("ada", "points:gap")
    run.do(TakeReading(gap, "points gap|as found", "0.6 mm"), by=tom, at=at(25, 9, 10))
    run.do(ClockOn(gap), by=tom, at=at(25, 9, 5))
    stop = AddFinding(told.cards["ada"], "front left", "brake hose perished", "stop", "a new hose")
    run.do(stop, by=tom, at=at(25, 9, 20))
    adjust = told.task("ben", "brakes:adjust")
    run.do(ClockOn(adjust), by=nell, at=at(17, 9))
    run.do(FinishTask(adjust), by=nell, at=at(17, 12, 30))
    run.do(MoveCard(told.cards["ben"], "held", "waiting for a radiator hose"), by=who["Dora"], at=at(18, 9))
    _finish(told, run, "hallam", at(24, 10))
    run.do(TakePayment(told.cards["hallam"], 5_000), by=olive, at=at(24, 15))


def _finish(told: Story, run: Run, card: str, when: datetime) -> None:
    """Do an oil change from the drain to the look for leaks."""
    nell, day, hour = told.people["Nell"], when.day, when.hour
    for step, key in enumerate(("oil:drain", "oil:fill", "oil:leaks")):
        task = told.task(card, key)
        run.do(ClockOn(task), by=nell, at=at(day, hour + step))
        run.do(FinishTask(task), by=nell, at=at(day, hour + step, 40))
    for line in bench.card(told.shop, told.cards[card]).parts:
        run.do(MovePart(line.id, "fitted"), by=nell, at=at(day, hour + 3))


def _last_month(told: Story, run: Run) -> None:
    """Close a card some weeks ago, so that the weeks and the memory of a car have something to show."""
    dora = told.people["Dora"]
    command = OpenCard(told.vehicles["BRW 16"], (), title="Wiper blades", odometer=61_004)
    card = run.do(command, by=dora, at=at(3, 9)).id
    soon = AddFinding(card, "exhaust", "blowing at the joint", "soon", "a gasket")
    run.do(soon, by=told.people["Nell"], at=at(3, 10))
    run.do(MoveCard(card, "in hand"), by=dora, at=at(3, 11))
    run.do(CloseCard(card), by=dora, at=at(3, 12))
    told.cards["wipers"] = card


# Looking -----------------------------------------------------------------------------------------------


async def settle(pilot: Pilot[None]) -> None:
    """Let everything asked for come in: acts answer by message, and an answer may ask for more.

    Questions to people may stand open.
    """
    for _ in range(12):
        await pilot.pause()
        busy = [worker for worker in pilot.app.workers if worker.group != "asks"]
        if not busy:
            return
        await pilot.app.workers.wait_for_complete(busy)


async def until(pilot: Pilot[None], holds: Callable[[], object]) -> None:
    """Wait until something holds that comes about by itself: a thread does it, or another terminal."""
    async with asyncio.timeout(60):
        while not holds():
            await pilot.pause(0.02)


async def made(pilot: Pilot[None]) -> None:
    """Wait until the first screen is there: the application is ready before it is."""
    for _ in range(PATIENCE):
        if pilot.app.screen.is_mounted:
            return
        await pilot.pause(0.01)
    pytest.fail(f"{pilot.app.screen} never came up")


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after the other, each after what the one before set off."""
    for key in keys:
        await made(pilot)  # a screen that is only on its way takes no key
        await pilot.press(key)
        await settle(pilot)


async def write(pilot: Pilot[None], text: str) -> None:
    """Type a text into what has the focus."""
    await made(pilot)
    field = pilot.app.focused
    assert isinstance(field, Input), field
    field.value = text
    await settle(pilot)


def seen(app: ShopApp) -> str:
    """Return what stands on the screen, line by line, as one would read it."""
    lines: dict[float, list[tuple[float, str]]] = {}
    for x, y, text in TEXT.findall(app.export_screenshot()):
        if text != "\n":
            lines.setdefault(float(y), []).append((float(x), unescape(text).replace("\xa0", " ")))
    return "\n".join(_laid(parts) for _y, parts in sorted(lines.items()))


def _laid(parts: list[tuple[float, str]]) -> str:
    line = ""
    for x, text in sorted(parts):
        line += " " * (round(x / CELL) - len(line)) + text
    return line


async def still(pilot: Pilot[None]) -> None:
    """Make a picture repeatable: no blinking, nothing under way, what the desk asks a little later asked."""
    for _ in range(PATIENCE):
        if getattr(pilot.app.screen, "_painted", True):
            break
        await pilot.pause(0.02)
    else:  # what broke it is told when the application is left
        pytest.fail(f"{pilot.app.screen} never painted itself")
    await settle(pilot)
    for screen in pilot.app.screen_stack:
        for typing in screen.query(Input):
            typing.cursor_blink = False
    await settle(pilot)
