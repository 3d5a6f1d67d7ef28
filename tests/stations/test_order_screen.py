"""The order of work at the bench, on its screen and at the desk: pressed as a person presses it, checked in the records."""

from collections.abc import Callable

import pytest
from textual.widgets import OptionList

from shopcli.screens.acts import ACTS
from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.dialogs import AskText, Pick
from shopcli.screens.order.screen import OrderScreen
from shopcli.shop.commands import ClockOn, FinishTask, PinTask
from shopcli.store.reads import orders
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock, fill
from tests.stations.bench_help import SMALL, Standing, bench_shop, standing


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


@pytest.fixture
def lark(shop: Shop, clock: Clock) -> Busy:
    """A card with an oil change and points: something drains while something else is done."""
    return fill(shop, clock)


def screen(here: Standing) -> OrderScreen:
    found = here.app.screen_stack[-1]
    assert isinstance(found, OrderScreen), found
    return found


def listed(busy: Busy) -> list[str]:
    by_id = {t.id: t.task.key for t in busy.view().tasks}
    return [by_id[s.task_id] for s in orders.order(busy.shop, busy.card).view.steps]


async def choose(here: Standing, key: str) -> None:
    task = here.busy.task(key)
    steps = screen(here).query_one("#steps", OptionList)
    steps.highlighted = next(i for i, o in enumerate(steps.options) if o.id == str(task.id))
    await here.settle()


def chosen(here: Standing) -> str:
    step = screen(here).chosen()
    assert step is not None
    return next(t.task.key for t in here.busy.view().tasks if t.id == step.task_id)


async def test_every_act_of_the_order_has_its_action() -> None:
    for act in ACTS:
        if act.id.startswith("order."):
            assert callable(getattr(OrderScreen, "action_" + act.id.removeprefix("order.")))


async def test_the_bench_lists_in_the_order_of_work_and_says_why(lark: Busy) -> None:
    async with standing(lark, size=(120, 40)) as here:
        assert here.bench.view is not None
        assert [t.task.key for t in here.bench.view.tasks] == listed(lark)
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == listed(lark)[0]
        step = orders.order(lark.shop, lark.card).view.steps[0]
        assert f"Why now: {step.why}" in here.words()


async def test_done_goes_on_with_the_next_of_the_order_and_stays_above(lark: Busy) -> None:
    async with standing(lark) as here:
        first = listed(lark)[0]
        await here.press("d")
        assert here.bench.view is not None
        assert here.bench.in_hand is not None
        assert here.bench.view.tasks[0].task.key == first
        assert here.bench.view.tasks[0].state == "done"
        assert here.bench.in_hand.task.key == listed(lark)[0]


async def test_a_fast_clock_after_done_runs_on_what_follows(lark: Busy) -> None:
    async with standing(lark) as here:
        first = listed(lark)[0]
        await here.press("d", "c")
        (on,) = here.rows(
            "SELECT t.key FROM clock_entry e JOIN task t ON t.id = e.task_id WHERE e.ended_at IS NULL"
        )
        assert lark.task(first).state == "done"
        assert on != (first,)
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == on[0]


async def test_a_clock_after_a_refused_done_does_nothing(lark: Busy) -> None:
    async with standing(lark) as here:
        here.bench.choose_task(lark.task("points:set-gap").id)
        await here.press("d", "c")
        assert here.rows("SELECT id FROM clock_entry") == []


async def test_the_cursor_stays_on_its_task_when_the_order_changes(lark: Busy) -> None:
    async with standing(lark) as here:
        task = lark.task("points:set-gap")
        here.bench.choose_task(task.id)
        lark.do(PinTask(lark.task("points:make-safe").id, "next"), "Nell")
        lark.do(FinishTask(lark.task("points:make-safe").id), "Nell")
        here.bench.read_again()
        await here.settle()
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.id == task.id


async def test_what_somebody_else_is_at_is_not_next_for_me(lark: Busy) -> None:
    first, second = listed(lark)[:2]
    lark.do(ClockOn(lark.task(first).id), "Nell")
    async with standing(lark, who="Tom") as here:
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key != first
        assert second in listed(lark)


async def test_what_was_asked_of_somebody_else_is_not_next_for_me(lark: Busy) -> None:
    key = "points:make-safe"
    lark.do(PinTask(lark.task(key).id, "next"), "Nell")
    lark.do(PinTask(lark.task(key).id, "by", person_id=lark.people["Nell"]), "Nell")
    async with standing(lark, who="Tom") as here:
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key != key
    async with standing(lark, who="Nell") as here:
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == key


async def test_a_opens_the_order_with_figures_and_picture(lark: Busy) -> None:
    async with standing(lark) as here:
        await here.press("a")
        words = here.words()
        assert "Order of work  J00001" in words
        assert "2 h 14 hands-on" in words
        assert "From top to bottom" in words
        assert "draining: Drain the oil" in words
        assert "+0:00" in words
        await here.press("escape")
        assert isinstance(here.app.screen, BenchScreen)


async def test_enter_goes_to_the_task_at_the_bench(lark: Busy) -> None:
    async with standing(lark) as here:
        await here.press("a")
        await choose(here, "points:set-gap")
        await here.press("enter")
        assert isinstance(here.app.screen, BenchScreen)
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "points:set-gap"


async def test_next_is_asked_kept_and_given_back(lark: Busy) -> None:
    async with standing(lark) as here:
        as_planned = listed(lark)
        await here.press("a")
        await choose(here, "points:make-safe")
        await here.press("n")
        assert "next, as asked." in here.words()
        assert listed(lark)[0] == "points:make-safe"
        assert chosen(here) == "points:make-safe", "the cursor stays on its task"
        await here.press("g")
        assert "One wish given back." in here.words()
        assert listed(lark) == as_planned


async def test_an_impossible_wish_is_refused_with_the_reason(lark: Busy) -> None:
    async with standing(lark) as here:
        await here.press("a")
        await choose(here, "oil-change:refill")
        await here.press("n")
        assert "come before it" in here.words().replace("\n", " ")
        assert here.rows("SELECT id FROM wish") == []
        await here.press("j")
        assert "come before it" not in here.words()


async def test_a_place_by_its_number_or_last(lark: Busy) -> None:
    async with standing(lark) as here:
        await here.press("a")
        await choose(here, "oil-change:waste")
        await here.press("p")
        assert isinstance(here.app.screen, AskText)
        for _ in range(2):
            await here.press("backspace")
        await here.type("99")
        assert "is no place" in here.words()
        for _ in range(2):
            await here.press("backspace")
        await here.type("16")
        assert listed(lark).index("oil-change:waste") == 15
        await here.press("p", "backspace", "backspace")
        await here.type("last")
        assert listed(lark)[-1] == "oil-change:waste"


async def test_after_another_and_by_somebody(lark: Busy) -> None:
    async with standing(lark) as here:
        await here.press("a")
        await choose(here, "points:gap-found")
        await here.press("a")
        assert isinstance(here.app.screen, Pick)
        await here.type("drain the oil")
        assert listed(lark).index("oil-change:drain") < listed(lark).index("points:gap-found")
        await here.press("w")
        await here.type("nell")
        assert here.rows("SELECT kind, person_id FROM wish WHERE kind = 'by'") == [
            ("by", lark.people["Nell"])
        ]
        assert "by Nell, as asked" in here.words()


async def test_earlier_and_later_move_by_one(lark: Busy) -> None:
    lark.do(PinTask(lark.task("oil-change:waste").id, "place", place=16))
    async with standing(lark) as here:
        await here.press("a")
        await choose(here, "oil-change:waste")
        await here.press("l", "l")
        assert listed(lark).index("oil-change:waste") == 17
        await here.press("e")
        assert listed(lark).index("oil-change:waste") == 16
        assert chosen(here) == "oil-change:waste"


async def test_what_is_in_hand_does_not_move(lark: Busy) -> None:
    lark.do(ClockOn(lark.task("points:make-safe").id))
    async with standing(lark) as here:
        await here.press("a")
        await choose(here, "points:make-safe")
        await here.press("l")
        assert "it is in hand" in here.words()
        assert here.rows("SELECT id FROM wish") == []


async def test_give_back_asks_which_where_the_chosen_has_none(lark: Busy) -> None:
    lark.do(PinTask(lark.task("points:road-test").id, "last"))
    lark.do(PinTask(lark.task("points:make-safe").id, "next"))
    async with standing(lark) as here:
        await here.press("a")
        await choose(here, "oil-change:waste")
        await here.press("g")
        assert "asked by Tom" in here.words()
        await here.type("road test")
        assert [w.says for w in orders.order(lark.shop, lark.card).view.wishes] == ["next"]
        await choose(here, "oil-change:waste")
        await here.press("g", "enter")
        assert orders.order(lark.shop, lark.card).view.wishes == ()
        await here.press("g")
        assert "nothing was asked for" in here.words()


async def test_hands_change_the_picture(lark: Busy) -> None:
    async with standing(lark) as here:
        await here.press("a", "h")
        await here.type("2 pairs")
        assert here.rows("SELECT hands FROM card") == [(2,)]
        assert "person 2" in here.words()
        await here.press("h")
        await here.type("as usual")
        assert here.rows("SELECT hands FROM card") == [(None,)]


async def test_the_arrows_and_letters_walk_the_list(lark: Busy) -> None:
    async with standing(lark, size=SMALL) as here:
        await here.press("a")
        keys = [chosen(here)]
        for key in ("down", "j", "up", "i"):
            await here.press(key)
            keys.append(chosen(here))
        first, second, third = listed(lark)[:3]
        assert keys == [first, second, third, second, first]


async def test_a_card_with_nothing_left_says_so(busy: Busy) -> None:
    for task in busy.view().tasks:
        busy.do(FinishTask(task.id, "for the test"))
    async with standing(busy) as here:
        await here.press("a")
        assert "Nothing is left to do on this card." in here.words()
        for key in ("n", "p", "a", "w", "e", "l", "g"):
            await here.press(key)
        assert isinstance(here.app.screen, OrderScreen)
        assert here.rows("SELECT id FROM wish") == []


async def test_without_a_card_the_key_does_nothing(busy: Busy) -> None:
    async with standing(busy, card=False) as here:
        await here.press("a")
        assert isinstance(here.app.screen, BenchScreen)


async def test_the_desk_says_what_is_left_of_the_chosen_card(lark: Busy) -> None:
    async with standing(lark, who="Dora", card=False) as here:
        await here.press("f5")
        left = orders.order(lark.shop, lark.card).view
        hours, minutes = divmod(left.elapsed_min, 60)
        assert (
            f"J00001, left: 2 h 14 hands-on, {hours} h {minutes:02d} elapsed with 1 pair of hands"
            in here.words()
        )
        lark.do(FinishTask(lark.task("oil-change:raise-car").id))
        here.app.screen.reload()
        await here.settle()
        assert "J00001, left: 2 h 06 hands-on" in here.words()
