"""The clock is never lost, never doubled, never silently changed."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput, Refused
from shopcli.shop.commands import ClockOff, ClockOn, CorrectClock, FinishTask, LeaveOut
from shopcli.store.reads import people
from tests.conftest import Busy, Clock, journal_acts


def test_on_another_task_the_first_stops_at_the_same_second(busy_shop: Busy) -> None:
    first, second = busy_shop.view().tasks[:2]
    busy_shop.do(ClockOn(first.id))
    busy_shop.clock.forward(minutes=17)
    done = busy_shop.do(ClockOn(second.id))
    assert done.said[0] == f"Clock stopped on '{first.task.title}' after 17 min."
    rows = busy_shop.shop.fetch("SELECT task_id, ended_at - started_at FROM clock_entry ORDER BY id")
    assert rows == [(first.id, 17 * 60), (second.id, None)]
    assert [c.task_id for c in people.running_clocks(busy_shop.shop)] == [second.id]


def test_twice_on_the_same_task_is_one_clock(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0]
    first = busy_shop.do(ClockOn(task.id))
    again = busy_shop.do(ClockOn(task.id))
    assert first.id == again.id
    assert busy_shop.shop.fetch("SELECT COUNT(*) FROM clock_entry") == [(1,)]


def test_several_people_on_one_card(busy_shop: Busy) -> None:
    one, two = busy_shop.view().tasks[:2]
    busy_shop.do(ClockOn(one.id), "Tom")
    busy_shop.do(ClockOn(two.id), "Nell")
    busy_shop.clock.forward(hours=1)
    assert busy_shop.view().clocked_seconds == 2 * 3600
    assert busy_shop.view().tasks[0].running == ("Tom",)


def test_off_without_a_running_clock_says_so(busy_shop: Busy) -> None:
    with pytest.raises(Refused, match="not running"):
        busy_shop.do(ClockOff())


def test_a_clock_set_back_never_makes_negative_time(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.clock.forward(hours=-2)
    busy_shop.do(ClockOff())
    assert busy_shop.shop.fetch("SELECT ended_at - started_at FROM clock_entry") == [(0,)]


def test_finishing_a_task_stops_the_finishers_clock_only(busy_shop: Busy) -> None:
    task = busy_shop.task("oil-change:read-dipstick")
    busy_shop.do(ClockOn(task.id), "Tom")
    busy_shop.do(ClockOn(task.id), "Nell")
    busy_shop.clock.forward(minutes=5)
    busy_shop.do(FinishTask(task.id), "Tom")
    assert [c.person for c in people.running_clocks(busy_shop.shop)] == ["Nell"]


def test_no_clock_on_what_was_left_out(busy_shop: Busy) -> None:
    task = busy_shop.task("oil-change:waste")
    busy_shop.do(LeaveOut(task.id, "the customer keeps the oil"))
    with pytest.raises(Refused, match="left out"):
        busy_shop.do(ClockOn(task.id))


def test_a_correction_is_open_and_keeps_the_old_times(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0]
    entry = busy_shop.do(ClockOn(task.id)).id
    start = busy_shop.shop.at()
    busy_shop.clock.forward(hours=9)
    busy_shop.do(ClockOff())
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(CorrectClock(entry, start, start + 3600, ""))
    busy_shop.do(CorrectClock(entry, start, start + 3600, "forgot to clock off at eleven"))
    assert busy_shop.view().clocked_seconds == 3600
    before = busy_shop.shop.fetch("SELECT before FROM journal WHERE act = 'CorrectClock'")[0][0]
    assert str(start + 9 * 3600) in before


@pytest.mark.parametrize(("start", "end"), [(0, -60), (0, 3600 * 30), (3600, 3600 * 48)])
def test_impossible_corrections_are_refused(busy_shop: Busy, start: int, end: int) -> None:
    entry = busy_shop.do(ClockOn(busy_shop.view().tasks[0].id)).id
    base = busy_shop.shop.at()
    busy_shop.clock.forward(hours=2)
    busy_shop.do(ClockOff())
    with pytest.raises(BadInput):
        busy_shop.do(CorrectClock(entry, base + start, base + end, "a reason"))


def test_a_correction_may_not_overlap_the_same_persons_other_time(busy_shop: Busy) -> None:
    one, two = busy_shop.view().tasks[:2]
    first = busy_shop.do(ClockOn(one.id)).id
    base = busy_shop.shop.at()
    busy_shop.clock.forward(hours=1)
    busy_shop.do(ClockOn(two.id))
    busy_shop.clock.forward(hours=1)
    busy_shop.do(ClockOff())
    with pytest.raises(Refused, match="overlaps"):
        busy_shop.do(CorrectClock(first, base, base + 3660, "a reason"))


@given(
    st.lists(
        st.tuples(st.sampled_from(["Tom", "Nell"]), st.integers(0, 3), st.integers(1, 7200)), max_size=12
    )
)
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_time_is_neither_lost_nor_doubled(busy_shop: Busy, moves: list[tuple[str, int, int]]) -> None:
    """Whatever the order of keys, the time on the card is the time each person's clock ran."""
    before = busy_shop.view().clocked_seconds
    tasks = busy_shop.view().tasks
    running = {c.person for c in people.running_clocks(busy_shop.shop)}
    expected = before
    for name, index, seconds in moves:
        busy_shop.do(ClockOn(tasks[index].id), name)
        running.add(name)
        busy_shop.clock.forward(seconds=seconds)
        expected += seconds * len(running)
    assert busy_shop.view().clocked_seconds == expected
    assert isinstance(busy_shop.clock, Clock)
    assert journal_acts(busy_shop.shop).count("ClockOn") >= len(moves)
