"""Orders over real records: what is to be ordered, drafted, sent, taken in for shelf and cards, given up; what goes back."""

import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shopcli.errors import BadInput, Refused, Stale
from shopcli.shop.act import Done
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import (
    AddPart,
    AddSupplier,
    AddToOrder,
    CancelOrder,
    ChangeOrderLine,
    Command,
    CreditCame,
    DraftOrder,
    GoodsIn,
    MoveCard,
    MovePart,
    NotComing,
    OldUnitBack,
    OrderShort,
    PartArrived,
    PutPart,
    SendBack,
    SendOldUnit,
    SendOrder,
)
from shopcli.shop.needs import Need, needs
from shopcli.shop.stock import out_of_step
from shopcli.store.shop import open_shop
from shopcli.worklists.library import Library
from tests.conftest import SETTINGS, Busy, Clock, fill
from tests.shop.test_fitting import line, stock
from tests.shop.test_stock import part_id, prices


def do(busy: Busy, command: Command, by: str = "Tom") -> Done:
    return busy.do(command, by)  # type: ignore[return-value]


@pytest.fixture(scope="session")
def buying_once(
    tmp_path_factory: pytest.TempPathFactory, empty_database: Path, library: Library
) -> tuple[Path, Busy]:
    """Return a file with the busy shop, a supplier, a low shelf of lamps and an exchange unit: copied for each test."""
    file = tmp_path_factory.mktemp("buying") / "shop.db"
    shutil.copy(empty_database, file)
    shop = open_shop(str(file), settings=SETTINGS, now=(clock := Clock()))
    shop.library = library
    busy = fill(shop, clock)
    supplier = do(busy, AddSupplier("Sparkwell Electrics", "01632 960111", usual_days=2)).id
    lamps = AddPart("L-1", "lamp", 100, stock_milli=2000, reorder_milli=4000, supplier="Sparkwell Electrics")
    lamp = do(busy, replace(lamps, pack_milli=5000, bin="B4")).id
    starter = AddPart("D-2", "starter", 9000, stock_milli=1000, surcharge_minor=2500)
    busy.more |= {"lamp": lamp, "supplier": supplier}
    busy.more["starter"] = do(busy, replace(starter, supplier="Armature & Son")).id
    shop.close()
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return file, busy


@pytest.fixture
def buying(buying_once: tuple[Path, Busy], tmp_path: Path, library: Library) -> Iterator[Busy]:
    file, busy = buying_once
    shutil.copy(file, tmp_path / "shop.db")
    shop = open_shop(str(tmp_path / "shop.db"), settings=SETTINGS, now=(clock := Clock()))
    shop.library = library
    yield replace(busy, shop=shop, clock=clock)
    shop.close()


def wanted(busy: Busy) -> dict[str, Need]:
    return {need.name: need for need in needs(busy.shop.fetch)}


def order(busy: Busy, number: str = "P00001") -> tuple[object, ...]:
    return busy.shop.fetch("SELECT state, cancelled_for FROM purchase_order WHERE number = ?", (number,))[0]


def order_line(busy: Busy, name: str) -> tuple[int, int]:
    """Return id and version of the last line of that name."""
    sql = "SELECT id, version FROM order_line WHERE description = ? ORDER BY id DESC"
    return busy.shop.fetch(sql, (name,))[0]  # type: ignore[return-value]


def test_the_list_has_what_cards_and_shelf_are_short_of(buying: Busy) -> None:
    do(buying, PutPart(buying.card, None, "headlamp rim"))
    found = wanted(buying)
    assert (found["lamp"].qty_milli, found["lamp"].lines) == (5000, ()), "a whole pack, for the shelf"
    assert found["headlamp rim"].key.startswith("line:")
    contact = found["contact set"]
    assert (contact.qty_milli, contact.lines) == (1000, ()), (
        "one of two is wanted: the reorder point comes near"
    )
    do(buying, PutPart(buying.card, part_id(buying, "T-002"), qty_milli=4000))
    assert wanted(buying)["contact set"].qty_milli == 5000, (
        "5 wanted, 2 there, 2 to stand above the reorder point of 1"
    )
    assert [w.card for w in wanted(buying)["contact set"].lines] == ["J00001"]


def test_nothing_is_ordered_twice(buying: Busy) -> None:
    supplier = buying.more["supplier"]
    assert do(buying, DraftOrder(supplier)).said == ("Order P00001, Sparkwell Electrics: 5 pc lamp.",)
    assert "lamp" not in wanted(buying)
    with pytest.raises(Refused, match="nothing is to be ordered from Sparkwell"):
        do(buying, DraftOrder(supplier))
    do(buying, PutPart(buying.card, buying.more["lamp"], qty_milli=7000))
    assert wanted(buying)["lamp"].qty_milli == 5000, "7 wanted, 2 there, 5 coming; 5 more keep the shelf"
    do(buying, DraftOrder(supplier))
    lines = buying.shop.fetch("SELECT qty_milli FROM order_line")
    assert lines == [(10_000,)], "more of the same stands on the same line"


def test_what_is_asked_for_by_hand_is_ordered_whatever_the_shelf_says(buying: Busy) -> None:
    kit = line(buying, "contact set")
    do(buying, MovePart(kit.id, "on order"))
    assert wanted(buying)["contact set"].qty_milli == 1000
    assert wanted(buying)["contact set"].supplier == ""
    do(buying, DraftOrder(buying.more["supplier"], (f"part:{kit.part_id}",)))
    assert "contact set" not in wanted(buying)
    kept = buying.shop.fetch("SELECT supplier FROM part WHERE id = ?", (kit.part_id,))
    assert kept == [("Sparkwell Electrics",)], "who it was bought from is remembered"
    with pytest.raises(Refused, match="is not to be ordered"):
        do(buying, DraftOrder(buying.more["supplier"], ("part:99",)))


def drafted(buying: Busy) -> None:
    """Have a card wait for a headlamp rim and six lamps of ten, all drafted."""
    do(buying, PutPart(buying.card, None, "headlamp rim"))
    do(buying, PutPart(buying.card, buying.more["lamp"], qty_milli=6000))
    line_id = wanted(buying)["headlamp rim"].key
    do(buying, DraftOrder(buying.more["supplier"], (line_id, f"part:{buying.more['lamp']}")))


def test_an_order_is_sent_and_due_when_the_supplier_usually_comes(buying: Busy) -> None:
    drafted(buying)
    assert do(buying, SendOrder(1)).said == ("Order P00001 is sent, due 2026-11-27.",), (
        "Wednesday and two days"
    )
    with pytest.raises(Refused, match="is sent already"):
        do(buying, SendOrder(1))
    key, version = order_line(buying, "lamp")
    with pytest.raises(Refused, match="quantities stand"):
        do(buying, ChangeOrderLine(key, version, qty_milli=1000))
    do(buying, ChangeOrderLine(key, version, due="2026-12-04"))
    with pytest.raises(Stale):
        do(buying, ChangeOrderLine(key, version, due="2026-12-05"))
    with pytest.raises(BadInput, match="not a date"):
        do(buying, ChangeOrderLine(key, version + 1, due="soon"))


def test_goods_come_in_in_part_for_the_card_and_the_shelf(buying: Busy) -> None:
    drafted(buying)
    do(buying, SendOrder(1))
    do(buying, MoveCard(buying.card, "held", "waiting for parts", for_parts=True), "Dora")
    lamp, rotor = order_line(buying, "lamp")[0], order_line(buying, "headlamp rim")[0]
    first = do(buying, GoodsIn(lamp, 3000)).said
    assert first == ("In: 3 pc lamp, order P00001.", "To bin B4."), (
        "too few for the card: they lie on the shelf"
    )
    assert order(buying)[0] == "part in"
    second = do(buying, GoodsIn(rotor, 1000, 450)).said
    assert second[1:] == (
        "It cost 4.50 instead of 0.00.",
        "For J00001, LRK 120: headlamp rim. 1 more on order for it.",
    )
    assert (line(buying, "headlamp rim").state, line(buying, "headlamp rim").price) == (
        "wanted",
        Decimal("5.85"),
    )
    third = do(buying, GoodsIn(lamp, 7000)).said
    assert third[-1] == "For J00001, LRK 120: lamp. Bin B4. All its parts are here: it is in hand again."
    assert (order(buying)[0], buying.view().state, stock(buying, "L-1")) == ("in", "in hand", 12_000)
    assert line(buying, "lamp").state == "wanted"
    assert out_of_step(buying.shop.fetch) == ()


def test_a_card_held_for_another_reason_stays_held(buying: Busy) -> None:
    drafted(buying)
    do(buying, MoveCard(buying.card, "held", "the customer thinks about it"), "Dora")
    said = do(buying, GoodsIn(order_line(buying, "lamp")[0], 10_000)).said
    assert "It was not marked as sent; it is now." in said
    do(buying, GoodsIn(order_line(buying, "headlamp rim")[0], 1000))
    assert buying.view().state == "held"


def test_more_than_was_ordered_is_taken_only_when_it_is_said(buying: Busy) -> None:
    drafted(buying)
    lamp = order_line(buying, "lamp")[0]
    with pytest.raises(BadInput, match="12 pc lamp came, 10 were to come"):
        do(buying, GoodsIn(lamp, 12_000))
    assert stock(buying, "L-1") == 2000
    said = do(buying, GoodsIn(lamp, 12_000, over=True)).said
    assert said[1] == "12 pc lamp came, 10 were to come: 2 more than ordered."
    assert stock(buying, "L-1") == 14_000


def test_another_cost_is_kept_with_its_past_and_on_what_is_not_fitted(buying: Busy) -> None:
    drafted(buying)
    said = do(buying, GoodsIn(order_line(buying, "lamp")[0], 10_000, 130)).said
    assert "It cost 1.30 instead of 1.00." in said
    assert "It still sells at 1.30; your markup would make it 1.69." in said
    assert prices(buying, "L-1")[-1] == (130, 130, "goods came in at another cost")
    assert buying.shop.fetch("SELECT cost_minor, price_minor FROM card_part WHERE description = 'lamp'") == [
        (130, 130)
    ]


def test_what_is_not_coming_is_to_be_ordered_again(buying: Busy) -> None:
    drafted(buying)
    do(buying, SendOrder(1))
    lamp, rotor = order_line(buying, "lamp")[0], order_line(buying, "headlamp rim")[0]
    do(buying, GoodsIn(lamp, 1000))
    said = do(buying, NotComing(lamp, "discontinued")).said
    assert said == ("9 pc lamp not coming (discontinued). It is to be ordered again.",)
    assert wanted(buying)["lamp"].qty_milli == 10_000
    with pytest.raises(Refused, match="not coming: discontinued"):
        do(buying, GoodsIn(lamp, 1000))
    do(buying, NotComing(rotor, "wrong list"))
    assert order(buying)[0] == "in", "one lamp came, nothing more will"


def test_an_order_given_up_frees_what_waited_for_it(buying: Busy) -> None:
    drafted(buying)
    with pytest.raises(BadInput, match="reason"):
        do(buying, CancelOrder(1, ""))
    said = do(buying, CancelOrder(1, "too dear")).said
    assert said == ("Order P00001: given up (too dear). 2 for cards to be ordered again.",)
    assert {"lamp", "headlamp rim"} <= set(wanted(buying))
    with pytest.raises(Refused, match="is cancelled"):
        do(buying, GoodsIn(order_line(buying, "lamp")[0], 1000))
    drafted_again = do(buying, DraftOrder(buying.more["supplier"])).said[0]
    assert drafted_again.startswith("Order P00002"), "the number of the other is not used again"


def test_of_an_order_partly_in_the_rest_is_given_up(buying: Busy) -> None:
    drafted(buying)
    do(buying, GoodsIn(order_line(buying, "lamp")[0], 10_000))
    do(buying, CancelOrder(1, "shut for good"))
    assert order(buying) == ("in", "shut for good")


def test_a_line_taken_off_the_draft_is_on_the_list_again(buying: Busy) -> None:
    drafted(buying)
    key, version = order_line(buying, "headlamp rim")
    assert do(buying, ChangeOrderLine(key, version, qty_milli=0)).said == (
        "headlamp rim is off order P00001.",
    )
    assert "headlamp rim" in wanted(buying)
    key, version = order_line(buying, "lamp")
    do(buying, ChangeOrderLine(key, version, qty_milli=0))
    assert order(buying) == ("cancelled", "nothing was left on it")
    with pytest.raises(Refused, match="is cancelled"):
        do(buying, ChangeOrderLine(key, version + 1, due="2026-12-01"))


def test_a_part_is_put_on_an_order_by_hand(buying: Busy) -> None:
    said = do(buying, AddToOrder(buying.more["supplier"], buying.more["lamp"], 20_000)).said
    assert said == ("Order P00001, Sparkwell Electrics: 20 pc lamp.",)
    assert "lamp" not in wanted(buying)


def test_what_arrives_at_the_bench_is_taken_in_against_its_order(buying: Busy) -> None:
    drafted(buying)
    said = do(buying, PartArrived(line(buying, "lamp").id)).said
    assert said[0] == "In: 6 pc lamp, order P00001."
    assert buying.shop.fetch("SELECT qty_milli, in_milli FROM order_line WHERE description = 'lamp'") == [
        (10_000, 6000)
    ]
    assert stock(buying, "L-1") == 8000


def test_a_line_that_does_not_wait_any_more_leaves_its_order_to_the_shelf(buying: Busy) -> None:
    drafted(buying)
    said = do(buying, MovePart(line(buying, "lamp").id, "not used")).said
    assert said[-1] == "It stays on order P00001: what comes lies on the shelf then."
    do(buying, GoodsIn(order_line(buying, "lamp")[0], 10_000))
    assert (line(buying, "lamp").state, stock(buying, "L-1")) == ("not used", 12_000)


def test_goods_for_nobody_in_particular_go_to_a_card_that_waits(buying: Busy) -> None:
    do(buying, AddToOrder(buying.more["supplier"], buying.more["lamp"], 20_000))
    put = do(buying, PutPart(buying.card, buying.more["lamp"], qty_milli=3000)).id
    do(buying, OrderShort(buying.card))
    assert line(buying, "lamp").state == "on order"
    said = do(buying, GoodsIn(order_line(buying, "lamp")[0], 20_000)).said
    assert said[-1].startswith("For J00001, LRK 120: lamp.")
    assert buying.shop.fetch("SELECT state FROM card_part WHERE id = ?", (put,)) == [("wanted",)]


def test_a_part_goes_back_to_its_supplier_for_a_credit(buying: Busy) -> None:
    with pytest.raises(Refused, match="2 pc lamp on the shelf"):
        do(buying, SendBack(buying.more["lamp"], 3000, "wrong base"))
    with pytest.raises(BadInput, match="no supplier"):
        do(buying, SendBack(part_id(buying, "T-002"), 1000, "wrong"))
    done = do(buying, SendBack(buying.more["lamp"], 2000, "wrong base", 200))
    assert done.said == ("Back to Sparkwell Electrics: 2 pc lamp; a credit of 2.00 is to come.",)
    assert stock(buying, "L-1") == 0
    assert do(buying, CreditCame(done.id, 150)).said == ("Credit for lamp: 1.50.", "2.00 was expected.")
    with pytest.raises(Refused, match="came already"):
        do(buying, CreditCame(done.id, 150))


def test_an_old_unit_goes_from_the_customer_to_the_supplier(buying: Busy) -> None:
    put = do(buying, PutPart(buying.card, buying.more["starter"])).id
    do(buying, MovePart(put, "fitted"))
    with pytest.raises(Refused, match="is not here"):
        do(buying, SendOldUnit(put))
    do(buying, OldUnitBack(put))
    done = do(buying, SendOldUnit(put))
    assert done.said == ("Old unit of starter to Armature & Son; a credit of 25.00 is to come.",)
    with pytest.raises(Refused, match="sent already"):
        do(buying, SendOldUnit(put))
    with pytest.raises(Refused, match="no exchange unit"):
        do(buying, SendOldUnit(line(buying, "contact set").id))


@pytest.mark.parametrize(
    "act", ["draft", "send", "part", "all", "not coming", "cancel", "back", "count", "off"]
)
def test_each_of_them_is_taken_back(buying: Busy, act: str) -> None:
    from shopcli.shop.commands import CountStock

    do(buying, PutPart(buying.card, None, "headlamp rim"))
    do(buying, PutPart(buying.card, buying.more["lamp"], qty_milli=6000))
    draft = DraftOrder(
        buying.more["supplier"], (wanted(buying)["headlamp rim"].key, f"part:{buying.more['lamp']}")
    )
    if act != "draft":
        do(buying, draft)
    lamp, version = (0, 0) if act == "draft" else order_line(buying, "lamp")
    command = {
        "draft": draft,
        "send": SendOrder(1),
        "part": GoodsIn(lamp, 3000, 130),
        "all": GoodsIn(lamp, 10_000),
        "not coming": NotComing(lamp, "why"),
        "cancel": CancelOrder(1, "why"),
        "back": SendBack(buying.more["lamp"], 1000, "why", 50),
        "count": CountStock(((buying.more["lamp"], 9000),)),
        "off": ChangeOrderLine(lamp, version, qty_milli=0),
    }[act]
    before = stands(buying)
    do(buying, command)
    assert stands(buying) != before
    do(buying, TakeBack(buying.shop.fetch("SELECT MAX(id) FROM journal")[0][0]))
    assert stands(buying) == before
    assert out_of_step(buying.shop.fetch) == ()
    assert prices(buying, "L-1")[-1][:2] == (100, 130)


def stands(busy: Busy) -> dict[str, list[tuple[object, ...]]]:
    """Return what the records of buying say, without what was given up."""
    fetch = busy.shop.fetch
    return {
        "parts": fetch("SELECT id, stock_milli, cost_minor, price_minor, supplier FROM part ORDER BY id"),
        "lines": fetch(
            "SELECT id, state, cost_minor, price_minor, order_line_id, arrived_at FROM card_part ORDER BY id"
        ),
        "orders": fetch(
            "SELECT n.id, n.qty_milli, n.in_milli, n.due, n.cost_minor, o.state FROM order_line n"
            " JOIN purchase_order o ON o.id = n.order_id WHERE n.closed_for = '' ORDER BY n.id"
        ),
        "back": fetch("SELECT id FROM sent_back ORDER BY id"),
        "needs": [(n.key, n.qty_milli) for n in needs(fetch)],
    }


def test_an_order_others_put_something_on_is_not_given_up_behind_their_back(buying: Busy) -> None:
    drafted(buying)
    act = buying.shop.fetch("SELECT MAX(id) FROM journal")[0][0]
    do(buying, AddToOrder(buying.more["supplier"], part_id(buying, "T-003"), 1000), "Nell")
    with pytest.raises(Refused, match="by Nell at 10:15 was built on it since"):
        do(buying, TakeBack(act))
