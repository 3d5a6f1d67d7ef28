"""The shelf over real records: movements that nobody can change, counts, prices with their past, suppliers kept in step."""

import sqlite3

import pytest

from shopcli.errors import BadInput, Refused, Stale
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import (
    AddPart,
    AddSupplier,
    ChangePart,
    ChangeSupplier,
    CorrectStock,
    CountStock,
    MovePart,
    PartArrived,
)
from shopcli.shop.stock import out_of_step, wrong_suppliers
from tests.conftest import Busy
from tests.shop.test_fitting import line, stock


def moves(busy: Busy, number: str) -> list[tuple[object, ...]]:
    sql = (
        "SELECT m.qty_milli, m.why, m.note FROM stock_move m JOIN part p ON p.id = m.part_id"
        " WHERE p.number = ? ORDER BY m.id"
    )
    return busy.shop.fetch(sql, (number,))


def part_id(busy: Busy, number: str) -> int:
    return int(busy.shop.fetch("SELECT id FROM part WHERE number = ?", (number,))[0][0])


def test_every_coming_and_going_is_written_down(busy_shop: Busy) -> None:
    kit = line(busy_shop, "contact set")
    busy_shop.do(MovePart(kit.id, "fitted"))
    busy_shop.do(MovePart(kit.id, "returned"))
    condenser = line(busy_shop, "condenser")
    busy_shop.do(MovePart(condenser.id, "on order"))
    busy_shop.do(PartArrived(condenser.id))
    assert moves(busy_shop, "T-002") == [
        (2000, "stock-taking", ""),
        (-1000, "fitted", ""),
        (1000, "returned", ""),
    ]
    assert moves(busy_shop, "T-003")[-1] == (1000, "goods in", "")
    assert busy_shop.shop.fetch("SELECT card_id, moved_by FROM stock_move WHERE why = 'fitted'") == [
        (busy_shop.card, busy_shop.people["Tom"])
    ]
    assert out_of_step(busy_shop.shop.fetch) == ()


def test_what_is_taken_back_is_answered_and_not_swept_away(busy_shop: Busy) -> None:
    busy_shop.do(MovePart(line(busy_shop, "contact set").id, "fitted"))
    busy_shop.do(TakeBack(busy_shop.shop.fetch("SELECT MAX(id) FROM journal")[0][0]))
    assert moves(busy_shop, "T-002")[1:] == [(-1000, "fitted", ""), (1000, "fitted", "taken back")]
    assert (stock(busy_shop, "T-002"), out_of_step(busy_shop.shop.fetch)) == (2000, ())


@pytest.mark.sqlite_only("the guards of a server are tried in tests/store/test_postgres.py")
@pytest.mark.parametrize("table", ["stock_move", "price_change"])
@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE {} SET part_id = 1",
        "DELETE FROM {}",
        "INSERT OR REPLACE INTO {} SELECT * FROM {} WHERE id = 1",
    ],
)
def test_the_database_itself_lets_nobody_change_what_was(busy_shop: Busy, table: str, sql: str) -> None:
    with sqlite3.connect(str(busy_shop.shop.place.file)) as connection:
        before = connection.execute(f"SELECT * FROM {table}").fetchall()
        with pytest.raises(sqlite3.IntegrityError, match="fixed for good"):
            connection.execute(sql.format(table, table))
        assert connection.execute(f"SELECT * FROM {table}").fetchall() == before


def test_a_stock_that_is_not_the_sum_of_its_movements_is_found(busy_shop: Busy) -> None:
    busy_shop.behind("UPDATE part SET stock_milli = 7000 WHERE number = 'T-002'")
    assert [row[1:] for row in out_of_step(busy_shop.shop.fetch)] == [("T-002", "contact set", 7000, 2000)]


def test_the_shelf_is_counted(busy_shop: Busy) -> None:
    contact, condenser = part_id(busy_shop, "T-002"), part_id(busy_shop, "T-003")
    done = busy_shop.do(CountStock(((contact, 5000), (condenser, 1000)), "in November"))
    assert done.said == (  # type: ignore[attr-defined]
        "contact set: 5 counted, 3 more than written.",
        "condenser: 1, as it should be.",
    )
    assert moves(busy_shop, "T-002")[-1] == (3000, "stock-taking", "in November")
    assert moves(busy_shop, "T-003")[-1] == (0, "stock-taking", "in November"), "that it agreed is kept too"
    with pytest.raises(BadInput, match="counted twice"):
        busy_shop.do(CountStock(((contact, 1000), (contact, 2000))))
    with pytest.raises(BadInput, match="a stock of -1"):
        busy_shop.do(CountStock(((contact, -1000),)))
    with pytest.raises(BadInput, match="nothing was counted"):
        busy_shop.do(CountStock(()))


def test_what_broke_or_was_found_is_corrected_with_a_reason(busy_shop: Busy) -> None:
    key = part_id(busy_shop, "T-002")
    assert busy_shop.do(CorrectStock(key, -500, "dropped")).said == ("contact set: 1.5 now (dropped).",)  # type: ignore[attr-defined]
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(CorrectStock(key, -500, " "))
    with pytest.raises(BadInput, match="a stock of -"):
        busy_shop.do(CorrectStock(key, -5000, "lost"))


def prices(busy: Busy, number: str) -> list[tuple[object, ...]]:
    sql = (
        "SELECT c.cost_minor, c.price_minor, c.why FROM price_change c JOIN part p ON p.id = c.part_id"
        " WHERE p.number = ? ORDER BY c.id"
    )
    return busy.shop.fetch(sql, (number,))


def test_a_price_keeps_its_past(busy_shop: Busy) -> None:
    key = part_id(busy_shop, "T-002")
    version = busy_shop.shop.fetch("SELECT version FROM part WHERE id = ?", (key,))[0][0]
    busy_shop.do(ChangePart(key, version, cost_minor=700))
    busy_shop.do(ChangePart(key, version + 1, bin="Z1"))
    assert prices(busy_shop, "T-002") == [(620, 806, "first written down"), (700, 806, "changed by hand")]


def test_a_supplier_is_written_down_once_and_renamed_everywhere(busy_shop: Busy) -> None:
    for number, name in (("S-1", "Sparkwell Electrics"), ("S-2", " sparkwell  ELECTRICS ")):
        busy_shop.do(AddPart(number, "lamp", 100, supplier=name))
    known = busy_shop.shop.fetch("SELECT id, name, version FROM supplier")
    assert [row[1] for row in known] == ["Sparkwell Electrics"]
    busy_shop.do(ChangeSupplier(known[0][0], 1, name="Sparkwell & Daughter", usual_days=3))
    assert busy_shop.shop.fetch("SELECT DISTINCT supplier FROM part WHERE supplier <> ''") == [
        ("Sparkwell & Daughter",)
    ]
    assert wrong_suppliers(busy_shop.shop.fetch) == ()
    with pytest.raises(Stale):
        busy_shop.do(ChangeSupplier(known[0][0], 1, phone="01632 960000"))
    busy_shop.do(AddSupplier("Fennick Oils", account="TL 44"))
    with pytest.raises(Refused, match="already known"):
        busy_shop.do(AddSupplier("fennick oils"))
    with pytest.raises(Refused, match="another supplier"):
        busy_shop.do(ChangeSupplier(known[0][0], 2, name="FENNICK OILS"))
    with pytest.raises(BadInput, match="500 days"):
        busy_shop.do(AddSupplier("Slow", usual_days=500))


def test_a_part_without_a_supplier_has_none(busy_shop: Busy) -> None:
    key = busy_shop.do(AddPart("S-1", "lamp", 100, supplier="Sparkwell")).id  # type: ignore[attr-defined]
    busy_shop.do(ChangePart(key, 1, supplier=""))
    assert busy_shop.shop.fetch("SELECT supplier, supplier_id FROM part WHERE id = ?", (key,)) == [("", None)]
