"""Parts at the task over real records: serial numbers, another part instead, what is short, what arrived, old units, undo."""

from decimal import Decimal

import pytest

from shopcli.errors import BadInput, NotFound, Refused, Stale
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import (
    AddPart,
    ChangePart,
    FitInstead,
    MovePart,
    OldUnitBack,
    OrderShort,
    PartArrived,
    PartToTask,
    PutPart,
)
from shopcli.shop.views import PartLineView
from shopcli.store.reads.desk import part_numbered
from shopcli.store.reads.summary import summary
from tests.conftest import Busy


def line(busy: Busy, name: str) -> PartLineView:
    return next(p for p in busy.view().parts if p.description == name)


def stock(busy: Busy, number: str) -> int:
    return int(busy.shop.fetch("SELECT stock_milli FROM part WHERE number = ?", (number,))[0][0])


def test_a_part_that_wants_its_serial_number_is_not_fitted_without(busy_shop: Busy) -> None:
    key = busy_shop.do(AddPart("D-1", "dynamo", 9000, stock_milli=1000, wants_serial=True)).id  # type: ignore[attr-defined]
    put = busy_shop.do(PutPart(busy_shop.card, key)).id  # type: ignore[attr-defined]
    with pytest.raises(Refused, match="wants its serial number"):
        busy_shop.do(MovePart(put, "fitted"))
    assert (line(busy_shop, "dynamo").state, stock(busy_shop, "D-1")) == ("wanted", 1000)
    busy_shop.do(MovePart(put, "fitted", serial=" C40  1176 "))
    assert (line(busy_shop, "dynamo").serial, stock(busy_shop, "D-1")) == ("C40 1176", 0)


def test_another_part_goes_in_place_of_the_kits(busy_shop: Busy) -> None:
    other = busy_shop.do(AddPart("T-022", "contact set, two-piece", 700, stock_milli=1000)).id  # type: ignore[attr-defined]
    kit = line(busy_shop, "contact set")
    done = busy_shop.do(FitInstead(kit.id, "the first one is bent", other))
    assert done.said[0] == (  # type: ignore[attr-defined]
        "contact set, two-piece: fitted by Tom instead of contact set (the first one is bent)."
    )
    assert line(busy_shop, "contact set").state == "not used"
    fitted = line(busy_shop, "contact set, two-piece")
    assert (fitted.state, fitted.instead_of, fitted.reason) == (
        "fitted",
        "contact set",
        "the first one is bent",
    )
    assert (stock(busy_shop, "T-022"), stock(busy_shop, "T-002")) == (0, 2000)


def test_another_part_needs_a_reason_and_a_line_that_waits(busy_shop: Busy) -> None:
    kit = line(busy_shop, "contact set")
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(FitInstead(kit.id, " ", description="from the drawer"))
    with pytest.raises(Refused, match="that very part"):
        busy_shop.do(FitInstead(kit.id, "why", kit.part_id))
    with pytest.raises(BadInput, match="part is empty"):
        busy_shop.do(FitInstead(kit.id, "why"))
    busy_shop.do(MovePart(kit.id, "fitted"))
    with pytest.raises(Refused, match="is fitted"):
        busy_shop.do(FitInstead(kit.id, "why", description="from the drawer"))


def test_what_is_short_goes_on_the_order_list_and_nothing_else(busy_shop: Busy) -> None:
    with busy_shop.shop.many() as run:
        run.do(PutPart(busy_shop.card, None, "rotor arm"), by=2)
        condenser = line(busy_shop, "condenser").part_id
        run.do(PutPart(busy_shop.card, condenser), by=2)  # one is on the shelf, two are wanted now
    busy_shop.do(OrderShort(busy_shop.card))
    states = {(p.description, p.state) for p in busy_shop.view().parts if not p.optional}
    assert ("rotor arm", "on order") in states
    assert ("contact set", "wanted") in states, "two of them are on the shelf"
    assert sorted(p.state for p in busy_shop.view().parts if p.description == "condenser") == [
        "on order",
        "wanted",
    ]
    with pytest.raises(Refused, match="nothing that is wanted is short"):
        busy_shop.do(OrderShort(busy_shop.card))


def test_what_arrived_is_wanted_again_and_on_the_shelf(busy_shop: Busy) -> None:
    kit = line(busy_shop, "contact set")
    with pytest.raises(Refused, match="not on order"):
        busy_shop.do(PartArrived(kit.id))
    busy_shop.do(MovePart(kit.id, "on order"))
    assert busy_shop.do(PartArrived(kit.id)).said == ("Here: contact set. Bin A1.",)  # type: ignore[attr-defined]
    assert (line(busy_shop, "contact set").state, stock(busy_shop, "T-002")) == ("wanted", 3000)


def test_an_exchange_owes_its_surcharge_until_the_old_unit_is_back(busy_shop: Busy) -> None:
    key = busy_shop.do(
        AddPart("D-2", "starter", 9000, price_minor=12_000, stock_milli=1000, surcharge_minor=2500)
    ).id  # type: ignore[attr-defined]
    put = busy_shop.do(PutPart(busy_shop.card, key)).id  # type: ignore[attr-defined]
    with pytest.raises(Refused, match="is wanted"):
        busy_shop.do(OldUnitBack(put))
    done = busy_shop.do(MovePart(put, "fitted"))
    assert done.said[-1] == "Exchange: 25.00 surcharge is owed until the old unit goes back."  # type: ignore[attr-defined]

    def net() -> Decimal:
        return summary(busy_shop.shop, busy_shop.card).totals.line_net

    assert net() == Decimal("145.00")
    busy_shop.do(OldUnitBack(put))
    assert (net(), line(busy_shop, "starter").old_unit_back) == (Decimal("120.00"), True)
    with pytest.raises(Refused, match="back already"):
        busy_shop.do(OldUnitBack(put))
    busy_shop.do(OldUnitBack(put, back=False))
    assert net() == Decimal("145.00")
    with pytest.raises(Refused, match="no exchange unit"):
        busy_shop.do(OldUnitBack(line(busy_shop, "contact set").id))


def test_a_part_by_its_number_is_given_to_the_task_once(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap").id
    before = len(busy_shop.view().parts)
    busy_shop.do(PartToTask(busy_shop.card, "t-002", task))
    assert len(busy_shop.view().parts) == before, "the card waits for it already"
    assert line(busy_shop, "contact set").task_id == task
    key = busy_shop.do(AddPart("X-9", "split pin", 10, stock_milli=5000)).id  # type: ignore[attr-defined]
    busy_shop.do(PartToTask(busy_shop.card, " X-9 ", task))
    put = line(busy_shop, "split pin")
    assert (put.part_id, put.task_id, put.state) == (key, task, "wanted")
    with pytest.raises(NotFound, match="no part has the number 'Y-1'"):
        busy_shop.do(PartToTask(busy_shop.card, "Y-1", task))
    assert part_numbered(busy_shop.shop, "x-9")[2] == "split pin"


def test_a_stocked_part_is_changed_and_counted(busy_shop: Busy) -> None:
    key = part_numbered(busy_shop.shop, "T-002")[0]
    busy_shop.do(ChangePart(key, 1, stock_milli=7000, wants_serial=True, bin="B7"))
    assert busy_shop.shop.fetch("SELECT stock_milli, bin FROM part WHERE id = ?", (key,)) == [(7000, "B7")]
    with pytest.raises(Stale):
        busy_shop.do(ChangePart(key, 1, stock_milli=1))
    with pytest.raises(BadInput, match="a stock of -1"):
        busy_shop.do(ChangePart(key, 2, stock_milli=-1000))


def rows(busy: Busy) -> list[tuple[object, ...]]:
    """Return the parts and lines without their counters of writes."""
    columns = "id, task_id, state, serial, instead_of, reason, old_unit_back_at, fitted_by, fitted_at"
    lines = busy.shop.fetch(f"SELECT {columns} FROM card_part ORDER BY id")
    return [*lines, *busy.shop.fetch("SELECT id, stock_milli FROM part ORDER BY id")]


@pytest.mark.parametrize("act", ["instead", "short", "arrived", "old unit", "by number"])
def test_each_of_them_is_taken_back(busy_shop: Busy, act: str) -> None:
    kit = line(busy_shop, "contact set")
    starter = busy_shop.do(AddPart("D-2", "starter", 9000, stock_milli=1000, surcharge_minor=2500)).id  # type: ignore[attr-defined]
    unit = busy_shop.do(PutPart(busy_shop.card, starter)).id  # type: ignore[attr-defined]
    busy_shop.do(PutPart(busy_shop.card, None, "rotor arm"))
    busy_shop.do(MovePart(unit, "fitted"))
    if act == "arrived":
        busy_shop.do(MovePart(kit.id, "on order"))
    command = {
        "instead": FitInstead(kit.id, "bent", starter),
        "short": OrderShort(busy_shop.card),
        "arrived": PartArrived(kit.id),
        "old unit": OldUnitBack(unit),
        "by number": PartToTask(busy_shop.card, "T-003", busy_shop.task("points:set-gap").id),
    }[act]
    before = rows(busy_shop)
    busy_shop.do(command)
    assert rows(busy_shop) != before
    last = busy_shop.shop.fetch("SELECT MAX(id) FROM journal")[0][0]
    busy_shop.do(TakeBack(last))
    assert rows(busy_shop) == before


def test_only_so_many_are_fitted_and_the_rest_is_ordered(busy_shop: Busy) -> None:
    gasket = busy_shop.do(AddPart("G-9", "rocker gasket", 300, stock_milli=1000)).id
    put = busy_shop.do(PutPart(busy_shop.card, gasket, qty_milli=2000)).id
    with pytest.raises(BadInput, match="only 2 pc of rocker gasket are wanted"):
        busy_shop.do(MovePart(put, "fitted", qty_milli=3000))
    done = busy_shop.do(MovePart(put, "fitted", qty_milli=1000))
    assert "1 fitted, 1 on the order list." in done.said
    lines = [(p.state, p.qty) for p in busy_shop.view().parts if p.part_id == gasket]
    assert lines == [("fitted", 1), ("on order", 1)]
    assert busy_shop.shop.fetch("SELECT stock_milli FROM part WHERE id = ?", (gasket,)) == [(0,)]
