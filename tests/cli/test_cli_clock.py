"""The clock, taking back and "where was I" from the shell, over real records."""

import json
from datetime import UTC, datetime

import pytest

from shopcli.cli import main
from shopcli.shop.commands import ClockOff, ClockOn, FinishTask, MoveCard, NoteOnTask
from tests.cli.conftest import Run
from tests.conftest import Busy


@pytest.fixture
def run(busy_shop: Busy, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return a runner of commands; the records' own clock stands in for the machine's."""
    from shopcli.store import shop as store

    monkeypatch.setenv("SHOPCLI_DB", str(busy_shop.shop.place.file))
    monkeypatch.setenv("SHOPCLI_BY", "Tom")
    real = store.open_shop

    def opened(*args: object, **kwargs: object) -> object:
        return real(*args, **{**kwargs, "now": busy_shop.clock})  # type: ignore[arg-type]

    monkeypatch.setattr("shopcli.cli.opening.open_shop", opened)

    def go(*words: str) -> tuple[int, str, str]:
        try:
            status = main(words)
        except SystemExit as end:
            status = int(end.code or 0)
        out = capsys.readouterr()
        return status, out.out, out.err

    return go


def test_a_day_with_a_break(run: Run, busy_shop: Busy) -> None:
    assert run("clock", "on", "1", "1")[1].startswith("Clock running on")
    busy_shop.clock.forward(minutes=75)
    assert run("clock", "break")[1].startswith("On a break.")
    assert "on a break from" in run("clock", "show")[1]
    busy_shop.clock.forward(minutes=20)
    assert "Break over after 20 min." in run("clock", "break")[1]
    busy_shop.clock.forward(minutes=10)
    status, out, _err = run("clock", "day")
    assert status == 0
    assert out.splitlines()[0] == "Tom, Wed 25 Nov 2026"
    assert "worked 1:25, breaks 0:20" in out
    assert "   b1  11:30  11:50  0:20" in out
    day = json.loads(run("clock", "day", "--json")[1])
    assert (day["worked_seconds"], day["break_seconds"]) == (85 * 60, 20 * 60)
    assert run("clock", "day", "--day", "2026-11-24")[1].splitlines()[1] == "worked 0:00"
    assert run("clock", "off")[0] == 0
    assert json.loads(run("clock", "--json")[1])[1]["state"] == "off"


def test_corrections(run: Run, busy_shop: Busy) -> None:
    tasks = busy_shop.view().tasks
    busy_shop.do(ClockOn(tasks[0].id))
    busy_shop.clock.forward(hours=3)
    busy_shop.do(ClockOff())
    assert "needs a reason" in run("clock", "correct", "1", "--until", "12:00", "--why", " ")[2]
    assert run("clock", "correct", "1", "--until", "12.00", "--why", "went out")[1] == "Time corrected.\n"
    assert run("clock", "split", "1", "1130", "--task", "3", "--why", "went over")[1] == "Time split.\n"
    assert "added on" in run("clock", "add", "1", "2", "8:00", "9:05", "--why", "forgot")[1]
    out = run("clock", "day")[1]
    assert "worked 2:50" in out
    assert tasks[2].task.title in out
    assert "overlaps" in run("clock", "add", "1", "2", "9:00", "10:30", "--why", "forgot")[2]
    assert "Tom's time" in run("clock", "correct", "1", "--from", "9", "--why", "x", "--by", "Nell")[2]
    assert run("clock", "correct", "1", "--from", "10:20", "--why", "said so", "--by", "Olive")[0] == 0
    assert "no entry" in run("clock", "correct", "b7", "--why", "x")[2]
    assert "not a time" in run("clock", "correct", "1", "--from", "noon", "--why", "x")[2]
    assert "not a date" in run("clock", "day", "--day", "yesterday")[2]


def test_a_break_is_corrected(run: Run, busy_shop: Busy) -> None:
    run("clock", "on", "1", "1")
    busy_shop.clock.forward(hours=1)
    run("clock", "break")
    busy_shop.clock.forward(minutes=30)
    assert "still runs" in run("clock", "correct", "b1", "--why", "x")[2]
    run("clock", "break")
    assert (
        run("clock", "correct", "b1", "--until", "11:30", "--why", "was shorter")[1] == "Break corrected.\n"
    )
    assert "not split" in run("clock", "split", "b1", "11:20", "--why", "x")[2]


@pytest.mark.parametrize(
    ("words", "minutes"),
    [(("16:00",), 345), ((), 435), (("--through",), 22 * 60)],
    ids=["time", "end", "through"],
)
def test_a_forgotten_clock_is_asked_about(
    run: Run, busy_shop: Busy, words: tuple[str, ...], minutes: int
) -> None:
    run("clock", "on", "1", "1")
    busy_shop.clock.at = datetime(2026, 11, 26, 8, 15, tzinfo=UTC)
    assert "the shop shut at 17:30. Until when?" in run("clock", "show")[1]
    assert run("clock", "until", *words)[0] == 0
    assert "Until when?" not in run("clock", "show")[1]
    assert busy_shop.view().clocked_seconds == minutes * 60
    assert "no clock of yours" in run("clock", "until", "16:00")[2]


def test_undo_says_and_does(run: Run, busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0]
    assert "nothing on that card today" in run("undo", "1")[2]
    busy_shop.do(NoteOnTask(task.id, "look"))
    busy_shop.do(FinishTask(task.id, "done so"))
    status, out, _err = run("undo", "1", "--look")
    assert status == 0
    assert f"Done: {task.task.title}." in out
    assert f"Open again: {task.task.title}." in out
    assert busy_shop.view().tasks[0].state == "done", "looking changes nothing"
    assert run("undo", "1")[1].startswith(f"Taken back: Done: {task.task.title}.")
    assert busy_shop.view().tasks[0].note == "look"
    assert "Taken back: Noted." in run("undo", "1")[1]
    assert busy_shop.view().tasks[0].note == ""
    assert "nothing on that card today" in run("undo", "1")[2]
    assert "Noted." in run("undo", "1", "--again", "--look")[1]
    assert "Noted." in run("undo", "1", "--again")[1]
    assert task.task.title in run("undo", "1", "--again")[1]
    assert "nothing was taken back last" in run("undo", "1", "--again")[2]


def test_undo_of_what_is_final(run: Run, busy_shop: Busy) -> None:
    run("pay", "1", "50")
    assert "stays in the books" in run("undo", "1", "--look")[1]
    assert "stays in the books" in run("undo", "1")[2]


def test_where_was_i(run: Run, busy_shop: Busy) -> None:
    drain = busy_shop.task("oil-change:drain")
    busy_shop.do(FinishTask(drain.id))
    busy_shop.clock.forward(days=3)
    busy_shop.do(NoteOnTask(drain.id, "plug worn"), "Nell")
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id), "Nell")
    out = run("where", "1")[1]
    assert f"Wed 25 Nov 10:15, Done: {drain.task.title}" in out
    assert "10:15, Nell: Note: plug worn" in out
    assert "● Nell on" in out
    assert "⊠ sump dry, hung by Tom Wed 25 Nov 10:15" in out
    assert "! Fri 27 Nov (late)" in out
    data = json.loads(run("where", "1", "--json")[1])
    assert data["tags"][0]["name"] == "sump dry"
    assert data["next"]["task"]
    busy_shop.do(MoveCard(busy_shop.card, "held", "no parts"), "Dora")
    assert "The card is held: no parts" in run("where", "1")[1]
    assert "You have not been here before" in run("where", "1", "--by", "Olive")[1]
