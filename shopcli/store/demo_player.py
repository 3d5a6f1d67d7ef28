"""Plays the story of the invented shop through the same commands the screens use, in order of time.

Every line of the story becomes one or more acts at their own instants; acts of all cards are played as they
fell, so that numbers, clocks and the journal read as those of a real shop. Nothing is written past the rules.
"""

import heapq
import itertools
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial

from shopcli.errors import BadInput, ShopError
from shopcli.shop.act import Done
from shopcli.shop.bench_commands import FinishTask, TakeReading
from shopcli.shop.card_commands import OpenCard
from shopcli.shop.clock_commands import ClockOff, ClockOn
from shopcli.shop.command import Command
from shopcli.shop.part_commands import MovePart
from shopcli.shop.settings import Settings
from shopcli.store.demo_bench import Bench, Planner, Step
from shopcli.store.demo_days import Days
from shopcli.store.demo_readings import tool_for, typed
from shopcli.store.demo_story import MARK, Line, Told
from shopcli.store.shop import Run
from shopcli.worklists.freeze import task_from_json
from shopcli.worklists.model import ReadingSlot, Task

TASKS = "SELECT id, key, frozen FROM task WHERE card_id = ? ORDER BY position"
LINES = """
SELECT id, description, optional FROM card_part
WHERE card_id = ? AND state IN ('wanted', 'on order') ORDER BY id"""
NO_NUMBER = "No number known for this car yet; to be entered."


@dataclass(frozen=True, slots=True)
class Who:
    """Somebody of the shop: id, and whether their tools are marked in inches."""

    id: int
    imperial: bool


@dataclass(slots=True)
class Cast:
    """Who and what the story may name: people by first name, cars by registration, parts by number."""

    people: dict[str, Who]
    cars: dict[str, int] = field(default_factory=dict)
    parts: dict[str, int] = field(default_factory=dict)
    steps: dict[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(slots=True)
class OnCard:
    """A card while it is played: `lines` are the parts still to fit by name, with whether they are optional."""

    told: Told
    id: int
    bench: Bench
    lines: dict[str, tuple[int, bool]]
    outwork: list[int] = field(default_factory=list)


Act = Callable[[], object]
Verb = Callable[["Player", OnCard, Line], None]


@contextmanager
def _named(told: Told, line: Line) -> Iterator[None]:
    """Say which line of the story the shop refused."""
    try:
        yield
    except ShopError as error:
        raise BadInput(f"story, {told.car}, '{line.text}': {error.message}", hint=error.hint) from error


class Player:
    """Plays cards on a run of acts."""

    def __init__(self, run: Run, days: Days, planner: Planner, cast: Cast, settings: Settings) -> None:
        self.run = run
        self.days = days
        self.planner = planner
        self.cast = cast
        self.settings = settings
        self._acts = itertools.count(1)
        self._order = itertools.count()
        self._due: list[tuple[datetime, int, Act]] = []
        self._tags: dict[str, set[str]] = {}

    def do(self, command: Command, who: str, at: datetime) -> Done:
        """Carry out one act as somebody, at its instant; the first and the last acts carry the demo's mark."""
        op = None if self._due else f"{MARK}{next(self._acts):05d}"
        return self.run.do(command, by=self.person(who).id, at=at, op=op)

    def person(self, name: str) -> Who:
        """Return somebody by first name.

        Raises
        ------
        BadInput
            When nobody is called so.
        """
        if name not in self.cast.people:
            raise BadInput(f"story: nobody is called {name}", hint=", ".join(self.cast.people))
        return self.cast.people[name]

    def at(self, when: datetime, act: Act) -> None:
        """Put an act on the list for its instant; acts of one instant keep the order they were put in."""
        heapq.heappush(self._due, (when, next(self._order), act))

    def play(self, story: tuple[Told, ...], verbs: Mapping[str, Verb]) -> None:
        """Play all cards.

        Raises
        ------
        BadInput
            When a line names an unknown verb, or the shop refuses what it tells; the line is named.
        """
        for told in story:
            self.at(told.lines[0].at, partial(self._open, told, verbs))
        while self._due:
            _at, _order, act = heapq.heappop(self._due)
            act()

    def _open(self, told: Told, verbs: Mapping[str, Verb]) -> None:
        with _named(told, told.lines[0]):
            card = self.open_card(told, told.lines[0])
        for line in told.lines[1:]:
            if line.verb not in verbs:
                raise BadInput(f"story, {told.car}: '{line.verb}' is unknown", hint=", ".join(sorted(verbs)))
            self.at(line.at, partial(self._line, card, line, verbs[line.verb]))

    def _line(self, card: OnCard, line: Line, verb: Verb) -> None:
        with _named(card.told, line):
            verb(self, card, line)

    def open_card(self, told: Told, line: Line) -> OnCard:
        """Open a card as it is told and see what it was expanded into."""
        command = OpenCard(
            self.cast.cars[told.car],
            told.jobs,
            words=told.words,
            title=told.title,
            odometer=told.odometer,
            left_with=told.left_with,
            authority_minor=told.authority_minor,
            authority_by=told.authority_by,
            promised=told.promised,
        )
        key = self.do(command, line.who, line.at).id
        tags = self._tags.setdefault(told.car, set())
        card = OnCard(told, key, Bench(told.car, {}, told.pace, frozenset(told.quick), tags), {})
        self.look_again(card)
        return card

    def look_again(self, card: OnCard) -> None:
        """Read the card's tasks and part lines as the acts so far have left them."""
        rows = self.run.fetch(TASKS, (card.id,))
        card.bench.tasks = {key: (task_id, task_from_json(frozen)) for task_id, key, frozen in rows}
        card.lines = {name: (line, bool(spare)) for line, name, spare in self.run.fetch(LINES, (card.id,))}

    def work(self, card: OnCard, who: str, steps: tuple[Step, ...]) -> None:
        """Put a planned stretch on the list: clocks, readings, parts, and each task done."""
        clocks = list(self.planner.clocks(steps))
        for at, task in clocks:
            if task is None:
                self.later(ClockOff(), who, at)
        for step in steps:
            silent = self._readings(card, who, step)
            self.at(step.end, partial(self._finish, card, who, step, silent))
        # What ends at the same instant goes first: it may lift the tag that bars what begins then.
        for at, task in clocks:
            if task is not None:
                self.later(ClockOn(card.bench.id_of(task.key)), who, at)

    def later(self, command: Command, who: str, at: datetime) -> None:
        """Put one command on the list."""
        self.at(at, lambda: self.do(command, who, at))

    def _readings(self, card: OnCard, who: str, step: Step) -> bool:
        """Put the readings of a step on the list, as found first; return whether one could not be typed."""
        task, silent = step.task, False
        slots = sorted(task.readings, key=lambda slot: slot.phase)
        every = (step.end - step.begin) / (len(slots) + 1)
        for count, slot in enumerate(slots, 1):
            text = self._typed(card, who, task, slot)
            if not text:
                silent = silent or slot.phase == "as left"
                continue
            spec = task.spec(slot.spec)
            tool = tool_for(slot, spec.limits.quantity if spec else slot.quantity)
            at = (step.begin + count * every).replace(microsecond=0)
            self.later(TakeReading(card.bench.id_of(task.key), slot.key, text, tool=tool), who, at)
        return silent

    def _typed(self, card: OnCard, who: str, task: Task, slot: ReadingSlot) -> str:
        here = (f"{task.key}|{slot.key}", slot.key)
        told = next((card.told.readings[key] for key in here if key in card.told.readings), "")
        spec = task.spec(slot.spec) if slot.spec else None
        if told or spec is None:
            return told
        seed = f"{card.told.car} {task.key}"
        return typed(spec.limits, slot, imperial=self.person(who).imperial, seed=seed)

    def _finish(self, card: OnCard, who: str, step: Step, silent: bool) -> None:
        key = step.task.key
        task_id = card.bench.id_of(key)
        for name, (line, spare) in list(card.lines.items()):
            if key.partition(":")[2] in self.cast.steps.get(name, ()):
                state = "not used" if spare and name not in card.told.optional else "fitted"
                self.do(MovePart(line, state, task_id=task_id), who, step.end)
                del card.lines[name]
        note = card.told.notes.get(key, "") or (NO_NUMBER if silent else "")
        self.do(FinishTask(task_id, note), who, step.end)
