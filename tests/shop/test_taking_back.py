"""Taking back: what an act did is undone, what was built on it is named, what is final says so."""

import json
from dataclasses import replace

import pytest
from sqlmodel import SQLModel

from shopcli.errors import Refused
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import (
    AddFinding,
    ClockOff,
    ClockOn,
    CloseCard,
    Command,
    EnterSpec,
    FinishTask,
    LeaveOut,
    LiftTag,
    MoveCard,
    MovePart,
    NoteOnTask,
    ReopenTask,
    SecondCheck,
    SettleOwed,
    TakePayment,
    TakeReading,
)
from tests.conftest import Busy, journal_acts

TABLES = (
    "card",
    "task",
    "reading",
    "clock_entry",
    "work_break",
    "tag",
    "owed",
    "finding",
    "part",
    "card_part",
    "waiver",
    "vehicle_spec",
    "outwork",
)


def last(busy: Busy, by: str = "Tom") -> int:
    """Return the last act of somebody that still stands and is no taking back."""
    sql = (
        "SELECT MAX(j.id) FROM journal j WHERE j.person_id = ? AND j.undid IS NULL"
        " AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id)"
    )
    return int(busy.shop.fetch(sql, (busy.people[by],))[0][0])


def back(busy: Busy, by: str = "Tom") -> tuple[str, ...]:
    return busy.do(TakeBack(last(busy, by)), by).said  # type: ignore[attr-defined,no-any-return]


def standing(busy: Busy) -> dict[str, list[tuple[object, ...]]]:
    """Return every record as it stands: without versions and without what is struck."""
    found = {}
    for table in TABLES:
        columns = [column.name for column in SQLModel.metadata.tables[table].c if column.name != "version"]
        struck = {"reading": "struck_at", "vehicle_spec": "replaced_at", "tag": "lifted_at"}.get(table)
        where = f" WHERE {struck} IS NULL" if struck else ""
        found[table] = busy.shop.fetch(f"SELECT {', '.join(columns)} FROM {table}{where} ORDER BY id")
    return found


def part(busy: Busy, name: str) -> int:
    return next(p.id for p in busy.view().parts if p.description == name)


def acts_of(busy: Busy) -> dict[str, list[Command]]:
    """Return, by name, the acts that lead up to one and that one last."""
    gap, drain = busy.task("points:set-gap"), busy.task("oil-change:drain")
    first = busy.view().tasks[0].id
    reading = TakeReading(gap.id, "points gap|as left", "16 thou")
    contact = part(busy, "contact set")
    return {
        "reading": [TakeReading(gap.id, "points gap|as left", "15 thou"), reading],
        "clock on": [ClockOn(first), ClockOn(gap.id)],
        "clock off": [ClockOn(first), ClockOff()],
        "done": [ClockOn(drain.id), FinishTask(drain.id)],
        "done and owed": [reading, FinishTask(gap.id)],
        "left out": [LeaveOut(drain.id, "not wanted")],
        "reopened": [FinishTask(drain.id), ReopenTask(drain.id)],
        "fitted": [MovePart(contact, "fitted", gap.id)],
        "on order": [MovePart(contact, "on order")],
        "not used": [MovePart(contact, "not used")],
        "note": [NoteOnTask(gap.id, "cam worn")],
        "finding": [AddFinding(busy.card, "engine bay", "hose perished", "soon")],
        "number": [
            EnterSpec(
                busy.vehicle, "points_gap", low="14 thou", high="16 thou", kind="handbook", document="Book"
            )
        ],
        "held": [MoveCard(busy.card, "held", "no parts")],
    }


@pytest.mark.parametrize(
    "name",
    [
        "reading",
        "clock on",
        "clock off",
        "done",
        "done and owed",
        "left out",
        "reopened",
        "fitted",
        "on order",
        "not used",
        "note",
        "finding",
        "number",
        "held",
    ],
)
def test_taking_back_brings_the_records_back(busy_shop: Busy, name: str) -> None:
    *before, act = acts_of(busy_shop)[name]
    for command in before:
        busy_shop.do(command)
        busy_shop.clock.forward(minutes=3)
    kept = standing(busy_shop)
    busy_shop.do(act)
    assert standing(busy_shop) != kept
    busy_shop.clock.forward(minutes=2)
    said = back(busy_shop)
    assert said[0].startswith("Taken back: ")
    assert len(said) > 1, "it says what came back"
    assert standing(busy_shop) == kept
    assert journal_acts(busy_shop.shop)[-1] == "TakeBack"
    with pytest.raises(Refused, match="already"):
        busy_shop.do(TakeBack(last_undone(busy_shop)))


def last_undone(busy: Busy) -> int:
    return int(busy.shop.fetch("SELECT undid FROM journal WHERE undid IS NOT NULL ORDER BY id DESC")[0][0])


def test_a_second_signature_a_lifted_tag_and_a_settled_check(busy_shop: Busy) -> None:
    drain, gap = busy_shop.task("oil-change:drain"), busy_shop.task("points:set-gap")
    busy_shop.do(FinishTask(drain.id))
    tag = next(t for t in busy_shop.view().tags if t.name == "sump dry")
    kept = standing(busy_shop)
    busy_shop.do(LiftTag(tag.id, "filled by hand"))
    assert "Tag hangs again: sump dry." in back(busy_shop)
    assert standing(busy_shop) == kept
    busy_shop.do(TakeReading(gap.id, "points gap|as left", "16 thou"))
    busy_shop.do(FinishTask(gap.id))
    owed = next(o for o in busy_shop.view().owed if o.state == "owed")
    kept = standing(busy_shop)
    busy_shop.do(SettleOwed(owed.id, "waived", "meter away"))
    assert any(said.startswith("Owed again") for said in back(busy_shop))
    assert standing(busy_shop) == kept


def test_a_second_signature(busy_shop: Busy) -> None:
    from shopcli.shop.commands import AddTemplates

    busy_shop.do(AddTemplates(busy_shop.card, ("brakes-adjust",)), "Dora")
    task = next(t for t in busy_shop.view().tasks if t.task.second and not t.barred_by)
    busy_shop.do(FinishTask(task.id, "no figures at hand"))
    kept = standing(busy_shop)
    busy_shop.do(SecondCheck(task.id), "Nell")
    with pytest.raises(Refused, match=r"Checked by Nell"):
        back(busy_shop)
    assert any("second check is open again" in said for said in back(busy_shop, "Nell"))
    assert standing(busy_shop) == kept


def test_what_was_built_on_it_is_named(busy_shop: Busy) -> None:
    first = busy_shop.view().tasks[0].id
    gap = busy_shop.task("points:set-gap")
    busy_shop.do(ClockOn(first))
    on = last(busy_shop)
    busy_shop.clock.forward(minutes=5)
    busy_shop.do(ClockOff())
    with pytest.raises(Refused, match=r"Clock stopped on .* by Tom at 10:20 was built") as caught:
        busy_shop.do(TakeBack(on))
    assert "Take that back first" in caught.value.hint
    busy_shop.do(TakeReading(gap.id, "points gap|as left", "16 thou"))
    taken = last(busy_shop)
    busy_shop.do(FinishTask(gap.id), "Nell")
    with pytest.raises(Refused, match="Done: Set the points gap' by Nell"):
        busy_shop.do(TakeBack(taken))


def test_work_that_came_after_is_named(busy_shop: Busy) -> None:
    drain = busy_shop.task("oil-change:drain")
    busy_shop.do(FinishTask(drain.id))
    drained = last(busy_shop)
    after = next(t for t in busy_shop.view().tasks if drain.task.key in t.task.after and not t.barred_by)
    busy_shop.do(FinishTask(after.id, "no reading at hand"), "Nell")
    with pytest.raises(Refused, match=f"Done: {after.task.title}.*by Nell"):
        busy_shop.do(TakeBack(drained))


def test_a_tag_another_task_stands_for_stays(busy_shop: Busy) -> None:
    """What hangs once is not hung twice: the second task that wants it rests on the first."""
    from shopcli.worklists.freeze import task_to_json

    drain = busy_shop.task("oil-change:drain")
    other = next(t for t in busy_shop.view().tasks if t.position > drain.position and not t.task.after)
    frozen = task_to_json(replace(other.task, hangs=("sump dry",), readings=()))
    busy_shop.behind("UPDATE task SET frozen = ? WHERE id = ?", frozen, other.id)
    busy_shop.do(FinishTask(drain.id))
    drained = last(busy_shop)
    busy_shop.do(FinishTask(other.id, "trial"), "Nell")
    with pytest.raises(Refused, match="by Nell"):
        busy_shop.do(TakeBack(drained))
    assert [t.name for t in busy_shop.view().tags if t.name == "sump dry"] == ["sump dry"]


def test_a_number_that_judged_a_reading_stays(busy_shop: Busy) -> None:
    gap = busy_shop.task("points:set-gap")
    spec = gap.task.spec("points_gap")
    assert spec is not None
    busy_shop.do(EnterSpec(busy_shop.vehicle, "points_gap", low="15 thou", high="17 thou", document="Book"))
    entered = last(busy_shop)
    busy_shop.do(TakeReading(gap.id, "points gap|as left", "16 thou"), "Nell")
    judged = [r for r in busy_shop.task("points:set-gap").readings if "Book" in r.provenance]
    if judged:  # the demo's own number may judge as well; then nothing was built on the new one
        with pytest.raises(Refused, match="by Nell"):
            busy_shop.do(TakeBack(entered))
    else:
        busy_shop.do(TakeBack(entered))


def test_only_ones_own_and_only_today(busy_shop: Busy) -> None:
    busy_shop.do(NoteOnTask(busy_shop.view().tasks[0].id, "look"))
    mine = last(busy_shop)
    with pytest.raises(Refused, match="somebody else"):
        busy_shop.do(TakeBack(mine), "Nell")
    busy_shop.clock.forward(hours=14)  # 00:15 the next day
    with pytest.raises(Refused, match="not done today"):
        busy_shop.do(TakeBack(mine))


def test_what_is_final_says_what_to_do_instead(busy_shop: Busy) -> None:
    from tests.shop.test_closing import settle_everything

    busy_shop.do(TakePayment(busy_shop.card, 5_000), "Dora")
    with pytest.raises(Refused, match="money taken") as caught:
        back(busy_shop, "Dora")
    assert "Reverse it" in caught.value.hint
    settle_everything(busy_shop)
    note = last(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    with pytest.raises(Refused, match="invoice") as caught:
        back(busy_shop, "Dora")
    assert "new card" in caught.value.hint
    with pytest.raises(Refused, match="closed"):
        busy_shop.do(TakeBack(note))
    assert busy_shop.view().state == "closed"


def test_a_booked_card_stays_in_hand_while_others_work_on_it(busy_shop: Busy) -> None:
    one, two = busy_shop.view().tasks[:2]
    busy_shop.do(ClockOn(one.id))
    busy_shop.do(ClockOn(two.id), "Nell")
    back(busy_shop)
    assert busy_shop.view().state == "in hand"
    back(busy_shop, "Nell")


def test_stock_is_brought_back_by_the_difference(busy_shop: Busy) -> None:
    contact = part(busy_shop, "contact set")
    busy_shop.do(MovePart(contact, "fitted"))
    mine = last(busy_shop)
    from shopcli.shop.commands import PutPart

    line = busy_shop.do(PutPart(busy_shop.card, part_id=2), "Nell").id  # type: ignore[attr-defined]
    busy_shop.do(MovePart(line, "fitted"), "Nell")
    busy_shop.do(TakeBack(mine))
    assert busy_shop.shop.fetch("SELECT stock_milli FROM part WHERE id = 2") == [(1_000,)]


def test_a_finding_that_was_waived_stays(busy_shop: Busy) -> None:
    from shopcli.shop.commands import Waive

    key = busy_shop.do(AddFinding(busy_shop.card, "brakes", "hose perished", "stop")).id  # type: ignore[attr-defined]
    mine = last(busy_shop)
    busy_shop.do(Waive(busy_shop.card, f"finding:{key}", "the customer was told"), "Dora")
    with pytest.raises(Refused, match=r"Waived: .* by Dora"):
        busy_shop.do(TakeBack(mine))


def test_a_wish_is_taken_back_and_the_one_before_holds_again(busy_shop: Busy) -> None:
    from shopcli.shop.commands import GiveBack, PinTask

    def wishes() -> list[tuple[object, ...]]:
        return busy_shop.shop.fetch("SELECT kind FROM wish WHERE given_back_at IS NULL ORDER BY id")

    tidy = busy_shop.view().tasks[-1].id
    busy_shop.do(PinTask(tidy, "by", person_id=busy_shop.people["Nell"]))
    busy_shop.do(PinTask(tidy, "by", person_id=busy_shop.people["Tom"]))
    back(busy_shop)
    assert wishes() == [("by",)]
    busy_shop.do(GiveBack(busy_shop.card, tidy))
    assert wishes() == []
    assert any("holds again" in said for said in back(busy_shop))
    assert wishes() == [("by",)]


def test_the_journal_keeps_both(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0]
    busy_shop.do(NoteOnTask(task.id, "look"))
    note = last(busy_shop)
    busy_shop.do(TakeBack(note))
    (act, undid, after), *_ = busy_shop.shop.fetch(
        "SELECT act, undid, after FROM journal ORDER BY id DESC LIMIT 1"
    )
    assert (act, undid) == ("TakeBack", note)
    assert json.loads(after)["taken_back"] == note


# Acts that belong to no card, and so to no last act on one.
OF_NO_CARD = {
    "AddPerson",
    "ChangePerson",
    "PersonLeaves",
    "PersonComesBack",
    "SignIn",
    "SetPin",
    "ClearPin",
    "SetUnits",
    "AddCustomer",
    "ChangeCustomer",
    "AddVehicle",
    "ChangeVehicleFacts",
    "MakeSheet",
    "ChangeSheet",
    "EnterOnSheet",
    "WithdrawNumber",
    "AddPart",
    "ChangePart",
    "AddSupplier",
    "ChangeSupplier",
    "AddTool",
    "ChangeTool",
    "NoteCalibration",
    "RetireTool",
}


def test_every_act_on_a_card_is_taken_back_or_says_why_not() -> None:
    import importlib
    import pkgutil

    import shopcli.shop
    from shopcli.shop.inverses import FINAL, INVERSES

    for module in pkgutil.iter_modules(shopcli.shop.__path__):
        importlib.import_module(f"shopcli.shop.{module.name}")
    names = {kind.__name__ for kind in Command.__subclasses__() if kind.__module__.startswith("shopcli.")}
    assert names - set(INVERSES) - set(FINAL) - OF_NO_CARD == set()
