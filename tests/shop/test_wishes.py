"""Wishes about the order of work on real records: kept, refused at once with the reason, given back, set aside later."""

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.shop.commands import (
    AddTemplates,
    ClockOff,
    ClockOn,
    FinishTask,
    GiveBack,
    LeaveOut,
    MoveCard,
    OpenCard,
    PinTask,
    SetHands,
)
from shopcli.shop.ordered import OrderView
from shopcli.store.reads import bench, orders
from shopcli.worklists.planner import check
from tests.conftest import Busy, journal_acts, journal_after


def now(busy: Busy, hands: int | None = None) -> OrderView:
    """Return the order as it is now, gone over by the checker."""
    made = orders.order(busy.shop, busy.card, hands=hands)
    assert made.plan is not None
    assert check(made.plan, made.tasks) == []
    assert sorted(made.sequence) == sorted(t.id for t in busy.view().tasks)
    return made.view


def keys(busy: Busy) -> list[str]:
    by_id = {t.id: t.task.key for t in busy.view().tasks}
    return [by_id[s.task_id] for s in now(busy).steps]


def test_next_comes_before_everything_and_says_so(busy_shop: Busy) -> None:
    tidy = busy_shop.task("oil-change:read-dipstick")
    done = busy_shop.do(PinTask(tidy.id, "next"))
    assert done.said == (f"'{tidy.task.title}': next, as asked.",)
    first = now(busy_shop).steps[0]
    assert (first.task_id, first.why, first.wish) == (tidy.id, "first, as asked", "next")


@pytest.mark.parametrize("place", [2, 5])
def test_a_place_is_kept_while_work_goes_on(busy_shop: Busy, place: int) -> None:
    task = busy_shop.task("points:make-safe")
    free = busy_shop.task("oil-change:read-dipstick")
    busy_shop.do(PinTask(free.id, "place", place=place))
    assert keys(busy_shop).index("oil-change:read-dipstick") == place - 1
    busy_shop.do(FinishTask(task.id))
    assert keys(busy_shop).index("oil-change:read-dipstick") == place - 2
    assert now(busy_shop).wishes[0].says == f"in place {place - 1}"


def test_last_after_and_by_somebody(busy_shop: Busy) -> None:
    road = busy_shop.task("points:road-test")
    gap, drain = busy_shop.task("points:gap-found"), busy_shop.task("oil-change:drain")
    busy_shop.do(PinTask(road.id, "last"))
    busy_shop.do(PinTask(gap.id, "after", other_id=drain.id))
    busy_shop.do(PinTask(gap.id, "by", person_id=busy_shop.people["Nell"]))
    order = keys(busy_shop)
    assert order[-1] == "points:road-test"
    assert order.index("oil-change:drain") < order.index("points:gap-found")
    view = now(busy_shop)
    assert (view.people, view.step(gap.id).who) == (("Nell",), "Nell")
    assert {w.says for w in view.wishes_for(gap.id)} == {f"after '{drain.task.title}'", "by Nell"}


def test_a_newer_wish_takes_the_place_of_an_older_of_its_kind(busy_shop: Busy) -> None:
    task = busy_shop.task("oil-change:read-dipstick")
    busy_shop.do(PinTask(task.id, "next"))
    busy_shop.do(PinTask(task.id, "by", person_id=busy_shop.people["Tom"]))
    busy_shop.do(PinTask(task.id, "place", place=2))
    assert [w.says for w in now(busy_shop).wishes] == ["by Tom", "in place 2"]
    assert busy_shop.shop.fetch("SELECT COUNT(*) FROM wish") == [(3,)], "nothing is deleted"


def test_two_that_want_to_be_next_the_newer_is(busy_shop: Busy) -> None:
    one, two = busy_shop.task("oil-change:read-dipstick"), busy_shop.task("points:make-safe")
    busy_shop.do(PinTask(one.id, "next"))
    busy_shop.do(PinTask(two.id, "next"))
    assert [s.task_id for s in now(busy_shop).steps[:2]] == [two.id, one.id]


def test_an_impossible_wish_is_refused_with_the_reason_and_nothing_is_written(busy_shop: Busy) -> None:
    refill, drain = busy_shop.task("oil-change:refill"), busy_shop.task("oil-change:drain")
    with pytest.raises(Refused, match="come before it"):
        busy_shop.do(PinTask(refill.id, "next"))
    with pytest.raises(Refused, match="not possible"):
        busy_shop.do(PinTask(drain.id, "after", other_id=refill.id))
    assert busy_shop.shop.fetch("SELECT COUNT(*) FROM wish") == [(0,)]
    assert "PinTask" not in journal_acts(busy_shop.shop)


def test_a_refused_wish_leaves_the_older_one(busy_shop: Busy) -> None:
    refill = busy_shop.task("oil-change:refill")
    busy_shop.do(PinTask(refill.id, "by", person_id=busy_shop.people["Tom"]))
    busy_shop.do(PinTask(refill.id, "place", place=15))
    with pytest.raises(Refused):
        busy_shop.do(PinTask(refill.id, "next"))
    assert [w.says for w in now(busy_shop).wishes] == ["by Tom", "in place 15"]


@pytest.mark.parametrize(
    ("wish", "message"),
    [
        ({"kind": "soon"}, "is no wish"),
        ({"kind": "place", "place": 0}, "no place 0"),
        ({"kind": "place", "place": 21}, "no place 21"),
        ({"kind": "after"}, "no task 0"),
        ({"kind": "by", "person_id": 99}, "no person 99"),
    ],
)
def test_what_is_no_wish_is_refused(busy_shop: Busy, wish: dict[str, object], message: str) -> None:
    with pytest.raises((BadInput, Refused, LookupError), match=message):
        busy_shop.do(PinTask(busy_shop.task("points:make-safe").id, **wish))  # type: ignore[arg-type]


def test_only_an_open_task_that_is_not_begun_has_a_place(busy_shop: Busy) -> None:
    task = busy_shop.task("points:make-safe")
    busy_shop.do(ClockOn(task.id))
    with pytest.raises(Refused, match="in hand already"):
        busy_shop.do(PinTask(task.id, "last"))
    busy_shop.do(PinTask(task.id, "by", person_id=busy_shop.people["Tom"]))
    with pytest.raises(Refused, match="of two people"):
        busy_shop.do(PinTask(task.id, "by", person_id=busy_shop.people["Nell"]))
    busy_shop.do(FinishTask(task.id))
    with pytest.raises(Refused, match="done already"):
        busy_shop.do(PinTask(task.id, "next"))
    assert now(busy_shop).wishes == ()


def test_wishes_are_given_back_by_one_act_and_journalled(busy_shop: Busy) -> None:
    as_planned = keys(busy_shop)
    one, two = busy_shop.task("oil-change:read-dipstick"), busy_shop.task("points:road-test")
    busy_shop.do(PinTask(one.id, "place", place=4))
    busy_shop.do(PinTask(two.id, "last"))
    assert busy_shop.do(GiveBack(busy_shop.card, one.id)).said == ("One wish given back.",)
    assert [w.says for w in now(busy_shop).wishes] == ["last"]
    busy_shop.do(PinTask(one.id, "by", person_id=busy_shop.people["Tom"]))
    assert busy_shop.do(GiveBack(busy_shop.card), "Nell").said == ("2 wishes given back.",)
    assert keys(busy_shop) == as_planned
    assert journal_acts(busy_shop.shop).count("GiveBack") == 2
    assert [w["kind"] for w in journal_after(busy_shop.shop, "PinTask")] == ["place", "last", "by"]
    given = busy_shop.shop.fetch("SELECT given_back_by FROM wish ORDER BY id")
    assert [row[0] for row in given] == [busy_shop.people[n] for n in ("Tom", "Nell", "Nell")]
    with pytest.raises(Refused, match="nothing was asked"):
        busy_shop.do(GiveBack(busy_shop.card))


def test_a_wish_that_became_impossible_is_set_aside_and_says_why(busy_shop: Busy) -> None:
    """The gap was to be Nell's; Tom has begun it meanwhile."""
    nell = busy_shop.people["Nell"]
    gap = busy_shop.task("points:gap-found")
    busy_shop.do(PinTask(gap.id, "by", person_id=nell))
    busy_shop.do(ClockOn(gap.id), "Tom")
    view = now(busy_shop)
    assert "two people" in view.wishes[0].set_aside
    assert view.step(gap.id).who == "Tom"
    busy_shop.do(ClockOff(), "Tom")
    assert now(busy_shop).wishes[0].set_aside == ""


def test_who_is_known_on_the_card_counts_as_a_pair_of_hands(busy_shop: Busy) -> None:
    assert (now(busy_shop).hands, now(busy_shop).people) == (1, ())
    busy_shop.do(ClockOn(busy_shop.task("points:make-safe").id), "Tom")
    busy_shop.do(ClockOn(busy_shop.task("oil-change:read-dipstick").id), "Nell")
    view = now(busy_shop)
    assert (view.hands, view.people) == (2, ("Tom", "Nell"))
    assert {s.who for s in view.steps if s.in_hand} == {"Tom", "Nell"}


def test_hands_of_a_card_of_the_shop_and_of_one_look(busy_shop: Busy) -> None:
    one = now(busy_shop)
    assert (one.hands, one.from_card) == (1, None)
    assert busy_shop.do(SetHands(busy_shop.card, 2)).said == ("Card J00001: 2 pairs of hands.",)
    two = now(busy_shop)
    assert (two.hands, two.from_card) == (2, 2)
    assert two.elapsed_min < one.elapsed_min
    assert now(busy_shop, hands=3).hands == 3
    busy_shop.do(SetHands(busy_shop.card, None))
    assert now(busy_shop).hands == 1
    for crowd in (0, 9, -1):
        with pytest.raises(BadInput, match="people on one car"):
            busy_shop.do(SetHands(busy_shop.card, crowd))


def test_a_settled_card_has_nothing_to_put_in_order(busy_shop: Busy) -> None:
    card = busy_shop.do(OpenCard(busy_shop.vehicle, ("points",), odometer=50_000)).id
    task = bench.card(busy_shop.shop, card).tasks[0]
    busy_shop.do(MoveCard(card, "void", "by mistake"), "Dora")
    for act in (PinTask(task.id, "next"), SetHands(card, 2), GiveBack(card)):
        with pytest.raises(Refused, match="is void"):
            busy_shop.do(act)


def test_a_wish_does_not_take_a_held_card_in_hand(busy_shop: Busy) -> None:
    busy_shop.do(MoveCard(busy_shop.card, "held", "waits for parts"), "Dora")
    busy_shop.do(PinTask(busy_shop.task("points:road-test").id, "last"), "Dora")
    assert busy_shop.view().state == "held"


def test_jobs_added_later_and_tasks_left_out_find_their_place(busy_shop: Busy) -> None:
    busy_shop.do(PinTask(busy_shop.task("points:road-test").id, "last"))
    busy_shop.do(AddTemplates(busy_shop.card, ("plugs-leads",)))
    busy_shop.do(LeaveOut(busy_shop.task("oil-change:drain").id, "not wanted after all"))
    order = keys(busy_shop)
    assert order[-1] == "points:road-test"
    assert "oil-change:drain" not in order
    assert any(key.startswith("plugs-leads:") for key in order)
