"""A price and a promise date from real records: past times, today's prices, the queue as it stands."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopcli.errors import BadInput, NotFound
from shopcli.shop.commands import (
    AddOutwork,
    AddPart,
    AddVehicle,
    ChangeCard,
    ClockOff,
    ClockOn,
    CloseCard,
    FinishTask,
    LeaveOut,
    MoveCard,
    MovePart,
    OpenCard,
    SecondCheck,
    Waive,
)
from shopcli.shop.money import total
from shopcli.shop.past_times import past_times
from shopcli.shop.queue_now import cards_left
from shopcli.store.reads import bench
from shopcli.store.reads.prices import past, price_for
from shopcli.store.reads.promises import promise_for, promise_of
from tests.conftest import SETTINGS, Busy

JOBS = ("oil-change", "points")


def finish(busy: Busy, card_id: int, factor: float, *, leave: str = "", clocked: bool = True) -> None:
    """Do a card in `factor` times its listed minutes and close it by the shop's own rules."""
    for task in bench.card(busy.shop, card_id).tasks:
        if task.task.key == leave:
            busy.do(LeaveOut(task.id, "not wanted"))
            continue
        if clocked:
            busy.do(ClockOn(task.id))
        busy.clock.forward(seconds=round(task.task.minutes * 60 * factor))
        busy.do(FinishTask(task.id, "not measured"))
        if task.task.second:
            busy.do(SecondCheck(task.id), "Nell")
    for part in bench.card(busy.shop, card_id).parts:
        busy.do(MovePart(part.id, "not used"))
    for hindrance in bench.hindrances(busy.shop, card_id):
        busy.do(Waive(card_id, hindrance.key, "a test"), "Olive")
    busy.do(MoveCard(card_id, "checked"), "Olive")
    busy.do(CloseCard(card_id), "Olive")


def another(busy: Busy, registration: str = "", jobs: tuple[str, ...] = JOBS, **more: object) -> int:
    vehicle = busy.vehicle
    if registration:
        command = AddVehicle(busy.customer, registration, "Lark", "1200", 1964, sheet="demo-lark-1200")
        vehicle = busy.do(command, "Dora").id  # type: ignore[attr-defined]
    return busy.do(OpenCard(vehicle, jobs, odometer=50_000, **more), "Dora").id  # type: ignore[arg-type,attr-defined]


# Past times -------------------------------------------------------------------------------------------


def test_closed_cards_teach_what_was_clocked_on_what_was_done(busy_shop: Busy) -> None:
    assert past(busy_shop.shop) == ()
    finish(busy_shop, busy_shop.card, 1.5, leave="oil-change:waste")
    found = {row.template: row for row in past(busy_shop.shop)}
    assert set(found) == set(JOBS)
    listed = sum(
        t.task.minutes
        for t in busy_shop.view().tasks
        if t.task.template == "oil-change" and t.state == "done"
    )
    assert found["oil-change"].listed_min == listed
    assert all(row.ratio == pytest.approx(1.5) for row in found.values())
    assert {(row.sheet, row.week) for row in found.values()} == {("demo-lark-1200", "2026-W48")}


def test_open_void_unclocked_old_and_forgotten_teach_nothing(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.clock.forward(minutes=30)
    busy_shop.do(ClockOff())
    assert past(busy_shop.shop) == ()
    finish(busy_shop, busy_shop.card, 1.0, clocked=False)
    busy_shop.do(MoveCard(another(busy_shop), "void", "a mistake"), "Dora")
    rows = {row.template: row for row in past_times(busy_shop.shop.fetch, busy_shop.shop.at())}
    assert set(rows) <= {"oil-change"}  # half an hour on one task of many: known, and within the bounds
    late = busy_shop.shop.at() + 4 * 365 * 24 * 3600
    assert past_times(busy_shop.shop.fetch, late) == ()


def test_the_price_learns_from_what_was_clocked(busy_shop: Busy) -> None:
    before = price_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    finish(busy_shop, busy_shop.card, 2.0)
    after = price_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    assert after.usual_min > 1.2 * before.usual_min
    assert before.jobs[0].says == "nothing clocked yet: the listed time, with a wide range"
    assert after.jobs[0].says == "from 1 past job on such vehicles"
    assert (after.jobs[0].past, after.jobs[0].on_such) == (1, 1)


# Prices -----------------------------------------------------------------------------------------------


def test_the_lines_add_up_to_the_range_at_todays_prices(busy_shop: Busy) -> None:
    busy_shop.do(AddPart("T-010", "strainer gasket", 100, price_minor=250, surcharge_minor=0), "Dora")
    view = price_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    assert total(view.lines) == view.usual
    assert total(view.at_most) == view.most
    hours, most = (sum(x.qty for x in lines if x.kind == "labour") for lines in (view.lines, view.at_most))
    assert float(hours * 60) == pytest.approx(
        view.usual_min, abs=12
    )  # each line up to its started six minutes
    assert abs(float(most * 60) - view.most_min) <= 6
    parts = {line.description: line.net for line in view.lines if line.kind == "part"}
    assert parts["strainer gasket"] == Decimal("5.00")  # two of them
    assert parts["contact set"] == Decimal("8.06")  # 6.20 and 30 % markup
    assert any(note.startswith("No price is known for: ") for note in view.notes)
    assert any(note.startswith("Not in the price, only if wanted: condenser") for note in view.notes)


def test_sundries_are_reckoned_on_the_labour_of_both_ends(busy_shop: Busy) -> None:
    busy_shop.shop.settings = SETTINGS._replace(sundries_percent=Decimal(3))
    view = price_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    for lines in (view.lines, view.at_most):
        (sundry,) = [line.net for line in lines if line.kind == "sundry"]
        labour = sum(line.net for line in lines if line.kind == "labour")
        assert sundry == (labour * 3 / 100).quantize(Decimal("0.01"))


def test_a_vehicle_not_written_down_is_known_by_its_sheet(busy_shop: Busy) -> None:
    known = price_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    unknown = price_for(busy_shop.shop, JOBS, sheet="demo-lark-1200")
    assert replace(unknown, vehicle_id=busy_shop.vehicle) == known
    for ask in (price_for, promise_for):
        with pytest.raises(BadInput, match="no job is named"):
            ask(busy_shop.shop, ())
        with pytest.raises(NotFound):
            ask(busy_shop.shop, ("no-such-job",), busy_shop.vehicle)


# Promises ---------------------------------------------------------------------------------------------


def test_the_queue_is_what_is_left_in_the_order_of_the_desk(busy_shop: Busy) -> None:
    soon = another(busy_shop, "A 1", promised="2026-11-26")
    never = another(busy_shop, "B 2")
    held = another(busy_shop, "C 3", promised="2026-11-25")
    busy_shop.do(MoveCard(held, "held", "no key"), "Dora")
    busy_shop.do(ClockOn(bench.card(busy_shop.shop, never).tasks[0].id))
    busy_shop.clock.forward(minutes=20)
    left = cards_left(busy_shop.shop.fetch, busy_shop.shop.at())
    assert [c.id for c in left] == [never, held, soon, busy_shop.card]
    first = left[0]
    assert first.running
    assert first.listed_min == sum(t.task.minutes for t in bench.card(busy_shop.shop, never).tasks)
    assert sum(j.clocked_min for j in first.jobs) == 20
    assert sum(hands + waits for hands, waits in first.chain) >= 20  # draining stands in the chain
    finish(busy_shop, never, 1.0)
    assert never not in {c.id for c in cards_left(busy_shop.shop.fetch, busy_shop.shop.at())}


def test_the_date_moves_with_the_queue_and_the_hands(busy_shop: Busy) -> None:
    alone = promise_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    assert alone.hands == 2
    for n in range(8):
        another(busy_shop, f"Q {n}", promised="2026-11-27")
    busy = promise_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    assert alone.usual is not None
    assert alone.sure is not None
    assert busy.usual is not None
    assert busy.sure is not None
    assert (alone.usual, busy.cards) == (alone.today, 9)
    assert alone.usual < busy.usual <= busy.sure
    assert busy.squeezed_sure is not None
    assert busy.squeezed_sure < busy.sure
    busy_shop.shop.settings = SETTINGS._replace(closed_days=(f"2026-11-26/{busy.sure.isoformat()}",))
    shut = promise_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    assert shut.sure is not None
    assert shut.sure > busy.sure


def test_squeezing_one_in_says_who_slips(busy_shop: Busy) -> None:
    big = ("brakes-drum-overhaul", "carburettor-overhaul", "recommissioning")
    busy_shop.shop.settings = SETTINGS._replace(hands=2)  # both at one car: who comes first holds up all
    view = promise_for(busy_shop.shop, big, busy_shop.vehicle)
    assert view.wanted is None
    for n in range(6):
        another(busy_shop, f"S {n}")
    tight = cards_left(busy_shop.shop.fetch, busy_shop.shop.at())[-1]
    own = promise_of(busy_shop.shop, tight.id)
    assert own.sure is not None
    version = bench.card(busy_shop.shop, tight.id).version
    busy_shop.do(ChangeCard(tight.id, version, promised=own.sure.isoformat()), "Dora")
    at_the_end = promise_for(busy_shop.shop, big, busy_shop.vehicle, wanted=date(2027, 3, 1))
    assert at_the_end.late == ()
    assert tight.number in {s.number for s in at_the_end.slips}
    assert at_the_end.wanted_slips == ()
    assert at_the_end.chance is not None
    assert at_the_end.chance > 95
    too_soon = promise_for(busy_shop.shop, big, busy_shop.vehicle, wanted=at_the_end.today)
    assert too_soon.chance is not None
    assert too_soon.chance < 50
    slip = next(s for s in at_the_end.slips if s.number == tight.number)
    assert slip.before <= slip.promised < slip.after
    assert slip.phone == "01234 567890"


def test_what_was_promised_too_early_is_late_whoever_is_squeezed_in(busy_shop: Busy) -> None:
    for n in range(6):
        another(busy_shop, f"L {n}", promised="2026-11-25")
    view = promise_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    assert view.late
    assert not {s.number for s in view.late} & {s.number for s in view.slips}


def test_outwork_and_held_cards_wait_for_their_day(busy_shop: Busy) -> None:
    busy_shop.do(AddOutwork(busy_shop.card, "Skim the head", "Fell & Co", due="2026-12-07"), "Dora")
    mine = promise_of(busy_shop.shop, busy_shop.card)
    assert mine.usual is not None
    assert mine.usual >= date(2026, 12, 7)
    assert mine.wanted == date(2026, 11, 27)
    assert mine.chance == 0
    other = another(busy_shop, "H 1")
    busy_shop.do(AddOutwork(other, "Rewind the dynamo", "Fell & Co"), "Dora")
    busy_shop.do(MoveCard(other, "held", "dynamo away"), "Dora")
    view = promise_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    assert view.notes == ("Held and not counted: J00002.",)
    assert view.cards == 1
    assert promise_of(busy_shop.shop, other).waits == "not here, and without a due date: Rewind the dynamo"
    assert (mine.waits, view.waits) == ("", "")
    with pytest.raises(NotFound, match="not in the queue"):
        promise_of(busy_shop.shop, 77)


def test_the_same_question_has_the_same_answer(busy_shop: Busy) -> None:
    another(busy_shop, "Z 1")
    assert promise_for(busy_shop.shop, JOBS, busy_shop.vehicle) == promise_for(
        busy_shop.shop, JOBS, busy_shop.vehicle
    )
