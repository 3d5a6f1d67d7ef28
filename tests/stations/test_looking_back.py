"""Undo, breaks, who stands here, forgotten clocks, times of a day, "where was I": pressed as a person presses them."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.bench.undo import UndoScreen
from shopcli.screens.forgotten import ForgottenClock
from shopcli.screens.times.station import TimesScreen
from shopcli.screens.whereabouts import WhereScreen
from shopcli.screens.who import WhoScreen
from shopcli.shop.commands import (
    AddFinding,
    ClockOff,
    ClockOn,
    FinishTask,
    LeaveOut,
    MovePart,
    NoteOnTask,
    ReopenTask,
    TakePayment,
    TakeReading,
)
from shopcli.store.reads import times
from shopcli.store.reads.lately import where_was_i
from shopcli.store.reads.orders import next_for
from shopcli.store.shop import Shop
from shopcli.where_words import as_text
from tests.conftest import Busy, Clock
from tests.stations.bench_help import MIDDLE, SMALL, bench_shop, standing
from tests.stations.build import Story, press, seen, settle, story


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


def state(busy: Busy, key: str) -> str:
    return busy.task(f"bench-test:{key}").state


# Undo ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [SMALL, MIDDLE])
async def test_undo_says_what_it_does_and_waits_for_y(busy: Busy, size: tuple[int, int]) -> None:
    async with standing(busy, size=size) as here:
        await here.press("d", "u")
        assert isinstance(here.app.screen, UndoScreen)
        for words in ("Take this back?", "Done: Take the cover off.", "Open again: Take the cover off."):
            assert words in here.words()
        assert "Tag off: test cover off." in here.words()
        await here.press("d", "enter", "c", "k")
        assert state(busy, "open-up") == "done", "only y takes back"
        await here.press("y")
        assert state(busy, "open-up") == "open"
        assert not busy.view().tags
        assert "Taken back: Done: Take the cover off." in here.says
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:open-up"


async def test_esc_leaves_everything(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("d", "u", "escape")
        assert state(busy, "open-up") == "done"


async def test_u_again_goes_further_back(busy: Busy, clock: Clock) -> None:
    busy.do(NoteOnTask(busy.task("bench-test:pump").id, "leaks"))
    clock.forward(minutes=5)
    async with standing(busy) as here:
        await here.press("c", "u", "u")
        assert "Take these 2 back, the last first?" in here.words()
        assert "10:15 Noted." in here.words()
        await here.press("u", "u", "y")
        assert busy.task("bench-test:pump").note == ""
        assert here.rows("SELECT COUNT(*) FROM clock_entry") == [(0,)]
        assert "u, then a, does it again" in here.says
        await here.press("u")
        assert "Nothing is left to take back." in here.words()
        assert "Taken back last: 10:15 Noted." in here.words()
        await here.press("y")
        assert isinstance(here.app.screen, UndoScreen), "there is nothing y could take back"
        await here.press("a")
        assert busy.task("bench-test:pump").note == "leaks"
        await here.press("u")
        assert "Take this back?" in here.words()
        await here.press("a")
        assert here.rows("SELECT COUNT(*) FROM clock_entry") == [(1,)], "and the one before it"
        await here.press("u")
        assert "a does it again" not in here.words()


async def test_a_reading_taken_back_brings_the_one_before_again(busy: Busy) -> None:
    gap = busy.task("bench-test:set-gap")
    slot = gap.task.readings[0].key
    busy.do(TakeReading(gap.id, slot, "15 thou"))
    busy.do(TakeReading(gap.id, slot, "16 thou"))
    async with standing(busy) as here:
        await here.press("u")
        assert "15 thou stands again" in here.words()
        await here.press("y")
        assert [r.typed for r in busy.task("bench-test:set-gap").readings] == ["15 thou"]
        line = next(p for p in busy.view().parts if p.description == "contact set")
        busy.do(MovePart(line.id, "fitted", gap.id))
        busy.do(FinishTask(gap.id, "for the test"))
        await here.press("u")
        stays = "Stays as it is: points gap 15 thou; contact set fitted."
        assert stays in " ".join(here.words().replace("│", " ").split())
        await here.press("y")
        assert stays in here.says
        busy.do(FinishTask(gap.id, "for the test"), "Nell")
        assert stays in busy.do(ReopenTask(gap.id, "")).said, "so does the other way back"


async def test_what_is_final_is_said_and_passed_over(busy: Busy) -> None:
    busy.do(NoteOnTask(busy.task("bench-test:pump").id, "leaks"))
    busy.do(TakePayment(busy.card, 5_000))
    async with standing(busy) as here:
        await here.press("u")
        assert "This cannot be taken back." in here.words()
        assert "Reverse it" in here.words()
        await here.press("y")
        assert isinstance(here.app.screen, UndoScreen), "there is nothing yet that y could take back"
        await here.press("u", "y")
        assert busy.task("bench-test:pump").note == ""
        assert here.rows("SELECT COUNT(*) FROM payment") == [(1,)]


async def test_what_was_built_on_it_is_named_at_the_bench(busy: Busy) -> None:
    busy.do(FinishTask(busy.task("bench-test:open-up").id))
    for before in busy.task("bench-test:close-up").task.after:
        if busy.task(before).state == "open":
            busy.do(LeaveOut(busy.task(before).id, "not in this test"), "Nell")
    busy.do(FinishTask(busy.task("bench-test:close-up").id), "Nell")
    async with standing(busy) as here:
        await here.press("u", "y")
        assert state(busy, "open-up") == "done"
        assert "by Nell" in here.says
        assert "Take that back first" in here.says


# Breaks, and who stands here --------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [SMALL, MIDDLE])
async def test_one_key_for_a_break_and_the_way_back(busy: Busy, clock: Clock, size: tuple[int, int]) -> None:
    async with standing(busy, size=size) as here:
        await here.press("b")
        assert "not running" in here.says
        await here.press("c")
        clock.forward(minutes=30)
        await here.press("b")
        assert "On a break." in here.says
        assert "◌ break 0:00 from J00001" in here.words()
        assert "your break 0:00, b goes on" in here.words()
        clock.forward(minutes=15)
        await here.press("j", "b")
        assert "Break over after 15 min." in here.says
        open_on = here.rows("SELECT task_id FROM clock_entry WHERE ended_at IS NULL")
        assert open_on == [(busy.task("bench-test:open-up").id,)], "on the task it was taken from"


async def test_everybodys_clock_is_in_sight(busy: Busy, clock: Clock) -> None:
    busy.do(ClockOn(busy.task("bench-test:pump").id), "Nell")
    clock.forward(minutes=42)
    for size in (SMALL, MIDDLE):
        async with standing(busy, size=size) as here:
            shown = " ".join(here.words().replace("│", " ").split())
            assert "● Nell 0:42" in shown
            assert "J00001: Set the depth of the pump" in shown or "● Nell 0:42 J00001" in shown


async def test_two_keys_change_the_person(busy: Busy, clock: Clock) -> None:
    busy.do(ClockOn(busy.task("bench-test:pump").id), "Nell")
    clock.forward(minutes=5)
    async with standing(busy) as here:
        await here.press("f8")
        assert isinstance(here.app.screen, WhoScreen)
        assert "● 0:05 J00001" in here.words()
        await here.press("n")
        assert here.app.who.name == "Nell"
        await here.press("f8", "4")
        assert here.app.who.name == "Tom", "the fourth by name"
        await here.press("f8", "9", "x", "escape")
        assert here.app.who.name == "Tom"
        await here.press("f8", "down", "enter")
        assert here.app.who.name != ""
        assert isinstance(here.app.screen, BenchScreen)


# A forgotten clock ------------------------------------------------------------------------------------------


def forget(busy: Busy, clock: Clock) -> None:
    busy.do(ClockOn(busy.task("bench-test:open-up").id))
    clock.at = datetime(2026, 11, 26, 8, 5, tzinfo=UTC)


@pytest.mark.parametrize(
    ("keys", "typed", "seconds"),
    [(("1",), "", 435 * 60), (("2",), "16:15", 360 * 60), (("3",), "", (21 * 60 + 50) * 60)],
)
async def test_a_forgotten_clock_is_asked_about(
    busy: Busy, clock: Clock, keys: tuple[str, ...], typed: str, seconds: int
) -> None:
    forget(busy, clock)
    async with standing(busy) as here:
        assert isinstance(here.app.screen, ForgottenClock), "the first key shows who came back"
        assert "the shop shut at 17:30" in here.words()
        await here.press("enter", "d", "y")
        assert busy.view().clocked_seconds == 21 * 3600 + 50 * 60, "no stray key answers"
        await here.press(*keys)
        if typed:
            await here.type("9:00")
            assert "after the clock ran" in here.words(), "that would be the next day"
            for _ in range(4):
                await here.press("backspace")
            await here.type(typed)
        assert busy.view().clocked_seconds == seconds
        assert times.asked(busy.shop, busy.people["Tom"]) == ()


async def test_esc_leaves_the_clock_and_asks_again_later(busy: Busy, clock: Clock) -> None:
    forget(busy, clock)
    async with standing(busy) as here:
        await here.press("escape", "j")
        assert isinstance(here.app.screen, BenchScreen)
        assert here.rows("SELECT ended_at FROM clock_entry") == [(None,)]
        clock.forward(minutes=11)
        await here.press("j")
        assert isinstance(here.app.screen, ForgottenClock)


async def test_who_takes_the_terminal_over_is_asked(busy: Busy, clock: Clock) -> None:
    forget(busy, clock)
    async with standing(busy, "Nell") as here:
        assert isinstance(here.app.screen, BenchScreen)
        await here.press("f8", "t")
        assert isinstance(here.app.screen, ForgottenClock)


# Times of a day ---------------------------------------------------------------------------------------------


def two_hours(busy: Busy, clock: Clock) -> None:
    busy.do(ClockOn(busy.task("bench-test:open-up").id))
    clock.forward(hours=2)
    busy.do(ClockOff())


async def test_a_time_is_corrected_with_a_reason(busy: Busy, clock: Clock) -> None:
    two_hours(busy, clock)
    async with standing(busy) as here:
        await here.press("f9")
        assert isinstance(here.app.screen, TimesScreen)
        assert "Worked 2:00." in here.words()
        await here.press("enter")
        await here.type("", enter=True)  # the start stays
        for _ in range(5):
            await here.press("backspace")
        await here.type("11:15")
        await here.press("enter")  # the task stays
        await here.type("went to the bank")
        assert here.rows("SELECT ended_at - started_at, corrected FROM clock_entry") == [
            (3600, "went to the bank")
        ]
        assert "Worked 1:00." in here.words()
        assert "went to the bank" in here.words()


async def test_a_time_is_split_and_added(busy: Busy, clock: Clock) -> None:
    two_hours(busy, clock)
    pump = busy.task("bench-test:pump")
    async with standing(busy) as here:
        await here.press("f9", "s")
        await here.type("11")
        await here.type(pump.task.title)
        await here.type("went over")
        assert here.rows("SELECT task_id, ended_at - started_at FROM clock_entry ORDER BY id") == [
            (busy.task("bench-test:open-up").id, 2700),
            (pump.id, 4500),
        ]
        await here.press("a", "enter")
        await here.type(pump.task.title)
        await here.type("8:00")
        await here.type("9:10")
        await here.type("forgot")
        assert "Worked 3:10." in here.words()


async def test_days_and_people(busy: Busy, clock: Clock) -> None:
    two_hours(busy, clock)
    clock.forward(days=1)
    async with standing(busy, "Olive") as here:
        await here.press("f9")
        assert "Nothing was clocked on this day." in here.words()
        await here.press("left", "p")
        await here.type("tom")
        assert "Times of Tom, Wed 25 Nov 2026" in here.words()
        assert "Worked 2:00." in here.words()
        await here.press("right", "right", "right")
        assert "Thu 26 Nov 2026" in here.words(), "no day after today"
        await here.press("escape")
        assert isinstance(here.app.screen, BenchScreen)


async def test_somebody_elses_time_is_refused_in_words(busy: Busy, clock: Clock) -> None:
    two_hours(busy, clock)
    async with standing(busy, "Nell") as here:
        await here.press("f9", "p")
        await here.type("tom")
        await here.press("enter", "enter", "enter", "enter")
        await here.type("why not")
        assert "that is Tom's time" in here.words()
        assert here.rows("SELECT corrected FROM clock_entry") == [("",)]


# Where was I ------------------------------------------------------------------------------------------------


async def test_it_is_offered_after_days_and_told(busy: Busy, clock: Clock) -> None:
    busy.do(FinishTask(busy.task("bench-test:open-up").id))
    clock.forward(days=2)
    busy.do(NoteOnTask(busy.task("bench-test:pump").id, "leaks"), "Nell")
    busy.do(AddFinding(busy.card, "front axle", "hose weeps", "stop"), "Dora")
    async with standing(busy) as here:
        assert "You were last at this card Wed 25 Nov 10:15; 2 things happened since." in here.says
        await here.press("l")
        assert isinstance(here.app.screen, WhereScreen)
        for words in ("Done: Take the cover off", "10:15, Nell: Note: leaks"):
            assert words in here.words()
        for words in (
            "⊠ not to be driven: hose weeps (front axle), seen by Dora Fri 27 Nov, J00001",
            "⊠ test cover off, hung by Tom Wed 25 Nov 10:15, J00001.",
        ):
            assert words in as_text(where_was_i(busy.shop, busy.card, busy.people["Tom"]))
            assert words[:24] in here.words()
        await here.press("enter")
        assert isinstance(here.app.screen, BenchScreen)
        assert here.bench.in_hand is not None
        seen = here.bench.seen
        assert here.bench.in_hand.id == next_for(seen.view, seen.order, here.app.who.name).id  # type: ignore[union-attr]
        await here.press("f5", "f6")
        assert "You were last at this card" not in here.says, "once a day is enough"


async def test_what_was_offered_to_one_is_not_left_standing_for_another(busy: Busy, clock: Clock) -> None:
    busy.do(FinishTask(busy.task("bench-test:open-up").id))
    clock.forward(days=2)
    async with standing(busy) as here:
        assert "You were last at this card" in here.says
        await here.press("f8", "n")
        assert "You were last" not in here.says


async def test_nothing_is_offered_on_the_same_day_or_to_a_stranger(busy: Busy, clock: Clock) -> None:
    busy.do(FinishTask(busy.task("bench-test:open-up").id))
    async with standing(busy) as here:
        assert "You were last" not in here.says
        clock.forward(days=1)
        await here.press("f8", "n")
        assert "You were last" not in here.says


async def test_the_desk_looks_and_goes_on_at_the_bench(shop: Shop) -> None:
    told: Story = story(shop)
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f11")
        assert "brake hose perished" in seen(app)
        assert "● Tom on" in seen(app)
        await press(pilot, "escape")
        await press(pilot, "ctrl+l", "enter")
        await settle(pilot)
        assert isinstance(app.screen, BenchScreen)


async def test_a_wait_and_the_parts_are_told(busy: Busy, clock: Clock) -> None:
    from shopcli.store.reads.lately import where_was_i

    waiting = next((t for t in busy.view().tasks if t.task.waits), None)
    seen_at = where_was_i(busy.shop, busy.card, busy.people["Tom"])
    assert next(p.here for p in seen_at.parts if p.description == "contact set")
    if waiting is not None:
        busy.do(FinishTask(waiting.id, "so"))
        (wait,) = where_was_i(busy.shop, busy.card, busy.people["Tom"]).waits
        assert wait.until == busy.shop.local(busy.shop.at()) + timedelta(minutes=waiting.task.waits)
