"""The closing check and the bill, on a small card whose sums are worked out by hand."""

import json
from decimal import Decimal

import pytest

from shopcli.errors import BadInput, NotFound, Refused
from shopcli.shop.commands import (
    AddFinding,
    AddOutwork,
    ChangeCard,
    ClockOff,
    ClockOn,
    CloseCard,
    FinishTask,
    LeaveOut,
    MoveCard,
    MovePart,
    OutworkBack,
    PricePart,
    PutPart,
    TakePayment,
    Waive,
)
from shopcli.store.reads import bench
from shopcli.store.reads.summary import summary
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.reads.week_flow import flow
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_money import money_weeks
from tests.conftest import Busy


def settle_everything(busy: Busy) -> None:
    """Do or leave out every task, and settle the kit."""
    for task in busy.view().tasks:
        if task.state == "open":
            busy.do(LeaveOut(task.id, "not on this visit"))
    for part in busy.view().parts:
        if part.state == "wanted":
            busy.do(MovePart(part.id, "not used"))


def hindering(busy: Busy) -> list[str]:
    return [h.what for h in bench.hindrances(busy.shop, busy.card)]


def test_every_loose_end_is_listed_with_its_remedy(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.do(AddOutwork(busy_shop.card, "Skim the flywheel", "Fell & Co"))
    busy_shop.do(AddFinding(busy_shop.card, "rear axle", "brake pipe corroded", "stop"))
    found = bench.hindrances(busy_shop.shop, busy_shop.card)
    kinds = {h.key.split(":")[0] for h in found}
    assert {"task", "clock", "part", "outwork", "finding"} <= kinds
    assert all(h.mend for h in found)
    with pytest.raises(Refused, match="cannot close"):
        busy_shop.do(CloseCard(busy_shop.card))
    with pytest.raises(Refused, match="cannot be waived"):
        busy_shop.do(
            Waive(busy_shop.card, next(h.key for h in found if h.key.startswith("task:")), "no time")
        )
    assert busy_shop.view().state == "in hand"


def test_an_empty_closing_check_closes_and_issues(busy_shop: Busy) -> None:
    settle_everything(busy_shop)
    assert hindering(busy_shop) == []
    done = busy_shop.do(CloseCard(busy_shop.card), "Dora")
    assert done.said == ("Card J00001 closed; invoice INV-000001, due £0.00.",)
    assert busy_shop.view().state == "closed"
    with pytest.raises(Refused):
        busy_shop.do(CloseCard(busy_shop.card))


def test_the_bill_adds_up_by_hand(busy_shop: Busy) -> None:
    """37 min and 12 min at 60.00 an hour in started tenths, 3.5 L of oil at 5.85, one contact set at 8.06.

    Labour: 37 min -> 0.7 h -> 42.00; 12 min -> 0.2 h -> 12.00. Parts (30 % on cost): oil 4.50 -> 5.85, 3.5 x 5.85 =
    20.475 -> 20.48; contact set 6.20 -> 8.06. Net 82.54, VAT 20 % 16.508 -> 16.51, total 99.05, deposit 50.00, due 49.05.
    """
    first, second = busy_shop.view().tasks[:2]
    busy_shop.do(ClockOn(first.id))
    busy_shop.clock.forward(minutes=37)
    busy_shop.do(ClockOn(second.id))
    busy_shop.clock.forward(minutes=12)
    busy_shop.do(ClockOff())
    points = next(p for p in busy_shop.view().parts if p.description == "contact set")
    busy_shop.do(MovePart(points.id, "fitted"))
    oil = busy_shop.do(PutPart(busy_shop.card, part_id=1, qty_milli=3500)).id
    busy_shop.do(MovePart(oil, "fitted"))
    busy_shop.do(TakePayment(busy_shop.card, 5000, "deposit", "card"), "Dora")
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    view = summary(busy_shop.shop, busy_shop.card)
    assert [str(line.net) for line in view.lines] == ["42.00", "12.00", "8.06", "20.48"]
    t = view.totals
    assert (t.without_vat, t.vat, t.with_vat) == (Decimal("82.54"), Decimal("16.51"), Decimal("99.05"))
    assert (t.paid, t.due) == (Decimal("50.00"), Decimal("49.05"))
    shop = busy_shop.shop
    period = this_week(shop)
    time = hours(shop, period).total
    assert (flow(shop, period).closed, money_weeks(shop, period)[0].net) == (1, Decimal("82.54"))
    assert (time.sold_s, time.clocked_s) == (54 * 60, 49 * 60)


def test_the_summary_before_and_after_closing_is_the_same_bill(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.clock.forward(minutes=50)
    busy_shop.do(ClockOff())
    settle_everything(busy_shop)
    before = summary(busy_shop.shop, busy_shop.card)
    busy_shop.do(CloseCard(busy_shop.card))
    after = summary(busy_shop.shop, busy_shop.card)
    assert before.lines == after.lines
    assert before.totals == after.totals
    assert (before.invoice_number, after.invoice_number) == ("", "INV-000001")


def test_a_bill_past_the_authority_hinders_until_somebody_agreed(busy_shop: Busy) -> None:
    busy_shop.do(ChangeCard(busy_shop.card, busy_shop.view().version, authority_minor=1000))
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.clock.forward(hours=1)
    busy_shop.do(ClockOff())
    settle_everything(busy_shop)
    assert hindering(busy_shop) == ["The bill goes past the authority"]
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(Waive(busy_shop.card, "authority", ""))
    busy_shop.do(Waive(busy_shop.card, "authority", "Ada Lark agreed by phone"), "Dora")
    assert hindering(busy_shop) == []
    assert "Ada Lark agreed by phone (Dora" in summary(busy_shop.shop, busy_shop.card).waived[0]


def test_a_waiver_names_something_that_hinders(busy_shop: Busy) -> None:
    with pytest.raises(NotFound):
        busy_shop.do(Waive(busy_shop.card, "owed:99", "a reason"))


def test_outwork_hinders_until_it_is_back_and_is_billed(busy_shop: Busy) -> None:
    key = busy_shop.do(AddOutwork(busy_shop.card, "Skim the flywheel", "Fell & Co", 4000, 5500)).id
    settle_everything(busy_shop)
    assert hindering(busy_shop) == ["Outwork not back: Skim the flywheel"]
    busy_shop.do(OutworkBack(key, "2026-11-25", price_minor=6000))
    assert hindering(busy_shop) == []
    assert [str(line.net) for line in summary(busy_shop.shop, busy_shop.card).lines] == ["60.00"]


def test_a_held_card_is_not_closed(busy_shop: Busy) -> None:
    settle_everything(busy_shop)
    busy_shop.do(MoveCard(busy_shop.card, "held", "customer abroad"))
    with pytest.raises(Refused, match="customer abroad"):
        busy_shop.do(CloseCard(busy_shop.card))


def test_checked_then_more_work_is_checked_again(busy_shop: Busy) -> None:
    settle_everything(busy_shop)
    busy_shop.do(MoveCard(busy_shop.card, "checked"))
    busy_shop.do(PutPart(busy_shop.card, description="cable tie", cost_minor=10))
    assert busy_shop.view().state == "in hand"
    assert hindering(busy_shop) == ["Part wanted: cable tie"]


def test_money_before_and_after_the_invoice(busy_shop: Busy) -> None:
    with pytest.raises(Refused, match="no invoice yet"):
        busy_shop.do(TakePayment(busy_shop.card, 100, "payment"))
    with pytest.raises(BadInput):
        busy_shop.do(TakePayment(busy_shop.card, 0))
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card))
    with pytest.raises(Refused, match="deposit"):
        busy_shop.do(TakePayment(busy_shop.card, 100, "deposit"))
    busy_shop.do(TakePayment(busy_shop.card, 100, "payment", over="kept"))


def test_a_part_fitted_without_a_price_is_not_given_away_unseen(busy_shop: Busy) -> None:
    line = next(p for p in busy_shop.view().parts if p.description == "rotor arm")
    busy_shop.do(MovePart(line.id, "fitted"))
    settle_everything(busy_shop)
    assert hindering(busy_shop) == ["Part fitted without a price: rotor arm"]
    with pytest.raises(BadInput):
        busy_shop.do(PricePart(line.id, -1))
    busy_shop.do(PricePart(line.id, 640, 400))
    assert hindering(busy_shop) == []
    assert [str(b.net) for b in summary(busy_shop.shop, busy_shop.card).lines] == ["6.40"]


def test_stock_moves_when_a_part_is_fitted_and_comes_back(busy_shop: Busy) -> None:
    line = next(p for p in busy_shop.view().parts if p.description == "condenser")
    done = busy_shop.do(MovePart(line.id, "fitted"))
    assert any("reorder point" in said for said in done.said)
    assert busy_shop.shop.fetch("SELECT stock_milli FROM part WHERE name = 'condenser'") == [(0,)]
    busy_shop.do(MovePart(line.id, "returned"))
    assert busy_shop.shop.fetch("SELECT stock_milli FROM part WHERE name = 'condenser'") == [(1000,)]


def test_the_invoice_keeps_its_figures_as_issued(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0]
    busy_shop.do(ClockOn(task.id))
    busy_shop.clock.forward(minutes=6)
    busy_shop.do(FinishTask(task.id))
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card))
    body, net = busy_shop.shop.fetch("SELECT body, net_minor FROM invoice")[0]
    assert json.loads(body)["without_vat"] == "6.00"
    assert net == 600
