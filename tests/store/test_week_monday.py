"""The Monday list as a card goes through the shop, on real records: whom to ring about it, and when it can be left."""

from datetime import timedelta

from shopcli.papers.week.pen import screen_pen
from shopcli.papers.week.todo import todo_words, why_words
from shopcli.shop.commands import (
    AddFinding,
    AddOutwork,
    AddToBill,
    ClockOff,
    ClockOn,
    MoveCard,
    SettleFinding,
)
from shopcli.store.reads.week_here import next_workday
from shopcli.store.reads.week_to_do import to_do
from tests.conftest import Busy


def said(busy: Busy) -> tuple[str, str, str] | None:
    """Return the kind, the act and the reason of the card's line; None where it has none."""
    pen = screen_pen("GBP")
    lines = [line for line in to_do(busy.shop) if line.key == f"card:{busy.card}"]
    return (lines[0].kind, todo_words(lines[0], pen), why_words(lines[0], pen)) if lines else None


def test_a_card_is_named_with_what_mends_it_and_whom_to_ring(busy_shop: Busy) -> None:
    busy, task = busy_shop, busy_shop.view().tasks[0].id
    # Wednesday 25 November; promised for Friday. It can wait until Thursday, the day before it is due.
    assert said(busy) is None
    busy.clock.forward(days=1)
    assert said(busy) == (
        "begin",
        "Begin LRK 120 (Lark 1200, J00001).",
        "Promised for Fri 27 Nov; booked for 1 day.",
    )
    busy.do(ClockOn(task))
    assert (said(busy) or ("",))[0] == "finish"
    busy.clock.forward(hours=1)
    busy.do(ClockOff())
    assert (said(busy) or ("",))[0] == "hands"
    busy.do(AddFinding(busy.card, "rear left wheel", "cylinder weeps", "stop"))
    kind, act, _why = said(busy) or ("", "", "")
    assert kind == "stop"
    assert act == (
        "Ring Ada Lark, 01234 567890: ask what is to be done on LRK 120 (Lark 1200, J00001): rear left wheel: cylinder weeps."
    )
    busy.do(SettleFinding(busy.shop.fetch("SELECT MAX(id) FROM finding")[0][0], "done"))
    busy.do(AddOutwork(busy.card, "Dynamo: rewind", "Armature & Son", 6_400, 9_200, due="2026-12-01"), "Dora")
    busy.do(MoveCard(busy.card, "held", "dynamo sent out"), "Dora")
    kind, act, why = said(busy) or ("", "", "")
    assert kind == "outwork"
    assert "Armature & Son" in act
    assert "Dynamo: rewind, for LRK 120" in act
    assert "due to come Tue 1 Dec" in why
    # The day passed: the customer is to be told as well.
    busy.clock.forward(days=2)
    kind, act, why = said(busy) or ("", "", "")
    assert "ring Ada Lark, 01234 567890, and name another day" in act
    assert "The promise was Fri 27 Nov" in why


def test_work_past_its_authority_is_told_with_both_sums(busy_shop: Busy) -> None:
    busy_shop.do(AddToBill(busy_shop.card, "fee", "Radiator core", 34_000), "Dora")
    busy_shop.clock.forward(days=1)
    # 340.00 with 20 % VAT is 408.00, beyond the 400.00 authorised.
    kind, act, why = said(busy_shop) or ("", "", "")
    assert kind == "beyond"
    assert act.startswith(
        "Ring Ada Lark, 01234 567890: LRK 120 (Lark 1200, J00001) is past what was authorised"
    )
    assert "£408.00 of £400.00" in why


def test_the_next_working_day_leaves_out_weekend_and_holidays(busy_shop: Busy) -> None:
    friday = busy_shop.clock.at.date() + timedelta(days=2)
    assert next_workday(busy_shop.shop, friday) == friday + timedelta(days=3)
    assert next_workday(busy_shop.shop, friday - timedelta(days=1)) == friday
