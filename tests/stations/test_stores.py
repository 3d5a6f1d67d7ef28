"""The stores on the screen: every key of the five pages does what it says, in the records; and how they look."""

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from textual.pilot import Pilot

from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.stores.order_paper import OrderPaper
from shopcli.screens.stores.page import StoresPage
from shopcli.screens.widgets.long_list import LongList
from shopcli.shop.commands import AddOutwork, AddPart, AddToOrder, GoodsIn, MovePart, SendBack
from shopcli.shop.stock import out_of_step
from shopcli.store.reads import bench
from shopcli.store.reads.buying import parts_arrived, purchase, purchases, to_order
from shopcli.store.reads.outwork import exchanges, outwork
from shopcli.store.reads.stock import stocked, suppliers
from shopcli.store.shop import open_shop
from tests.conftest import SETTINGS, Clock
from tests.stations.build import MIXED, MIXED_IDS, Story, still
from tests.stations.stores_help import AtPage, answer, done, full, keys, narrow, open_page, shown


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory, empty_database: Path) -> tuple[Path, Story]:
    """Return the shop's file, and what is in it: made once, copied for each test."""
    file = tmp_path_factory.mktemp("stores") / "full.db"
    shutil.copy(empty_database, file)
    told = full(open_shop(str(file), settings=SETTINGS, now=Clock()))
    told.shop.close()
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return file, told


@pytest.fixture
def told(made_once: tuple[Path, Story], tmp_path: Path) -> Iterator[Story]:
    file, story = made_once
    shutil.copy(file, tmp_path / "shop.db")
    shop = open_shop(str(tmp_path / "shop.db"), settings=SETTINGS, now=Clock())
    shop.library = story.shop.files
    yield replace(story, shop=shop)
    shop.close()


def stands(told: Story, number: str) -> Decimal:
    return stocked(told.shop, number).stock


async def test_the_shelf_is_narrowed_counted_changed_and_taken_back(told: Story) -> None:
    async with told.app().run_test(size=(80, 24), notifications=True) as pilot:
        page = await open_page(pilot, "shelf")
        await narrow(pilot, "lamp b4")
        assert [row.number for row in page.rows if "lamp" in row.name] == ["L-2", "L-1"]
        assert "2 of 5" in shown(pilot)
        await narrow(pilot, "lamp")
        await keys(pilot, "down", "f3")
        assert "1 pc are written. Bin B4." in shown(pilot)
        await answer(pilot, "6")
        assert stands(told, "L-1") == 6
        await keys(pilot, "f4")
        await answer(pilot, "bin", "B5")
        assert (stocked(told.shop, "L-1").bin, page.list.chosen.bin) == ("B5", "B5"), (
            "the list shows it at once"
        )
        await keys(pilot, "f4")
        await answer(pilot, "again", "8")
        await keys(pilot, "f4")
        await answer(pilot, "supplier", "armature")
        part = stocked(told.shop, "L-1")
        assert (part.reorder, part.supplier) == (8, "Armature & Son")
        await keys(pilot, "f11")
        assert "6 counted, 5 more than written" in shown(pilot)
        await keys(pilot, "y")
        assert stands(told, "L-1") == 1
        assert out_of_step(told.shop.fetch) == ()
        await keys(pilot, "enter")
        assert "stock-taking, taken back" in shown(pilot)
        await keys(pilot, "escape", "escape")
        assert page.query_one("#find").value == ""  # type: ignore[attr-defined]
        await keys(pilot, "escape")
        assert not isinstance(pilot.app.screen, StoresPage)


async def test_a_part_is_written_down_ordered_and_goes_its_ways(told: Story) -> None:
    async with AtPage(told, "shelf").run_test(size=(120, 40), notifications=True) as pilot:
        await open_page(pilot, "shelf")
        await keys(pilot, "f2")
        await answer(pilot, "X-9", "split pin", "0.10", "50", "C1")
        part = stocked(told.shop, "X-9")
        assert (part.stock, part.cost, part.price, part.bin) == (50, Decimal("0.10"), Decimal("0.13"), "C1")
        assert "X-9 split pin" in shown(pilot), "what was written down is chosen"
        await keys(pilot, "f9")
        await answer(pilot, "20", "spark")
        assert stocked(told.shop, "X-9").coming == 20
        await narrow(pilot, "lamp 12")
        await keys(pilot, "f12")
        await answer(pilot, "broken", "2", "dropped")
        assert stands(told, "L-2") == 7
        await keys(pilot, "f12")
        await answer(pilot, "goes back", "3", "wrong base", None)
        assert stands(told, "L-2") == 4
        assert [x.credit for x in exchanges(told.shop) if x.reason == "wrong base"][-1] == Decimal("5.10")


async def test_what_is_needed_is_ordered_from_its_supplier_or_another(told: Story) -> None:
    async with AtPage(told, "needs").run_test(size=(80, 24), notifications=True) as pilot:
        page = await open_page(pilot, "needs")
        before = {n.name: n for n in to_order(told.shop)}
        assert set(before) == {"lamp, 6 volt", "radiator hose"}
        assert page.list.chosen.name == "lamp, 6 volt"
        await keys(pilot, "enter")
        assert {n.name for n in to_order(told.shop)} == {"radiator hose"}
        await keys(pilot, "f2")
        assert "No supplier is known" in shown(pilot)
        await keys(pilot, "enter")
        await answer(pilot, "another one", "Hoseley Rubber", "01632 960333")
        await done(pilot)
        assert to_order(told.shop) == ()
        assert "Nothing is to be ordered" in shown(pilot)
        assert purchases(told.shop)[-1].supplier.phone == "01632 960333"
        await keys(pilot, "f4")
        await answer(pilot, "spark", "usual", "4")
        assert next(s for s in suppliers(told.shop) if s.name.startswith("Spark")).usual_days == 4


async def test_all_of_one_supplier_goes_on_one_order_and_one_thing_elsewhere(told: Story) -> None:
    told.do(AddPart("L-3", "lamp, 24 volt", 200, reorder_milli=1_000, supplier="Sparkwell Electrics"))
    async with AtPage(told, "needs").run_test(size=(80, 24), notifications=True) as pilot:
        await open_page(pilot, "needs")
        await narrow(pilot, "24")
        await keys(pilot, "f3")
        await answer(pilot, "armature")
        assert [x.name for x in purchase(told.shop, "2").lines] == ["dynamo", "lamp, 24 volt"]
        await narrow(pilot, "")
        await keys(pilot, "f2")
        assert [x.name for x in purchase(told.shop, "3").lines] == ["lamp, 6 volt"]


async def test_goods_come_in_with_a_few_keys(told: Story) -> None:
    async with AtPage(told, "purchases").run_test(size=(80, 24), notifications=True) as pilot:
        page = await open_page(pilot, "purchases")
        assert page.list.chosen.line.name == "ignition coil"
        await keys(pilot, "enter")
        assert "2 pc are to come" in shown(pilot)
        await answer(pilot, "3")
        assert "2 were to come, 3 came?" in shown(pilot)
        await keys(pilot, "n")
        assert stands(told, "C-1") == 1, "counted again: nothing was taken in"
        await keys(pilot, "enter", "3")
        assert pilot.app.focused.value == "3", "what was to come gives way to what came"  # type: ignore[union-attr]
        await answer(pilot, None)
        await keys(pilot, "y")
        await answer(pilot, "25.50")
        assert (stands(told, "C-1"), stocked(told.shop, "C-1").cost) == (4, Decimal("25.50"))
        assert page.list.chosen.line.name == "lamp, 6 volt", "the next one is chosen"
        await keys(pilot, "enter")
        await answer(pilot, None, None)
        assert purchase(told.shop, "1").state == "in"
        await keys(pilot, "f2")
        assert "2 pc dynamo" in shown(pilot)
        await keys(pilot, "y")
        assert (purchase(told.shop, "2").state, stands(told, "D-1")) == ("in", 3)
        assert "No order is under way" in shown(pilot)


async def test_an_order_is_changed_sent_and_given_up(told: Story, tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setattr("shopcli.screens.saving.default_folder", lambda: tmp_path)
    async with AtPage(told, "purchases").run_test(size=(120, 40), notifications=True) as pilot:
        await open_page(pilot, "purchases")
        await keys(pilot, "f4")
        await answer(pilot, "due", "+3")
        assert str(purchase(told.shop, "1").lines[0].due) == "2026-11-28"
        await keys(pilot, "f9")
        await answer(pilot, "discontinued")
        assert purchase(told.shop, "1").lines[0].closed_for == "discontinued"
        await narrow(pilot, "dynamo")
        await keys(pilot, "f4")
        await answer(pilot, "how many", "5")
        await keys(pilot, "f3")
        assert isinstance(pilot.app.screen, OrderPaper)
        assert "P00002" in shown(pilot)
        await keys(pilot, "f2")
        await answer(pilot, None)
        assert "Armature & Son" in (tmp_path / "P00002-order.txt").read_text(encoding="utf-8")
        await keys(pilot, "f3")
        assert purchase(told.shop, "2").state == "sent"
        await keys(pilot, "escape", "f12")
        await answer(pilot, "too dear")
        assert (purchase(told.shop, "2").state, purchase(told.shop, "2").cancelled_for) == (
            "cancelled",
            "too dear",
        )


async def test_a_line_is_taken_off_the_draft(told: Story) -> None:
    async with AtPage(told, "purchases").run_test(size=(80, 24), notifications=True) as pilot:
        await open_page(pilot, "purchases")
        await narrow(pilot, "dynamo")
        await keys(pilot, "f4")
        await answer(pilot, "expected", "95")
        assert purchase(told.shop, "2").lines[0].cost == 95
        await keys(pilot, "f4")
        await answer(pilot, "take it off")
        assert purchase(told.shop, "2").state == "cancelled"


async def test_work_goes_out_and_comes_back(told: Story) -> None:
    async with AtPage(told, "outwork").run_test(size=(120, 40), notifications=True) as pilot:
        page = await open_page(pilot, "outwork")
        assert "2 days over" in shown(pilot)
        assert (page.list.chosen.what, page.list.chosen.days_over) == ("Radiator: new core", 2)
        await keys(pilot, "f4")
        await answer(pilot, "due", "fri")
        await keys(pilot, "f4")
        await answer(pilot, "ring", "Jo, 01632 960444")
        one = outwork(told.shop)[0]
        assert (str(one.due), one.ring) == ("2026-11-27", "Jo, 01632 960444")
        await keys(pilot, "enter")
        await answer(pilot, None, "140")
        assert [o.what for o in outwork(told.shop)] == ["Dynamo: rewind"]
        await keys(pilot, "f2")
        await answer(pilot, "LRK", "Head: skim", "Fell & Co", "60", "+5")
        assert [(o.what, o.card_id) for o in outwork(told.shop)][-1][1] == told.cards["ada"]
        await keys(pilot, "f3")
        assert isinstance(pilot.app.screen, BenchScreen)


async def test_an_exchange_is_taken_step_by_step_to_its_credit(told: Story) -> None:
    async with AtPage(told, "exchanges").run_test(size=(80, 24), notifications=True) as pilot:
        page = await open_page(pilot, "exchanges")
        assert [x.stands for x in page.rows] == ["customer owes", "here", "credit to come"]
        await narrow(pilot, "LRK")
        await keys(pilot, "enter")
        assert page.list.chosen.stands == "here"
        await keys(pilot, "enter")
        assert page.list.chosen.stands == "credit to come"
        await keys(pilot, "enter")
        await answer(pilot, "35")
        assert "Nothing fits" in shown(pilot)
        await keys(pilot, "f4")
        assert (page.list.chosen.stands, page.list.chosen.credited) == ("credited", 35)
        await keys(pilot, "enter", "f4")
        await narrow(pilot, "lamp")
        await keys(pilot, "f3")
        assert "came from the shelf" in shown(pilot)
        await narrow(pilot, "BRW")
        await keys(pilot, "f3")
        assert isinstance(pilot.app.screen, BenchScreen)


async def test_the_desk_holds_a_card_for_its_parts_and_is_told_when_they_came(told: Story) -> None:
    line = next(p for p in bench.card(told.shop, told.cards["ben"]).parts if p.description == "ignition coil")
    told.do(MovePart(line.id, "on order"))
    async with told.app().run_test(size=(120, 40), notifications=True) as pilot:
        await done(pilot)
        await narrow(pilot, "BRW")
        await keys(pilot, "f9")
        assert "1 part on order; it goes on by itself" in shown(pilot)
        await answer(pilot, None)
        assert told.state("ben") == "held"
        told.do(GoodsIn(1, 1_000))
        await done(pilot)
        assert told.state("ben") == "in hand"
        await keys(pilot, "escape")
        await done(pilot)
        assert "1 part arrived" in shown(pilot)
        assert [a.card_id for a in parts_arrived(told.shop)] == [told.cards["ben"]]
        await narrow(pilot, "LRK")
        await keys(pilot, "f9")
        assert "in a few words" in shown(pilot), "nothing is on order for it: only the reason is asked"


async def test_five_thousand_parts_are_drawn_where_they_are_seen_only(told: Story) -> None:
    with sqlite3.connect(str(told.shop.place.file)) as connection:
        names = [
            row[1]
            for row in connection.execute("PRAGMA table_info(part)")
            if row[1] not in {"id", "number", "name"}
        ]
        insert = f"INSERT INTO part (number, name, {', '.join(names)}) SELECT ?, ?, {', '.join(names)} FROM part WHERE id = 4"
        connection.executemany(insert, [(f"Z{n:05d}", f"part {n:05d}") for n in range(5_000)])
    async with AtPage(told, "shelf").run_test(size=(80, 24), notifications=True) as pilot:
        page = await open_page(pilot, "shelf")
        assert len(page.rows) == 5_005
        drawn: list[int] = []
        line: Callable[..., object] = page.line
        page.line = lambda row, width: (drawn.append(row.id), line(row, width))[1]  # type: ignore[assignment, func-returns-value, method-assign]
        await narrow(pilot, "part 04")
        assert "1179 of 5005" in shown(pilot)
        await keys(pilot, "pagedown", "pagedown", "down")
        assert len(drawn) < 100
        listed = page.query_one(LongList)
        assert listed.chosen_key == str(page.list.chosen.id)
        assert page.list.chosen.name in shown(pilot)


NARROW, USUAL, WIDE = (80, 24), (120, 40), (200, 50)
PAGES = ("shelf", "needs", "purchases", "outwork", "exchanges")
PICTURES = [(name, size) for name in PAGES for size in (NARROW, USUAL)] + [
    ("shelf", WIDE),
    ("purchases", WIDE),
]


@pytest.mark.parametrize(("name", "size"), PICTURES, ids=[f"{name}-{size[0]}" for name, size in PICTURES])
def test_the_pages(told: Story, snap_compare, name: str, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    async def stand(pilot: Pilot[None]) -> None:
        await open_page(pilot, name)
        await still(pilot)

    assert snap_compare(AtPage(told, name), terminal_size=size, run_before=stand)


@pytest.mark.parametrize("what", ["story", "paper", "goods"])
def test_what_lies_over_them(told: Story, snap_compare, what: str) -> None:  # type: ignore[no-untyped-def]
    async def stand(pilot: Pilot[None]) -> None:
        await open_page(pilot, "shelf" if what == "story" else "purchases")
        if what == "story":
            await narrow(pilot, "lamp 6")
        await keys(pilot, "f3" if what == "paper" else "enter")
        for field in pilot.app.screen.query("Input"):
            field.cursor_blink = False  # type: ignore[attr-defined]
        await done(pilot)

    assert snap_compare(
        AtPage(told, "shelf" if what == "story" else "purchases"), terminal_size=(80, 24), run_before=stand
    )


ODD = [
    pytest.param(text, id=name, marks=[pytest.mark.long] if n else [])
    for n, (text, name) in enumerate(zip(MIXED, MIXED_IDS, strict=True))
]


@pytest.mark.parametrize("odd", ODD)
async def test_odd_names_are_shown_not_obeyed(told: Story, odd: str) -> None:
    told.do(AddPart("ODD", odd[:80], 100, reorder_milli=1_000, supplier=odd[:80], bin=odd[:20]))
    told.do(AddOutwork(told.cards["ada"], odd[:100], odd[:80], ring=odd[:80]))
    part = told.shop.fetch("SELECT id, supplier_id FROM part WHERE number = 'ODD'")[0]
    told.do(AddToOrder(part[1], part[0], 2_000))
    told.do(SendBack(told.do(AddPart("ODD2", "x", 1, stock_milli=1_000)).id, 1_000, odd[:300], 5, part[1]))
    async with AtPage(told, "shelf").run_test(size=(80, 24), notifications=True) as pilot:
        await open_page(pilot, "shelf")
        for _ in range(5):
            await keys(pilot, "pagedown", "tab")
        await narrow(pilot, "odd")
        await keys(pilot, "enter", "escape", "f3", "escape")
        assert isinstance(pilot.app.screen, StoresPage)
