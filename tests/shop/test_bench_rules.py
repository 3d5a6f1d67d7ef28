"""Readings, tags, owed checks, findings, second pair of eyes: the rules of the bench, without a screen."""

import pytest

from shopcli.errors import Ambiguous, BadInput, Barred, NotFound, Refused
from shopcli.shop.clock_commands import EndBreak, GoOnBreak
from shopcli.shop.commands import (
    AddFinding,
    ClockOn,
    EnterSpec,
    FinishTask,
    LeaveOut,
    LiftTag,
    NoteOnTask,
    OpenCard,
    PutPart,
    ReopenTask,
    SecondCheck,
    SettleFinding,
    SettleOwed,
    StrikeReading,
    TakeReading,
)
from shopcli.store.reads import bench, desk
from tests.conftest import Busy

GAP = "points gap|as left"


@pytest.mark.parametrize("typed", ["16 thou", '.016"', "0,40 mm", "0.4 mm", "0.016 in"])
def test_a_reading_is_kept_as_typed_and_judged(busy_shop: Busy, typed: str) -> None:
    task = busy_shop.task("points:set-gap")
    busy_shop.do(TakeReading(task.id, GAP, typed))
    (reading,) = busy_shop.task("points:set-gap").readings
    assert reading.typed == typed
    assert reading.value == pytest.approx(0.0004, abs=7e-6)
    assert reading.standing == "in"
    assert reading.provenance == "demo"


def test_a_reading_out_of_limits_says_which_way_and_hinders(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap")
    done = busy_shop.do(TakeReading(task.id, GAP, "30 thou"))
    assert "high" in done.said[0]
    busy_shop.do(FinishTask(task.id))
    keys = [h.key for h in bench.hindrances(busy_shop.shop, busy_shop.card)]
    assert any(k.startswith("reading:") for k in keys)


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ("40 psi", BadInput),
        ("", BadInput),
        ("[/oops]", BadInput),
        ("1e400 mm", BadInput),
        ("-5 thou", BadInput),
    ],
)
def test_what_cannot_be_a_gap_is_refused_and_loses_nothing(busy_shop: Busy, typed: str, error: type) -> None:
    task = busy_shop.task("points:set-gap")
    busy_shop.do(TakeReading(task.id, GAP, "16 thou"))
    with pytest.raises(error):
        busy_shop.do(TakeReading(task.id, GAP, typed))
    assert [r.typed for r in busy_shop.task("points:set-gap").readings] == ["16 thou"]


def test_an_ambiguous_torque_asks(busy_shop: Busy) -> None:
    with pytest.raises(Ambiguous) as caught:
        busy_shop.do(
            TakeReading(busy_shop.task("oil-change:refit-plug").id, "sump plug torque|as left", "40 lb")
        )
    assert len(caught.value.choices) == 2


def test_a_bare_figure_whose_size_says_another_unit_asks(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap").id
    with pytest.raises(Ambiguous, match="would be near") as caught:
        busy_shop.do(TakeReading(task, GAP, "16", unit="mm"))
    assert caught.value.choices == ("16 thou", "16 mm")
    assert not busy_shop.task("points:set-gap").readings
    busy_shop.do(TakeReading(task, GAP, "16 mm", unit="mm"))  # at its word
    (kept,) = busy_shop.task("points:set-gap").readings
    assert (kept.typed, kept.standing) == ("16 mm", "high")


def test_a_second_reading_strikes_the_first_and_both_stay(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap")
    busy_shop.do(TakeReading(task.id, GAP, "14 thou"))
    busy_shop.do(TakeReading(task.id, GAP, "16 thou"))
    assert [r.typed for r in busy_shop.task("points:set-gap").readings] == ["16 thou"]
    assert busy_shop.shop.fetch("SELECT typed FROM reading ORDER BY id") == [("14 thou",), ("16 thou",)]
    busy_shop.do(StrikeReading(busy_shop.task("points:set-gap").readings[0].id))
    assert busy_shop.task("points:set-gap").readings == ()


def test_a_practice_number_may_not_judge_until_confirmed(busy_shop: Busy) -> None:
    """A car known only to its family has numbers of common practice; they are shown but judge nothing."""
    shop = busy_shop.shop
    from shopcli.shop.commands import AddVehicle

    car = busy_shop.do(AddVehicle(busy_shop.customer, "OLD 1", "Lark", sheet="flat-four-air")).id
    card = busy_shop.do(OpenCard(car, ("points",), odometer=50_000)).id
    task = next(t for t in bench.card(shop, card).tasks if t.task.key == "points:set-gap")
    done = busy_shop.do(TakeReading(task.id, GAP, "16 thou"))
    assert "not judged" in done.said[0]
    busy_shop.do(FinishTask(task.id))
    assert any(h.what.startswith("Reading not judged") for h in bench.hindrances(shop, card))
    with pytest.raises(BadInput, match="document"):
        busy_shop.do(EnterSpec(car, "points_gap", confirm=True))
    busy_shop.do(EnterSpec(car, "points_gap", confirm=True, document="Lark handbook", page="12"))
    done = busy_shop.do(TakeReading(task.id, GAP, "16 thou"))
    assert "in limits" in done.said[0]
    spec = next(t for t in bench.card(shop, card).tasks if t.task.key == "points:set-gap").task.spec(
        "points_gap"
    )
    assert spec is not None
    assert spec.provenance.document == "Lark handbook"
    assert spec.provenance.who == "Tom"


def test_a_number_of_the_vehicles_own_is_entered_as_printed(busy_shop: Busy) -> None:
    busy_shop.do(
        EnterSpec(busy_shop.vehicle, "points_gap", "14 thou", "", "16 thou", document="Plate book", page="3")
    )
    own = bench.own_specs(busy_shop.shop, busy_shop.vehicle)["points_gap"]
    assert own.limits.unit == "thou"
    assert own.limits.low == pytest.approx(14 * 25.4e-6)
    with pytest.raises(BadInput):
        busy_shop.do(
            EnterSpec(busy_shop.vehicle, "points_gap", "14 thou", "", "0.4 mm", document="Two units")
        )
    with pytest.raises(BadInput):
        busy_shop.do(EnterSpec(busy_shop.vehicle, "points_gap", "40 psi", document="Wrong kind"))
    with pytest.raises(NotFound):
        busy_shop.do(EnterSpec(busy_shop.vehicle, "moon_gap", "14 thou", document="?"))


def test_a_task_wants_its_readings_or_a_note(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap")
    with pytest.raises(Refused, match="points gap"):
        busy_shop.do(FinishTask(task.id))
    busy_shop.do(FinishTask(task.id, note="feeler blades on loan"))
    assert busy_shop.task("points:set-gap").note == "feeler blades on loan"


def drain(busy: Busy) -> None:
    for key in ("oil-change:warm-oil", "oil-change:raise-car", "oil-change:drain"):
        busy.do(FinishTask(busy.task(key).id))


def test_a_dry_sump_bars_cranking_and_names_who_and_when(busy_shop: Busy) -> None:
    drain(busy_shop)
    assert [t.name for t in busy_shop.view().tags] == ["car on stands", "sump dry"]
    task = busy_shop.task("oil-change:run-and-look")
    assert "sump dry" in task.barred_by
    with pytest.raises(Barred, match="sump dry") as caught:
        busy_shop.do(FinishTask(task.id))
    assert "Hung by Tom on Wed 25 Nov 10:15" in caught.value.hint
    assert any(h.key.startswith("tag:") for h in bench.hindrances(busy_shop.shop, busy_shop.card))


def test_a_tag_bars_on_another_card_of_the_same_car_too(busy_shop: Busy) -> None:
    drain(busy_shop)
    other = busy_shop.do(OpenCard(busy_shop.vehicle, ("points",), odometer=50_000)).id
    timing = next(t for t in bench.card(busy_shop.shop, other).tasks if t.task.key == "points:check-timing")
    assert "sump dry" in timing.barred_by
    with pytest.raises(Barred):
        busy_shop.do(FinishTask(timing.id, note="x"))


def without_what_comes_before(busy: Busy, key: str) -> None:
    """Leave out what comes before a task and is still open."""
    wanted = busy.task(key).task.after
    for task in busy.view().tasks:
        if task.task.key in wanted and task.state == "open":
            busy.do(LeaveOut(task.id, "not in this test"))


def test_no_tag_comes_off_while_something_before_it_is_open(busy_shop: Busy) -> None:
    """The oil went in with the plug still out, and the engine was no longer barred."""
    drain(busy_shop)
    refill = busy_shop.task("oil-change:refill")
    busy_shop.do(TakeReading(refill.id, "oil put in|as left", "3 1/2 L"))
    with pytest.raises(Refused, match=r"takes off the tag sump dry, and .*plug.* not done yet"):
        busy_shop.do(FinishTask(refill.id))
    assert "sump dry" in [t.name for t in busy_shop.view().tags]
    assert busy_shop.task("oil-change:refill").state == "open"


def test_the_task_that_refills_lifts_the_tag(busy_shop: Busy) -> None:
    drain(busy_shop)
    without_what_comes_before(busy_shop, "oil-change:refill")
    refill = busy_shop.task("oil-change:refill")
    busy_shop.do(TakeReading(refill.id, "oil put in|as left", "3 1/2 L"))
    done = busy_shop.do(FinishTask(refill.id))
    assert "Tag lifted: sump dry." in done.said
    assert [t.name for t in busy_shop.view().tags] == ["car on stands"]


def test_taking_back_takes_back_what_came_of_it(busy_shop: Busy) -> None:
    drain(busy_shop)
    without_what_comes_before(busy_shop, "oil-change:refill")
    refill = busy_shop.task("oil-change:refill")
    busy_shop.do(TakeReading(refill.id, "oil put in|as left", "3.5 L"))
    busy_shop.do(FinishTask(refill.id))
    owed = len([o for o in busy_shop.view().owed if o.state == "owed"])
    assert owed >= 2
    busy_shop.do(ReopenTask(refill.id))
    assert "sump dry" in [t.name for t in busy_shop.view().tags]
    assert [o for o in busy_shop.view().owed if o.state == "owed"] == []
    busy_shop.do(ReopenTask(busy_shop.task("oil-change:drain").id))
    assert [t.name for t in busy_shop.view().tags] == ["car on stands"]


def test_a_tag_is_lifted_by_hand_only_with_a_reason(busy_shop: Busy) -> None:
    drain(busy_shop)
    tag = next(t for t in busy_shop.view().tags if t.name == "sump dry")
    with pytest.raises(BadInput):
        busy_shop.do(LiftTag(tag.id, " "))
    busy_shop.do(LiftTag(tag.id, "filled by Nell yesterday"))
    assert "sump dry" not in [t.name for t in busy_shop.view().tags]


def test_a_promised_check_is_owed_until_its_task_or_a_waiver(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap")
    busy_shop.do(TakeReading(task.id, GAP, "16 thou"))
    done = busy_shop.do(FinishTask(task.id))
    assert "Owed now: Check the dwell." in done.said
    dwell = next(o for o in busy_shop.view().owed if o.title == "Check the dwell")
    with pytest.raises(Refused, match="settled by doing"):
        busy_shop.do(SettleOwed(dwell.id, "done", "looked fine"))
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(SettleOwed(dwell.id, "waived"))
    busy_shop.do(SettleOwed(dwell.id, "waived", "no meter here, Olive agreed"))
    assert next(o for o in busy_shop.view().owed if o.id == dwell.id).state == "waived"


def test_leaving_out_needs_a_reason_and_keeps_the_promise(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap")
    busy_shop.do(TakeReading(task.id, GAP, "16 thou"))
    busy_shop.do(FinishTask(task.id))
    check = busy_shop.task("points:check-dwell")
    with pytest.raises(BadInput):
        busy_shop.do(LeaveOut(check.id, ""))
    busy_shop.do(LeaveOut(check.id, "meter broken"))
    assert any(
        h.what == "Check still owed: Check the dwell"
        for h in bench.hindrances(busy_shop.shop, busy_shop.card)
    )


def test_findings_outlive_the_card_until_done_or_declined(busy_shop: Busy) -> None:
    with pytest.raises(BadInput, match="how bad"):
        busy_shop.do(AddFinding(busy_shop.card, "engine bay", "fuel hose perished", "purple"))
    key = busy_shop.do(
        AddFinding(busy_shop.card, "engine bay", "fuel hose perished", "stop", "2 m of hose")
    ).id
    assert any(h.key == f"finding:{key}" for h in bench.hindrances(busy_shop.shop, busy_shop.card))
    assert [f.what for f in desk.vehicle(busy_shop.shop, busy_shop.vehicle).findings] == [
        "fuel hose perished"
    ]
    with pytest.raises(BadInput):
        busy_shop.do(SettleFinding(key, "declined"))
    busy_shop.do(SettleFinding(key, "declined", "will do it himself"))
    assert desk.vehicle(busy_shop.shop, busy_shop.vehicle).findings == ()


def test_the_second_pair_of_eyes_is_somebody_elses(busy_shop: Busy) -> None:
    card = busy_shop.do(OpenCard(busy_shop.vehicle, ("brakes-adjust",), odometer=50_000)).id
    task = next(t for t in bench.card(busy_shop.shop, card).tasks if t.task.second)
    with pytest.raises(Refused, match="not done"):
        busy_shop.do(SecondCheck(task.id), "Nell")
    busy_shop.do(ClockOn(task.id), "Olive")
    busy_shop.do(FinishTask(task.id, note="trial"), "Tom")
    for name in ("Tom", "Olive"):
        with pytest.raises(Refused, match="did not do the work"):
            busy_shop.do(SecondCheck(task.id), name)
    busy_shop.do(SecondCheck(task.id), "Nell")
    assert next(t for t in bench.card(busy_shop.shop, card).tasks if t.id == task.id).second_by == "Nell"


def test_a_note_stays_when_somebody_else_says_the_task_is_done(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap").id
    busy_shop.do(NoteOnTask(task, "cam worn"))
    busy_shop.do(FinishTask(task, "no reading: gauge lent out"), "Nell")
    assert busy_shop.task("points:set-gap").note == "cam worn; no reading: gauge lent out"


def test_no_clock_starts_on_a_barred_task_nor_goes_on_there_after_a_break(busy_shop: Busy) -> None:
    run = busy_shop.task("oil-change:run-and-look").id
    busy_shop.do(ClockOn(run), "Nell")
    busy_shop.do(GoOnBreak(), "Nell")
    drain(busy_shop)
    with pytest.raises(Barred, match="sump dry"):
        busy_shop.do(ClockOn(run))
    with pytest.raises(Refused, match=r"cannot go on: .* is barred") as caught:
        busy_shop.do(EndBreak(), "Nell")
    assert "c on another task ends the break" in caught.value.hint
    refill = busy_shop.task("oil-change:refill").id  # it lifts the tag: the way out is open
    assert busy_shop.do(ClockOn(refill)).said[-2].startswith("Clock running on")


def test_done_says_what_is_left_out_of_limits_and_what_is_still_wanted(busy_shop: Busy) -> None:
    task = busy_shop.task("points:set-gap")
    busy_shop.do(PutPart(busy_shop.card, None, "contact screw", price_minor=10, task_id=task.id))
    taken = busy_shop.do(TakeReading(task.id, GAP, "30 thou"))
    assert ": out of limits, high by" in taken.said[0]
    said = busy_shop.do(FinishTask(task.id)).said
    assert said[0] == "Done, out of limits: Set the points gap."
    assert any(s.startswith("Left out of limits: points gap 30 thou, high by") for s in said)
    assert any("contact screw" in s for s in said if s.startswith("Still wanted:"))
    assert busy_shop.task("points:set-gap").left_out_of_limits


def test_done_without_time_says_so_first_and_only_where_it_is_missed(busy_shop: Busy) -> None:
    small, big, beside, last = (
        busy_shop.task(f"points:{key}") for key in ("make-safe", "fit-points", "cap-off", "set-gap")
    )
    said = "No time is clocked on it."
    assert (small.task.minutes, beside.task.minutes) == (1, 5)
    assert said not in busy_shop.do(FinishTask(small.id)).said
    busy_shop.do(ClockOn(big.id))
    assert said not in busy_shop.do(FinishTask(beside.id)).said
    assert busy_shop.do(FinishTask(last.id, "no blade at hand"), "Nell").said[1] == said
    assert said not in busy_shop.do(FinishTask(big.id)).said
