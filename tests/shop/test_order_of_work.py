"""The order of work from real records: what is done, in hand, waiting, hung, lacking parts; and it keeps every rule."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.errors import NotFound, ShopError
from shopcli.shop.commands import (
    AddPart,
    ClockOff,
    ClockOn,
    FinishTask,
    GiveBack,
    LeaveOut,
    LiftTag,
    MovePart,
    OpenCard,
    PinTask,
    PutPart,
    ReopenTask,
    SetHands,
)
from shopcli.shop.ordered import Order
from shopcli.store.reads import bench, orders
from shopcli.worklists.planner import check
from tests.conftest import Busy


def order(busy: Busy, before: Order | None = None) -> Order:
    made = orders.order(busy.shop, busy.card, before=before)
    assert made.plan is not None
    assert check(made.plan, made.tasks) == []
    return made


def shown(busy: Busy) -> list[str]:
    """Return the keys of the whole list as the bench shows it."""
    view = orders.in_order(busy.view(), order(busy))
    assert sorted(t.id for t in view.tasks) == sorted(t.id for t in busy.view().tasks)
    return [t.task.key for t in view.tasks]


def drain(busy: Busy) -> None:
    for key in ("oil-change:warm-oil", "oil-change:raise-car", "oil-change:drain"):
        busy.do(FinishTask(busy.task(key).id))


def test_the_drain_is_started_before_the_ignition_is_done(busy_shop: Busy) -> None:
    for line in busy_shop.view().parts:
        if line.description == "strainer gasket":
            busy_shop.do(MovePart(line.id, "fitted"))
    made = order(busy_shop)
    places = {key: index for index, key in enumerate(shown(busy_shop))}
    assert places["oil-change:drain"] < places["points:gap-found"]
    why = made.view.step(busy_shop.task("oil-change:drain").id).why
    assert "draining runs 20 min beside other work" in why
    assert made.view.elapsed_min < made.view.listed_min
    assert made.view.hands_on_min == sum(t.task.minutes for t in busy_shop.view().tasks)


def test_settled_tasks_stand_where_they_were_settled(busy_shop: Busy) -> None:
    late, early = "points:make-safe", "oil-change:read-dipstick"
    busy_shop.do(FinishTask(busy_shop.task(late).id))
    busy_shop.clock.forward(minutes=5)
    busy_shop.do(LeaveOut(busy_shop.task("oil-change:waste").id, "the customer takes it"))
    busy_shop.clock.forward(minutes=5)
    busy_shop.do(FinishTask(busy_shop.task(early).id))
    assert shown(busy_shop)[:3] == [late, "oil-change:waste", early]
    busy_shop.do(ReopenTask(busy_shop.task(late).id))
    assert shown(busy_shop)[:2] == ["oil-change:waste", early]


def test_a_task_left_out_hands_on_what_it_waited_for(busy_shop: Busy) -> None:
    """Without the gap being set, the cap still goes on after the points are in."""
    for key in ("points:set-gap", "points:fit-points"):
        busy_shop.do(LeaveOut(busy_shop.task(key).id, "not wanted"))
    places = {key: index for index, key in enumerate(shown(busy_shop))}
    assert places["points:cap-off"] < places["points:gap-found"] < places["points:fit-cap"]
    cap = next(t for t in order(busy_shop).tasks if t.key == "points:fit-cap")
    assert cap.after == ("points:gap-found",)


def test_a_wait_that_runs_is_what_is_left_of_it(busy_shop: Busy) -> None:
    drain(busy_shop)
    busy_shop.clock.forward(minutes=7, seconds=30)
    wait = next(w for w in order(busy_shop).view.waits if w.key == "oil-change:drain")
    assert (wait.start_min, wait.end_min) == (0, 13)
    refit = order(busy_shop).view.step(busy_shop.task("oil-change:refit-plug").id)
    assert refit.start_min >= 13
    busy_shop.clock.forward(minutes=13)
    assert all(w.key != "oil-change:drain" for w in order(busy_shop).view.waits)


def test_what_is_in_hand_comes_first_with_what_is_left_of_it(busy_shop: Busy) -> None:
    task = busy_shop.task("points:fit-points")
    busy_shop.do(ClockOn(task.id))
    busy_shop.clock.forward(minutes=5)
    first = order(busy_shop).view.steps[0]
    assert (first.task_id, first.in_hand, first.who) == (task.id, True, "Tom")
    assert first.end_min == task.task.minutes - 5
    busy_shop.clock.forward(hours=2)
    assert order(busy_shop).view.steps[0].end_min == 2, "it is not over before somebody says so"
    busy_shop.do(ClockOff())
    assert not any(s.in_hand for s in order(busy_shop).view.steps)


def test_a_tag_on_the_car_puts_what_it_bars_behind_what_lifts_it(busy_shop: Busy) -> None:
    drain(busy_shop)
    places = {key: index for index, key in enumerate(shown(busy_shop))}
    assert places["oil-change:refill"] < places["oil-change:run-and-look"]
    for key in ("oil-change:refill", "oil-change:lower-car"):
        busy_shop.do(LeaveOut(busy_shop.task(key).id, "to see what happens"))
    stuck = {gone.task_id: gone.why for gone in order(busy_shop).view.no_room}
    assert "sump dry" in stuck[busy_shop.task("oil-change:run-and-look").id]
    assert shown(busy_shop)[-1] in {t.task.key for t in busy_shop.view().tasks if t.id in stuck}
    for tag in busy_shop.view().tags:
        busy_shop.do(LiftTag(tag.id, "seen to by hand"))
    assert order(busy_shop).view.no_room == ()


def test_an_engine_that_ran_is_cold_again_after_two_hours(busy_shop: Busy) -> None:
    """Two hours and one: common practice, no source."""
    busy_shop.do(FinishTask(busy_shop.task("oil-change:warm-oil").id))
    assert {"engine warm"} <= order(busy_shop).plan.state.holds
    busy_shop.clock.forward(minutes=75)
    assert not {"engine warm", "engine cold"} & order(busy_shop).plan.state.holds
    busy_shop.clock.forward(minutes=60)
    assert "engine cold" in order(busy_shop).plan.state.holds


def test_the_car_is_as_another_card_has_left_it(busy_shop: Busy) -> None:
    drain(busy_shop)
    other = busy_shop.do(OpenCard(busy_shop.vehicle, ("brakes-adjust",), odometer=50_000)).id
    made = orders.order(busy_shop.shop, other)
    assert made.plan is not None
    assert {"car raised", "engine warm"} <= made.plan.state.holds
    assert {"sump dry", "car on stands"} <= made.plan.state.tags


def test_what_waits_for_parts_comes_last_until_they_are_here(busy_shop: Busy) -> None:
    """The strainer gaskets or the filter are of a task's own kit; the shelf has none."""
    lacking = [t for t in busy_shop.view().tasks if any(not k.optional for k in t.task.kit)]
    assert lacking, "a task of this card has a kit of its own"
    task = lacking[0]
    step = order(busy_shop).view.step(task.id)
    assert step.why.startswith("parts missing: ")
    free = [t for t in ("oil-change:read-dipstick", "points:set-gap") if t in shown(busy_shop)]
    assert all(shown(busy_shop).index(key) < shown(busy_shop).index(task.task.key) for key in free)
    part = task.task.kit[0].part
    line = next(p for p in busy_shop.view().parts if p.description == part)
    busy_shop.do(MovePart(line.id, "on order"))
    assert "parts missing" in order(busy_shop).view.step(task.id).why
    busy_shop.do(MovePart(line.id, "fitted", task.id))
    assert "parts missing" not in order(busy_shop).view.step(task.id).why


def test_a_part_on_the_shelf_is_here_as_far_as_it_goes(busy_shop: Busy) -> None:
    task = busy_shop.task("points:fit-points")
    key = busy_shop.do(AddPart("T-900", "odd spring", 100, stock_milli=1_000)).id
    busy_shop.do(PutPart(busy_shop.card, key, task_id=task.id))
    assert "parts missing" not in order(busy_shop).view.step(task.id).why
    busy_shop.do(PutPart(busy_shop.card, key, task_id=task.id))
    assert order(busy_shop).view.step(task.id).why == "parts missing: odd spring"


def test_the_customers_own_part_is_here_unless_it_is_on_order(busy_shop: Busy) -> None:
    task = busy_shop.task("points:fit-points")
    put = PutPart(busy_shop.card, description="owner's coil", task_id=task.id, customers_own=True)
    key = busy_shop.do(put).id
    assert "parts missing" not in order(busy_shop).view.step(task.id).why
    busy_shop.do(MovePart(key, "on order"))
    assert "owner's coil" in order(busy_shop).view.step(task.id).why


def test_a_part_no_task_is_named_for_is_said_once(busy_shop: Busy) -> None:
    busy_shop.do(PutPart(busy_shop.card, description="flux capacitor"))
    assert any(
        "no task is named for it" in note and "flux capacitor" in note for note in order(busy_shop).view.notes
    )


def test_an_order_holds_while_only_minutes_go_by(busy_shop: Busy) -> None:
    drain(busy_shop)
    busy_shop.do(ClockOn(busy_shop.task("points:make-safe").id))
    first = order(busy_shop)
    busy_shop.clock.forward(minutes=3)
    assert order(busy_shop, before=first) is first
    busy_shop.clock.forward(minutes=30)
    assert order(busy_shop, before=first) is not first, "the drain is over"
    second = order(busy_shop)
    busy_shop.do(LeaveOut(busy_shop.task("oil-change:waste").id, "not wanted"))
    assert order(busy_shop, before=second) is not second


def test_an_order_of_another_card_is_not_handed_back(busy_shop: Busy) -> None:
    other = busy_shop.do(OpenCard(busy_shop.vehicle, ("points",), odometer=50_000)).id
    made = orders.order(busy_shop.shop, other, before=order(busy_shop))
    assert made.view.card_id == other
    with pytest.raises(NotFound):
        orders.order(busy_shop.shop, 99)


def test_a_card_without_tasks_and_a_settled_one_have_an_empty_order(busy_shop: Busy) -> None:
    card = busy_shop.do(OpenCard(busy_shop.vehicle, title="Noise from the gearbox", odometer=50_000)).id
    made = orders.order(busy_shop.shop, card)
    assert (made.view.steps, made.view.elapsed_min, made.sequence) == ((), 0, ())
    assert orders.in_order(bench.card(busy_shop.shop, card), made).tasks == ()


def test_a_task_the_order_does_not_know_yet_comes_last(busy_shop: Busy) -> None:
    made = order(busy_shop)
    cut = replace(made, sequence=made.sequence[3:])
    view = orders.in_order(busy_shop.view(), cut)
    assert {t.id for t in view.tasks[-3:]} == set(made.sequence[:3])


def test_tasks_that_wait_in_a_circle_stand_as_listed(busy_shop: Busy) -> None:
    """Two jobs put on one after the other can do that; the list must not vanish for it."""
    one, two = busy_shop.task("points:make-safe"), busy_shop.task("points:road-test")
    ((frozen,),) = busy_shop.shop.fetch("SELECT frozen FROM task WHERE id = ?", (one.id,))
    tied = frozen.replace('"key":"points:make-safe"', '"after":["points:road-test"],"key":"points:make-safe"')
    busy_shop.behind("UPDATE task SET frozen = ? WHERE id = ?", tied, one.id)
    made = orders.order(busy_shop.shop, busy_shop.card)
    assert made.plan is None
    assert list(made.sequence) == [t.id for t in busy_shop.view().tasks]
    assert "wait for one another" in made.view.notes[0]
    assert two.id in made.sequence


acts = st.lists(
    st.tuples(
        st.sampled_from(
            (
                "done",
                "out",
                "back",
                "on",
                "off",
                "next",
                "place",
                "last",
                "after",
                "by",
                "give",
                "hands",
                "lift",
            )
        ),
        st.integers(0, 19),
        st.integers(0, 19),
        st.sampled_from(("Tom", "Nell")),
        st.sampled_from((0, 3, 25, 90, 200)),
    ),
    max_size=10,
)


def _act(busy: Busy, what: str, one: int, two: int) -> object:
    tasks = busy.view().tasks
    task, other = tasks[one % len(tasks)], tasks[two % len(tasks)]
    tags = busy.view().tags
    return {
        "done": FinishTask(task.id, "as it was found"),
        "out": LeaveOut(task.id, "not wanted"),
        "back": ReopenTask(task.id),
        "on": ClockOn(task.id),
        "off": ClockOff(),
        "next": PinTask(task.id, "next"),
        "place": PinTask(task.id, "place", place=two + 1),
        "last": PinTask(task.id, "last"),
        "after": PinTask(task.id, "after", other_id=other.id),
        "by": PinTask(task.id, "by", person_id=busy.people["Nell" if two % 2 else "Olive"]),
        "give": GiveBack(busy.card, task.id if two % 2 else None),
        "hands": SetHands(busy.card, two % 3 or None),
        "lift": LiftTag(tags[two % len(tags)].id, "seen to") if tags else ClockOff(),
    }[what]


@settings(
    max_examples=12,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(acts)
def test_whatever_was_done_and_asked_the_order_keeps_every_rule(busy_shop: Busy, told: list[tuple]) -> None:
    """The card goes on from example to example: what one left behind the next begins with."""
    for what, one, two, who, later in told:
        busy_shop.clock.forward(minutes=later)
        try:
            busy_shop.do(_act(busy_shop, what, one, two), who)
        except ShopError:
            continue
        finally:
            made = orders.order(busy_shop.shop, busy_shop.card)
            assert made.plan is not None
            assert check(made.plan, made.tasks) == []
            assert sorted(made.sequence) == sorted(t.id for t in busy_shop.view().tasks)
            assert not {
                w.says for w in made.view.wishes if w.set_aside == "" and w.task_id not in made.sequence
            }


def test_what_is_next_is_ready_and_in_nobody_elses_hands(busy_shop: Busy) -> None:
    first = next_key(busy_shop, "Tom")
    assert first == shown(busy_shop)[0]
    busy_shop.do(ClockOn(busy_shop.task("points:set-gap").id), "Nell")
    assert next_key(busy_shop, "Nell") != "points:fit-cap", "it waits for the gap"
    assert next_key(busy_shop, "Tom") not in {"points:set-gap", "points:fit-cap"}
    for task in busy_shop.view().tasks:
        if task.task.key != "points:set-gap":
            busy_shop.do(LeaveOut(task.id, "not wanted"))
    assert next_key(busy_shop, "Tom") == "points:set-gap", "better than nothing"


def test_a_clock_on_filling_makes_no_full_sump(busy_shop: Busy) -> None:
    """Straight after draining the clock was started on filling: the engine stood to be run before the plug was back."""
    said = busy_shop.do(FinishTask(busy_shop.task("oil-change:drain").id, "not measured"), "Tom")
    said = busy_shop.do(ClockOn(busy_shop.task("oil-change:refill").id), "Tom")
    assert any("Not before the rest" in line and "plug" in line for line in said.said)  # type: ignore[attr-defined]
    keys = shown(busy_shop)
    refill = keys.index("oil-change:refill")
    for before in busy_shop.task("oil-change:refill").task.after:
        if before in keys:
            assert keys.index(before) < refill, before
    assert next_key(busy_shop, "Tom") != "oil-change:refill"


def next_key(busy: Busy, who: str) -> str:
    made = orders.order(busy.shop, busy.card)
    task = orders.next_for(orders.in_order(busy.view(), made), made, who)
    assert task is not None
    return task.task.key
