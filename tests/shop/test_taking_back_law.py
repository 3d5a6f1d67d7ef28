"""The law of taking back: whatever was done, by whom, in whatever order, is undone without a trace in the records."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.shop.clock_commands import GoOnBreak, TakeBack
from shopcli.shop.commands import (
    AddFinding,
    ClockOff,
    ClockOn,
    Command,
    EnterSpec,
    FinishTask,
    LeaveOut,
    MovePart,
    NoteOnTask,
    ReopenTask,
    TakeReading,
)
from tests.conftest import Busy
from tests.shop.test_taking_back import last, standing

KEYS = (
    "clock",
    "off",
    "reading",
    "done",
    "out",
    "fit",
    "order",
    "unused",
    "note",
    "finding",
    "number",
    "break",
    "reopen",
)


def something(busy: Busy, key: str, n: int) -> Command:
    tasks, parts = busy.view().tasks, busy.view().parts
    task, line = tasks[n % len(tasks)], parts[n % len(parts)]
    slot = next((s.key for s in task.task.readings), "points gap|as left")
    return {
        "clock": ClockOn(task.id),
        "off": ClockOff(),
        "reading": TakeReading(task.id, slot, f"{14 + n % 5} thou"),
        "done": FinishTask(task.id, "trial"),
        "out": LeaveOut(task.id, "trial"),
        "fit": MovePart(line.id, "fitted", task.id),
        "order": MovePart(line.id, "on order"),
        "unused": MovePart(line.id, "not used"),
        "note": NoteOnTask(task.id, f"note {n}"),
        "finding": AddFinding(busy.card, "somewhere", f"fault {n}", "soon"),
        "number": EnterSpec(busy.vehicle, "points_gap", nominal=f"{14 + n % 5} thou", document="Book"),
        "break": GoOnBreak(),
        "reopen": ReopenTask(task.id),
    }[key]


@given(
    st.lists(
        st.tuples(st.sampled_from((*KEYS, "back")), st.integers(0, 40), st.sampled_from(["Tom", "Nell"])),
        min_size=1,
        max_size=10,
    )
)
@settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_whatever_was_done_can_be_undone(busy_shop: Busy, moves: list[tuple[str, int, str]]) -> None:
    """A run of acts and takings back, and then all of it taken back from the last to the first, leaves the records as they were at every step."""
    kept: list[tuple[str, int, dict[str, list[tuple[object, ...]]]]] = []
    for key, n, who in moves:
        if key == "back":
            if kept:
                take_last_back(busy_shop, kept)
            continue
        before = standing(busy_shop)
        try:
            busy_shop.do(something(busy_shop, key, n), who)
        except ShopError:
            continue
        busy_shop.clock.forward(seconds=61)
        act = last(busy_shop, who)
        if busy_shop.shop.fetch("SELECT touched FROM journal WHERE id = ?", (act,)) == [("",)]:
            assert standing(busy_shop) == before, "an act without rows changed nothing"
        else:
            kept.append((who, act, before))
    while kept:
        take_last_back(busy_shop, kept)


def take_last_back(busy: Busy, kept: list[tuple[str, int, dict[str, list[tuple[object, ...]]]]]) -> None:
    who, act, before = kept.pop()
    busy.do(TakeBack(act), who)
    assert standing(busy) == before
