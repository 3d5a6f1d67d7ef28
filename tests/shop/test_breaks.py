"""Breaks are no work, corrections are open, and a forgotten clock is asked about, never cut off in silence."""

import json

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.shop.clock_commands import AddClock, CorrectBreak, EndBreak, GoOnBreak, SplitClock, WorkedUntil
from shopcli.shop.commands import ClockOff, ClockOn, CorrectClock, LeaveOut
from tests.conftest import Busy

HOUR = 3600


def entries(busy: Busy) -> list[tuple[object, ...]]:
    return busy.shop.fetch("SELECT task_id, ended_at - started_at FROM clock_entry ORDER BY id")


def breaks(busy: Busy) -> list[tuple[object, ...]]:
    return busy.shop.fetch("SELECT task_id, ended_at - started_at FROM work_break ORDER BY id")


def test_a_break_is_no_work_and_ends_on_the_same_task(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0]
    busy_shop.do(ClockOn(task.id))
    busy_shop.clock.forward(minutes=50)
    assert busy_shop.do(GoOnBreak()).said[0] == "On a break."  # type: ignore[attr-defined]
    busy_shop.clock.forward(minutes=20)
    said = busy_shop.do(EndBreak()).said  # type: ignore[attr-defined]
    assert said == ("Break over after 20 min.", f"Clock running on '{task.task.title}'.")
    busy_shop.clock.forward(minutes=10)
    assert busy_shop.view().clocked_seconds == 60 * 60
    assert entries(busy_shop) == [(task.id, 50 * 60), (task.id, None)]
    assert breaks(busy_shop) == [(task.id, 20 * 60)]


def test_clocking_on_elsewhere_ends_the_break(busy_shop: Busy) -> None:
    one, two = busy_shop.view().tasks[:2]
    busy_shop.do(ClockOn(one.id))
    busy_shop.do(GoOnBreak())
    busy_shop.clock.forward(minutes=15)
    assert busy_shop.do(ClockOn(two.id)).said[0] == "Break over after 15 min."  # type: ignore[attr-defined]
    assert breaks(busy_shop) == [(one.id, 900)]


def test_clocking_off_on_a_break_leaves_the_clock_off(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.do(GoOnBreak())
    busy_shop.clock.forward(minutes=5)
    assert busy_shop.do(ClockOff()).said == ("Break over after 5 min.", "Your clock is off.")  # type: ignore[attr-defined]
    with pytest.raises(Refused, match="not on a break"):
        busy_shop.do(EndBreak())


def test_breaks_that_cannot_be(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0]
    with pytest.raises(Refused, match="not running"):
        busy_shop.do(GoOnBreak())
    busy_shop.do(ClockOn(task.id))
    busy_shop.do(GoOnBreak())
    with pytest.raises(Refused, match="already"):
        busy_shop.do(GoOnBreak())
    busy_shop.do(LeaveOut(task.id, "not wanted"), "Nell")
    with pytest.raises(Refused, match="left out") as caught:
        busy_shop.do(EndBreak())
    assert "ends the break" in caught.value.hint
    assert breaks(busy_shop) == [(task.id, None)], "the break goes on when it cannot end so"


def worked(busy: Busy, hours: float = 2) -> int:
    """Clock Tom on the first task for some hours; return the entry."""
    key = int(busy.do(ClockOn(busy.view().tasks[0].id)).id)  # type: ignore[attr-defined]
    busy.clock.forward(hours=hours)
    busy.do(ClockOff())
    return key


def test_only_oneself_or_the_owner_corrects(busy_shop: Busy) -> None:
    key, start = worked(busy_shop), busy_shop.shop.at() - 2 * HOUR
    for command in (
        CorrectClock(key, start, start + HOUR, "why"),
        SplitClock(key, start + 60, "why"),
        WorkedUntil(key, start + 60),
        AddClock(busy_shop.view().tasks[1].id, start - HOUR, start, "why", busy_shop.people["Tom"]),
    ):
        with pytest.raises(Refused, match="Tom's time"):
            busy_shop.do(command, "Nell")
    busy_shop.do(CorrectClock(key, start, start + HOUR, "told me so"), "Olive")
    assert entries(busy_shop)[0][1] == HOUR


def test_a_correction_may_name_another_task(busy_shop: Busy) -> None:
    key, start = worked(busy_shop), busy_shop.shop.at() - 2 * HOUR
    other = busy_shop.view().tasks[3].id
    busy_shop.do(CorrectClock(key, start, start + HOUR, "pressed on the wrong one", other))
    assert entries(busy_shop) == [(other, HOUR)]
    before, after = busy_shop.shop.fetch("SELECT before, after FROM journal ORDER BY id DESC LIMIT 1")[0]
    assert json.loads(before)["ended_at"] - json.loads(before)["started_at"] == 2 * HOUR
    assert json.loads(after)["task_id"] == other


def test_a_split_keeps_every_second(busy_shop: Busy) -> None:
    key, start = worked(busy_shop), busy_shop.shop.at() - 2 * HOUR
    other = busy_shop.view().tasks[3].id
    busy_shop.do(SplitClock(key, start + 1800, "went over to the next", other))
    assert entries(busy_shop) == [(busy_shop.view().tasks[0].id, 1800), (other, 5400)]
    for moment in (start, start + 2 * HOUR, start - 1):
        with pytest.raises(BadInput, match="within"):
            busy_shop.do(SplitClock(key, moment, "why"))


def test_a_running_entry_is_split_and_runs_on(busy_shop: Busy) -> None:
    one, two = busy_shop.view().tasks[:2]
    key = int(busy_shop.do(ClockOn(one.id)).id)  # type: ignore[attr-defined]
    start = busy_shop.shop.at()
    busy_shop.clock.forward(hours=1)
    busy_shop.do(SplitClock(key, start + 1200, "started the next", two.id))
    assert entries(busy_shop) == [(one.id, 1200), (two.id, None)]


def test_forgotten_time_is_added(busy_shop: Busy) -> None:
    now, task = busy_shop.shop.at(), busy_shop.view().tasks[2]
    busy_shop.do(AddClock(task.id, now - HOUR, now - 600, "forgot to clock on"))
    assert entries(busy_shop) == [(task.id, 3000)]
    for start, end, words in (
        (now - 1800, now - 60, "overlaps"),
        (now - 60, now - 60, "no time"),
        (now - 60, now + 60, "past"),
    ):
        with pytest.raises((BadInput, Refused), match=words):
            busy_shop.do(AddClock(task.id, start, end, "forgot"))
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(AddClock(task.id, now - 2 * HOUR, now - 5400, " "))


def test_work_and_breaks_do_not_overlap(busy_shop: Busy) -> None:
    start = busy_shop.shop.at()
    key = int(busy_shop.do(ClockOn(busy_shop.view().tasks[0].id)).id)  # type: ignore[attr-defined]
    busy_shop.clock.forward(hours=1)
    rest = int(busy_shop.do(GoOnBreak()).id)  # type: ignore[attr-defined]
    busy_shop.clock.forward(minutes=30)
    busy_shop.do(EndBreak())
    busy_shop.clock.forward(minutes=30)
    with pytest.raises(Refused, match="break of the same person"):
        busy_shop.do(CorrectClock(key, start, start + HOUR + 60, "why"))
    with pytest.raises(Refused, match="entry of the same person"):
        busy_shop.do(CorrectBreak(rest, start + HOUR - 60, start + HOUR + 1800, "why"))
    busy_shop.do(CorrectBreak(rest, start + HOUR + 600, start + HOUR + 1800, "stopped later"))
    busy_shop.do(CorrectClock(key, start, start + HOUR + 600, "stopped later"))
    assert breaks(busy_shop)[0][1] == 1200


def test_a_forgotten_clock_ends_where_its_person_says(busy_shop: Busy) -> None:
    key = int(busy_shop.do(ClockOn(busy_shop.view().tasks[0].id)).id)  # type: ignore[attr-defined]
    start = busy_shop.shop.at()
    busy_shop.clock.forward(hours=22)
    with pytest.raises(BadInput, match="within"):
        busy_shop.do(WorkedUntil(key, start - 1))
    said = busy_shop.do(WorkedUntil(key, start + 7 * HOUR + 900)).said  # type: ignore[attr-defined]
    assert said == (f"The time on '{busy_shop.view().tasks[0].task.title}' ends at 17:30: 435 min.",)
    assert entries(busy_shop)[0][1] == 7 * HOUR + 900
    assert (
        busy_shop.shop.fetch("SELECT before FROM journal ORDER BY id DESC LIMIT 1")[0][0].count("null") == 1
    )


def test_worked_through_keeps_every_minute(busy_shop: Busy) -> None:
    key = worked(busy_shop, 9)
    busy_shop.do(WorkedUntil(key))
    assert entries(busy_shop)[0][1] == 9 * HOUR
    assert busy_shop.shop.fetch("SELECT stood_by = ended_at FROM clock_entry") == [(1,)]
