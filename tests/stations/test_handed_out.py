"""In a browser what the screens write is handed to it, and nothing is written to or read from the server's disk.

The browser itself is in `tests.browser.test_in_chromium`; here it is seen of every screen what would be handed out.
"""

import io
import zipfile
from pathlib import Path
from typing import BinaryIO

import pytest

from shopcli.screens.acts import ACTS
from shopcli.screens.app import ShopApp
from shopcli.screens.desk.handing import HandingScreen
from shopcli.screens.keymap import BROWSERS, IN_BROWSER, sound
from shopcli.screens.stores.order_paper import OrderPaper
from shopcli.screens.summary import SummaryScreen
from shopcli.shop.commands import AddSupplier, AddToOrder, CloseCard
from shopcli.store.shop import Shop
from tests.stations.build import press, seen, settle, story

Handed = dict[str, bytes]


@pytest.fixture
def handed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Handed:
    """Return what the application hands to a browser it is in; the folder of papers cannot be made."""
    got: Handed = {}

    def take(_app: ShopApp, file: BinaryIO, *, save_filename: str) -> None:
        assert save_filename not in got
        got[save_filename] = file.read()

    monkeypatch.setattr(ShopApp, "is_web", True)
    monkeypatch.setattr(ShopApp, "deliver_binary", take)
    (tmp_path / "none").write_text("a file, no folder")
    monkeypatch.setattr("shopcli.papers.filing.default_folder", lambda: tmp_path / "none")
    monkeypatch.setattr("shopcli.papers.filing.papers_folder", lambda _shop: tmp_path / "none")
    return got


async def test_every_screen_hands_its_papers_to_the_browser(shop: Shop, handed: Handed) -> None:
    told = story(shop)
    told.do(CloseCard(told.cards["hallam"]), "Dora")
    supplier = told.do(AddSupplier("Armature & Son")).id
    told.do(AddToOrder(supplier, 1, 3_000))
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        app.push_screen(HandingScreen(told.cards["hallam"]))
        await settle(pilot)
        await press(pilot, "f2", "enter", "escape")
        app.push_screen(SummaryScreen(told.cards["ada"]))
        await settle(pilot)
        await press(pilot, "t", "escape")
        app.push_screen(OrderPaper("P00001"))
        await settle(pilot)
        await press(pilot, "f2", "escape")
        app.open_card(told.cards["ada"])
        await settle(pilot)
        await press(pilot, "p", *"hang", "enter", "down", "enter")
        await press(pilot, "p", *"photo", "enter")
        assert "In a browser no photo is added" in seen(app)
        await press(pilot, "f7", "p", "x")
        assert "Handed to the browser: " in seen(app)
    assert b"Armature & Son" in handed.pop("P00001-order.txt")
    names = {name: content[:4] for name, content in handed.items() if name.startswith("J")}
    assert names == {
        "J00004-invoice.pdf": b"%PDF",
        "J00001-summary.txt": b"====",
        "J00001-bench-sheet.txt": handed["J00001-bench-sheet.txt"][:4],
    }
    report, tables = sorted(handed.keys() - names.keys())
    assert (report.endswith("-report.pdf"), handed[report][:4]) == (True, b"%PDF")
    packed = zipfile.ZipFile(io.BytesIO(handed[tables]))
    assert {name.rpartition(".")[2] for name in packed.namelist()} == {"csv", "json"}
    assert packed.testzip() is None


@pytest.mark.parametrize(
    "act", [act for act in ACTS if set(act.keys.split(",")) & BROWSERS], ids=lambda act: act.id
)
def test_what_a_browser_keeps_for_itself_has_another_key(act) -> None:  # type: ignore[no-untyped-def]
    assert not set(IN_BROWSER[act.id].split(",")) & BROWSERS
    assert sound(IN_BROWSER) == (IN_BROWSER, [])
