"""A whole engine service of a flat four at a real terminal, with a wrong unit, wrong keys, an undo and a pulled plug.

The person does what the bench shows: whatever task is chosen there is done next. The records tell when a key was taken in.
"""

import re
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shopcli.shop.commands import AddCustomer, AddVehicle, OpenCard
from shopcli.shop.views import CardView, TaskView
from shopcli.store.reads import bench, people
from shopcli.store.shop import Shop
from shopcli.units.display import spoken
from shopcli.worklists.model import ReadingSlot
from tests.terminal.test_main_job import Station

UNITS = {"deg_dist": "deg", "deg_crank": "btdc", "sg": ""}
LIST = slice(2, 41)  # the columns of the work list at 120 columns, without frame and mark
AROUND = re.compile(r"^\W*(?:open|running|done|barred|left out)?\s+|\s+\d+ min\s*$|\s+$")
CARD = 1


@pytest.fixture
def service(tmp_path: Path) -> Iterator["Service"]:
    made = Service(tmp_path)
    yield made
    if made.person.process.isalive():
        made.person.kill()
    made.records.close()


class Service(Station):
    """A bench with one card on it: the engine service of an invented flat four."""

    def __init__(self, folder: Path) -> None:
        self.prepare(folder)
        self.records: Shop = self.shop()
        olive = people.person(self.records, "Olive").id
        with self.records.many() as run:
            owner = run.do(AddCustomer("Ada Proof"), by=olive).id
            car = run.do(
                AddVehicle(owner, "PRF 1", "Lark", "1200", 1964, sheet="demo-lark-1200"), by=olive
            ).id
            run.do(OpenCard(car, ("engine-service",), odometer=48_213), by=olive)
        self.come_back()

    def come_back(self) -> None:
        """Sit down at the bench, the card in front."""
        self.person = self.sit_down()
        self.person.see("J00001")
        self.person.press("enter")
        self.person.see("│▌")  # a task is in hand: before that no key has one to act on

    @property
    def card(self) -> CardView:
        return bench.card(self.records, CARD)

    def task(self, states: tuple[str, ...] = ("open",)) -> TaskView:
        """Return the task the bench has chosen, as the screen says; one that is still to be done unless told."""
        view, deadline = self.card, time.monotonic() + 20
        while time.monotonic() < deadline:
            self.person.settle(0.06)
            title = chosen_title(self.person.screen.display)
            fits = [t for t in view.tasks if t.task.title == title and t.state in states]
            if fits:
                return fits[0]  # once another task is in hand it stays: no order made anew takes it away
        raise AssertionError(f"no open task is chosen:\n{self.person.text}")

    def until(self, true: Callable[[], bool]) -> None:
        """Wait until the records say so."""
        deadline = time.monotonic() + 20
        while not true():
            self.person.settle(0.03)
            if time.monotonic() > deadline:
                raise AssertionError(f"it did not come about:\n{self.person.text}")

    def read(self, task: TaskView, slot: ReadingSlot) -> None:
        """Type a reading as one would read it, and see it in the records."""
        text, before = as_read(task, slot), self.count()
        self.person.type(text)
        self.person.press("enter")
        self.until(lambda: self.count() == before + 1)

    def count(self) -> int:
        rows = self.records.fetch("SELECT COUNT(*) FROM reading WHERE struck_at IS NULL")
        return int(rows[0][0])

    def state(self, task: TaskView) -> str:
        return str(self.records.fetch("SELECT state FROM task WHERE id = ?", (task.id,))[0][0])

    @property
    def left(self) -> int:
        """How many tasks are still open."""
        return int(self.records.fetch("SELECT COUNT(*) FROM task WHERE state = 'open'")[0][0])

    def do(self, task: TaskView) -> None:
        """Take its readings, those that are there left alone, and say done."""
        there = {(r.slot) for r in task.readings}
        # As the bench goes: all as they were found, then as they are left.
        for slot in sorted(task.task.readings, key=lambda slot: slot.phase != "as found"):
            if slot.key not in there:
                self.read(task, slot)
        self.person.press("d")
        self.until(lambda: self.state(task) == "done" or self._answered())

    def _answered(self) -> bool:
        """Answer what is asked about a part still wanted: it is fitted, whatever the stock says."""
        if "fitted: taken from stock" in self.person.text:
            self.person.press("y")
        elif "all the same" in self.person.text:
            self.person.press("down", "down", "enter")
        return False


def chosen_title(lines: list[str]) -> str:
    """Return the title beside the mark of the work list, put together from the lines it takes."""
    return " ".join(AROUND.sub("", line[LIST]) for line in lines if line[:2] == "│▌")


def as_read(task: TaskView, slot: ReadingSlot) -> str:
    """Return a figure in the middle of its limits, with its unit as one types it."""
    limits = next(s.limits for s in task.task.specs if s.name == slot.spec)
    ends = [v for v in (limits.low, limits.high) if v is not None]
    middle = limits.nominal if limits.nominal is not None else sum(ends) / len(ends)
    figure = spoken(middle, limits.unit).split()[0].rstrip("°")
    return f"{figure} {UNITS.get(limits.unit, limits.unit)}".strip()


def mistakes(s: Service, task: TaskView) -> None:
    """A pressure for a gap, a key that means nothing, and one that leads away: nothing of it is written."""
    p, before = s.person, s.count()
    p.type("40 psi")
    p.press("enter")
    p.see("psi measures pressure")
    p.press("esc")
    p.press("z")
    p.press("k")
    p.see("hinder the hand-over")
    p.press("esc")
    p.see_gone("hinder the hand-over")  # the list names the task, too
    p.see(re.escape(task.task.title[:12]))
    assert s.count() == before
    assert s.card.state in {"booked", "in hand"}


def undone(s: Service, task: TaskView) -> None:
    """Say done, take it back, and find it open again."""
    s.do(task)
    s.person.press("u")
    s.person.see("Take this back")
    s.person.press("y")
    s.until(lambda: s.state(task) == "open")
    while s.task(("open", "done")).id != task.id:
        s.person.press("up")


@pytest.mark.long
def test_a_whole_service_with_mistakes_an_undo_and_a_pulled_plug(service: Service) -> None:
    s = service
    s.person.press("c")
    s.until(lambda: any(t.running for t in s.card.tasks))
    s.time("10:30")
    plug_pulled = erred = taken_back = False
    keys = done = 0
    while s.left:
        task = s.task()
        if task.task.readings and not erred:
            mistakes(s, task)
            erred = True
        elif done == 12 and not taken_back:
            undone(s, task)
            taken_back = True
        if task.task.readings and done > 20 and not plug_pulled:
            s.read(task, task.task.readings[0])
            s.person.kill()
            keys, plug_pulled = keys + s.person.keys, True
            s.time("11:00")
            s.come_back()
            task = s.task()
            assert len(task.readings) == 1, "the reading is there, and so is its task"
        s.do(task)
        done += 1
    assert erred
    assert taken_back
    assert plug_pulled
    s.time("12:30")
    s.person.leave()
    check(s, keys + s.person.keys)


def check(s: Service, keys: int) -> None:
    """Every task done once, every reading in limits, the clock whole, every act in the journal."""
    view = s.card
    assert {t.state for t in view.tasks} == {"done"}
    asked = sum(len(t.task.readings) for t in view.tasks)
    taken = [r for t in view.tasks for r in t.readings]
    assert len(taken) == asked == s.count()
    assert {r.verdict.split(",")[0] for r in taken} == {"in limits"}
    acts = [act for (act,) in s.records.fetch("SELECT act FROM journal ORDER BY id")]
    assert acts.count("TakeBack") == 1
    assert acts.count("FinishTask") == len(view.tasks) + 1
    assert view.tags == ()
    assert s.records.fetch("PRAGMA integrity_check") == [("ok",)]
    assert keys < 12 * len(view.tasks), f"{keys} keys for {len(view.tasks)} tasks and {asked} readings"
    print(f"{keys} keys, {len(view.tasks)} tasks, {asked} readings")
