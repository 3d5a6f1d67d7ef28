"""A console that has plain characters only gets nothing else: no sign above 126 on any screen, and no column moved."""

import pytest
from textual.pilot import Pilot

from shopcli.columns import display_width
from shopcli.plainly import LAST_PLAIN, plainly
from shopcli.screens.app import ShopApp
from shopcli.shop.commands import AddCustomer, AddFinding
from shopcli.shop.settings import Settings
from shopcli.store.place import ASCII_ENVIRONMENT
from shopcli.store.reads.people import person
from shopcli.store.shop import Shop, open_shop
from tests.conftest import Busy
from tests.stations.build import HOSTILE, settle, story

WALK = {
    "desk": (),
    "new card": ("f2", "m", "a", "r"),
    "closing check": ("f3",),
    "summary": ("f4",),
    "week": ("f7",),
    "help": ("f1",),
    "who": ("f8",),
    "bench": ("enter",),
    "reading": ("enter", "down", "6"),
    "tags": ("enter", "t"),
    "sums": ("enter", "w"),
}


def lines(app: ShopApp) -> list[str]:
    """Return what stands on the screen, line by line."""
    return [strip.text for strip in app.screen._compositor.render_strips()][: app.size.height]


def fancy(app: ShopApp) -> set[str]:
    return {sign for line in lines(app) for sign in line if ord(sign) > LAST_PLAIN}


async def look(pilot: Pilot[None], *keys: str) -> None:
    await settle(pilot)
    for key in keys:
        await pilot.press(key)
        await settle_acts(pilot)


async def settle_acts(pilot: Pilot[None]) -> None:
    """Wait for what was asked of the shop; a question to a person may stand open."""
    for _ in range(3):
        busy = [w for w in pilot.app.workers if w.group in {"acts", "looks"}]
        if busy:
            await pilot.app.workers.wait_for_complete(busy)
        await pilot.pause()


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24)], ids=["80x24"])
@pytest.mark.parametrize("keys", WALK.values(), ids=WALK)
async def test_no_sign_above_126_stands_on_any_screen(
    shop: Shop, keys: tuple[str, ...], size: tuple[int, int]
) -> None:
    told = story(shop)
    told.do(AddCustomer("Zoë Åkjær 車検"))
    told.do(AddFinding(told.cards["ada"], "bremse", "Seilzug ¾ gerissen, 車検 °", "watch"))
    app = told.app("Tom")
    app.plain = True
    async with app.run_test(size=size, notifications=True) as pilot:
        await look(pilot, *keys)
        assert fancy(app) == set()
        assert {len(line) for line in lines(app)} == {size[0]}


async def test_without_it_the_signs_are_there(shop: Shop) -> None:
    app = story(shop).app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await look(pilot, "enter")
        assert {"▸", "╭"} <= fancy(app), "or the test above proves nothing"


async def test_large_figures_stay_readable(busy_shop: Busy) -> None:
    app = ShopApp(busy_shop.shop, person(busy_shop.shop, "Tom"), card_id=busy_shop.card)
    app.plain = True
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await look(pilot, "f6")
        app.open_card(busy_shop.card, busy_shop.task("points:set-gap").id)
        await settle_acts(pilot)
        assert fancy(app) == set()
        assert any('#""' in line or "###" in line for line in lines(app)), "a figure is drawn"


def test_settings_or_environment_ask_for_it(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    file = str(shop.place.file)
    who = person(shop, "Tom")
    for text, settings, wanted in (
        ("", Settings(), False),
        ("", Settings(ascii_only=True), True),
        ("1", Settings(), True),
        ("0", Settings(), False),
    ):
        monkeypatch.setenv(ASCII_ENVIRONMENT, text)
        again = open_shop(file, settings=settings, now=shop.now)
        assert ShopApp(again, who).plain is wanted
        again.close()


@pytest.mark.parametrize("text", [*HOSTILE[1:4], "Zoë", "½ inch", "7° BTDC", "0.38–0.43 mm", "Zoe\u0308"])
def test_a_line_keeps_its_columns(text: str) -> None:
    plain = plainly(text)
    assert plain.isascii()
    assert len(plain) >= display_width(text) - text.count("\x1b")
