"""Two people on one record: apart from each other both stand, on the same field both are shown, nothing is lost unseen."""

from dataclasses import fields, replace

import pytest

from shopcli.clash import ChangedMeanwhile
from shopcli.errors import Stale
from shopcli.shop import commands
from shopcli.shop.command import Command
from shopcli.shop.commands import (
    AddSupplier,
    ChangeCard,
    ChangeCustomer,
    ChangePart,
    ChangePerson,
    ChangeSupplier,
    ChangeVehicleFacts,
    ClockOff,
    ClockOn,
    CorrectClock,
    NoteOnTask,
    SetHands,
)
from shopcli.shop.seen import all_the_same, over, without
from shopcli.shop.views import CardView
from shopcli.store.reads.people import everybody
from shopcli.store.reads.sheets import sheet as sheet_of
from shopcli.store.reads.stock import stock
from shopcli.store.shop import Shop, open_shop
from tests.conftest import SETTINGS, Busy

# Every command is here or says what was seen. Those here add a row, set one thing to what is named whatever it was,
# or are refused where the record is no longer as they need it.
WITHOUT: dict[str, str] = {
    "adds a row, or a newer one that strikes the older": """AddAbsence AddClock AddCustomer AddFinding AddOutwork AddPart
        AddPerson AddPhoto AddSupplier AddTemplates AddToBill AddToOrder AddTool AddVehicle CreditInvoice DraftOrder
        EnterOnSheet EnterSpec GiveDiscount MakeOffer MakeSheet NoteAbsence NoteCall NoteCalibration OpenCard OpenFromOffer
        OrderShort PutPart Refund ReversePayment TakeOn TakePayment TakeReading""",
    "moves a state, and the state it moves from is looked at": """AcceptOffer CancelOrder ClearPin ClockOff ClockOn CloseCard
        CreditCame DeclineOffer DropDiscount DropPlanned EndBreak EraseCustomer FinishTask FitInstead GoOnBreak GoodsIn HandOver LeaveOut
        LiftTag MoveCard MovePart NotComing OldUnitBack OutworkBack PartArrived PersonComesBack PersonLeaves RemovePhoto
        ReopenTask RetireTool SecondCheck SendBack SendOldUnit SendOrder SendPlanned SettleFinding SettleOwed SignIn
        SplitClock StrikeReading TakeBack TakeOffBill Waive WithdrawAbsence WithdrawNumber WorkedUntil""",
    "a count is what was counted then; every move of the stock is kept": "CountStock CorrectStock",
    "one's own, or said anew as a whole by who has to be asked": "SetUnits SetPin SetReverseCharge",
    "a wish: the newer one of a kind takes its place, and the order names whose it is": "PinTask GiveBack PartToTask",
    "says the factor it goes out from": "SetOwnTime",
}


def test_every_command_that_edits_says_what_was_seen() -> None:
    excused = {name for names in WITHOUT.values() for name in names.split()}
    every = {
        name
        for name in commands.__all__
        if issubclass(getattr(commands, name), Command) and name != "Command"
    }
    with_seen = {name for name in every if "seen" in {f.name for f in fields(getattr(commands, name))}}
    with_version = {name for name in every if "version" in {f.name for f in fields(getattr(commands, name))}}
    assert with_version <= with_seen
    assert not with_seen & excused
    assert every - with_seen - excused == set()


def card_change(view: CardView, **values: object) -> ChangeCard:
    return over(view, ChangeCard(view.id, view.version, **values))  # type: ignore[arg-type]


def test_changes_apart_from_each_other_both_stand(busy_shop: Busy) -> None:
    shown = busy_shop.view()
    busy_shop.do(card_change(shown, promised="2026-12-04"), "Dora")
    busy_shop.do(card_change(shown, car_keys="two, on a ring"), "Olive")
    now = busy_shop.view()
    assert (now.promised and now.promised.isoformat(), now.car_keys) == ("2026-12-04", "two, on a ring")


def test_work_on_the_card_does_not_stand_in_the_way_of_the_desk(busy_shop: Busy) -> None:
    shown = busy_shop.view()
    busy_shop.do(ClockOn(busy_shop.task("points:set-gap").id))
    busy_shop.do(SetHands(busy_shop.card, 2))
    assert busy_shop.view().version > shown.version
    busy_shop.do(card_change(shown, words="Runs rough"), "Dora")
    assert busy_shop.view().words == "Runs rough"


def test_two_values_of_one_field_are_shown_with_who_and_when(busy_shop: Busy) -> None:
    shown = busy_shop.view()
    busy_shop.do(card_change(shown, promised="2026-12-04"), "Dora")
    busy_shop.clock.forward(minutes=5)
    mine = card_change(shown, promised="2026-12-07", fuel="a quarter")
    with pytest.raises(ChangedMeanwhile) as refused:
        busy_shop.do(mine, "Olive")
    (clash,) = refused.value.clashes
    assert (clash.named, clash.mine, clash.theirs) == ("promise date", "Mon 7 Dec", "Fri 4 Dec")
    assert clash.whose == "Dora at 10:15"
    assert "yours is Mon 7 Dec, Dora at 10:15 put Fri 4 Dec" in refused.value.message
    assert busy_shop.view().fuel == ""  # nothing of a refused act is written

    rest = without(mine, refused.value.clashes)
    assert rest is not None
    busy_shop.do(rest, "Olive")
    now = busy_shop.view()
    assert (now.promised and now.promised.isoformat(), now.fuel) == ("2026-12-04", "a quarter")
    busy_shop.do(all_the_same(mine, refused.value.clashes), "Olive")
    now = busy_shop.view()
    assert now.promised is not None
    assert now.promised.isoformat() == "2026-12-07"


def test_who_insists_has_seen_that_value_and_no_later_one(busy_shop: Busy) -> None:
    shown = busy_shop.view()
    busy_shop.do(card_change(shown, fuel="half"), "Dora")
    with pytest.raises(ChangedMeanwhile) as refused:
        busy_shop.do(card_change(shown, fuel="full"), "Olive")
    again = all_the_same(card_change(shown, fuel="full"), refused.value.clashes)
    busy_shop.do(card_change(busy_shop.view(), fuel="empty"), "Dora")
    with pytest.raises(ChangedMeanwhile, match="'empty'"):
        busy_shop.do(again, "Olive")


def test_the_same_said_twice_is_no_conflict(busy_shop: Busy) -> None:
    shown = busy_shop.view()
    for who in ("Dora", "Olive"):
        busy_shop.do(card_change(shown, damage="nearside wing"), who)
    assert busy_shop.view().damage == "nearside wing"


def test_what_was_offered_and_not_changed_takes_nothing_back(busy_shop: Busy) -> None:
    row = busy_shop.shop.fetch("SELECT name, phone, email, address, version FROM customer")[0]
    names = ("name", "phone", "email", "address")
    seen = tuple(zip(names, row[:4], strict=True))
    told = dict(seen)
    first = ChangeCustomer(busy_shop.customer, row[4], **{**told, "phone": "01632 960001"}, seen=seen)
    second = ChangeCustomer(busy_shop.customer, row[4], **{**told, "email": "ada@lark.example"}, seen=seen)
    busy_shop.do(first, "Dora")
    busy_shop.do(second, "Olive")
    assert busy_shop.shop.fetch("SELECT phone, email FROM customer") == [("01632 960001", "ada@lark.example")]
    # Theirs stands where both changed it; what was changed beside it is written all the same.
    third = replace(first, name="Ada Lark-Moss", phone="01632 960003")
    with pytest.raises(ChangedMeanwhile, match="01632 960001") as refused:
        busy_shop.do(third, "Olive")
    rest = without(third, refused.value.clashes)
    assert rest is not None
    busy_shop.do(rest, "Olive")
    assert busy_shop.shop.fetch("SELECT name, phone, email FROM customer") == [
        ("Ada Lark-Moss", "01632 960001", "ada@lark.example")
    ]
    only = replace(first, phone="01632 960003")
    assert without(only, refused.value.clashes) is None


def test_half_of_one_authority_and_half_of_another_is_nobodys(busy_shop: Busy) -> None:
    shown = busy_shop.view()
    first = card_change(shown, authority_minor=50_000, authority_by="Ada", authority_how="phone")
    busy_shop.do(first, "Dora")
    then = busy_shop.view()
    busy_shop.do(card_change(then, authority_minor=60_000, authority_by="Bea", authority_how="phone"), "Dora")
    with pytest.raises(ChangedMeanwhile) as refused:
        busy_shop.do(
            card_change(then, authority_minor=50_000, authority_by="Cy", authority_how="phone"), "Olive"
        )
    assert {c.field for c in refused.value.clashes} == {"authority_minor", "authority_by"}
    assert without(card_change(then, authority_minor=1), refused.value.clashes) is None


def test_without_what_was_seen_a_newer_version_is_refused_as_before(busy_shop: Busy) -> None:
    shown = busy_shop.view()
    busy_shop.do(card_change(shown, fuel="half"), "Dora")
    with pytest.raises(Stale) as refused:
        busy_shop.do(ChangeCard(shown.id, shown.version, damage="none"), "Olive")
    assert not isinstance(refused.value, ChangedMeanwhile)


def test_a_record_of_every_kind_takes_changes_apart(busy_shop: Busy) -> None:
    shop = busy_shop.shop
    key = busy_shop.do(AddSupplier("Proof Parts", phone="1"), "Olive").id
    row = shop.fetch("SELECT version FROM supplier WHERE id = ?", (key,))[0][0]
    seen = (("phone", "1"), ("note", ""))
    busy_shop.do(ChangeSupplier(key, row, note="shut on Fridays", seen=seen), "Dora")
    busy_shop.do(ChangeSupplier(key, row, phone="2", seen=seen), "Olive")
    assert shop.fetch("SELECT phone, note FROM supplier WHERE id = ?", (key,)) == [("2", "shut on Fridays")]

    part = stock(shop)[0]
    busy_shop.do(over(part, ChangePart(part.id, part.version, bin="B7")), "Dora")
    busy_shop.do(over(part, ChangePart(part.id, part.version, price_minor=999)), "Olive")
    with pytest.raises(ChangedMeanwhile, match="'B7'"):
        busy_shop.do(over(part, ChangePart(part.id, part.version, bin="B8")), "Olive")
    with pytest.raises(ChangedMeanwhile, match="£9"):
        busy_shop.do(over(part, ChangePart(part.id, part.version, price_minor=998)), "Dora")

    tom = next(one for one in everybody(shop) if one.name == "Tom")
    busy_shop.do(over(tom, ChangePerson(tom.id, tom.version, "Thomas", tom.role)), "Olive")
    busy_shop.do(over(tom, ChangePerson(tom.id, tom.version, "Tom", "desk")), "Olive")
    assert shop.fetch("SELECT name, role FROM person WHERE id = ?", (tom.id,)) == [("Thomas", "desk")]

    sheet = sheet_of(shop, "vehicle", busy_shop.vehicle)
    facts = ChangeVehicleFacts(sheet.key, sheet.version, facts=(("cylinders", "4"),))
    busy_shop.do(over(sheet, facts, sheet="under"), "Dora")
    with pytest.raises(ChangedMeanwhile, match="Facts: yours is cylinders 6, Dora at 10:15 put cylinders 4"):
        busy_shop.do(over(sheet, replace(facts, facts=(("cylinders", "6"),)), sheet="under"), "Olive")


def test_notes_and_times_are_not_written_over_unseen(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap").id
    busy_shop.do(NoteOnTask(task, "cam worn", seen=(("note", ""),)))
    with pytest.raises(ChangedMeanwhile, match="'cam worn'"):
        busy_shop.do(NoteOnTask(task, "cam good", seen=(("note", ""),)), "Nell")
    busy_shop.do(ClockOn(task))
    busy_shop.clock.forward(hours=1)
    busy_shop.do(ClockOff())
    key, start, end = busy_shop.shop.fetch("SELECT id, started_at, ended_at FROM clock_entry")[0]
    seen = (("started_at", start), ("ended_at", end))
    busy_shop.do(CorrectClock(key, start + 60, end, "late", seen=seen))
    busy_shop.do(CorrectClock(key, start, end - 60, "early", seen=seen), "Olive")
    assert busy_shop.shop.fetch("SELECT started_at, ended_at FROM clock_entry") == [(start + 60, end - 60)]
    with pytest.raises(ChangedMeanwhile, match="Start"):
        busy_shop.do(CorrectClock(key, start + 120, end, "later", seen=seen), "Olive")


def test_two_terminals_with_records_of_their_own_meet(busy_shop: Busy) -> None:
    other: Shop = open_shop(
        str(busy_shop.shop.place.file or busy_shop.shop.place.url), settings=SETTINGS, now=busy_shop.clock
    )
    try:
        shown = busy_shop.view()
        other.do(card_change(shown, car_keys="one"), by=busy_shop.people["Dora"])
        with pytest.raises(ChangedMeanwhile, match="Dora at 10:15 put 'one'"):
            busy_shop.do(card_change(shown, car_keys="two"), "Olive")
        busy_shop.do(card_change(shown, fuel="half"), "Olive")
    finally:
        other.close()
    assert (busy_shop.view().car_keys, busy_shop.view().fuel) == ("one", "half")
