"""A stretch of work at the bench of the invented shop, planned before it is played.

Given a card's tasks and who begins when, this says which task runs from when to when and how the clock is
used. It keeps to what the shop itself asks for: order, waiting (a sump drips, a battery charges), tags that
bar, lunch, and the end of the day.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from shopcli.shop.tagrules import barring
from shopcli.store.demo_days import LUNCH, SHUTS, Days
from shopcli.store.demo_readings import chance
from shopcli.worklists.model import TagKind, Task

LONGEST_GAP = timedelta(minutes=75)  # a longer wait ends the stretch; somebody takes it up again later
CLOCKED_TOGETHER = 40  # [min] small steps are clocked on the big one they lead to


@dataclass(frozen=True, slots=True)
class Step:
    """One task from when to when."""

    task: Task
    begin: datetime
    end: datetime

    @property
    def minutes(self) -> int:
        """How long it took, lunch included."""
        return int((self.end - self.begin).total_seconds()) // 60


@dataclass(slots=True)
class Bench:
    """A card at the bench: its tasks in order, what is done when, and the tags on its car.

    `claimed` are tasks somebody has begun or that were left out; `tags` are shared by all cards of the car.
    """

    car: str
    tasks: dict[str, tuple[int, Task]]
    pace: float
    quick: frozenset[str]
    tags: set[str]
    done: dict[str, datetime] = field(default_factory=dict)
    claimed: set[str] = field(default_factory=set)

    def id_of(self, key: str) -> int:
        """Return the id of the task with that key."""
        return self.tasks[key][0]

    def minutes(self, task: Task) -> int:
        """Return how long a task takes here: as expected, at the pace of the card, never quite alike."""
        wobble = 0.85 + chance(self.car, task.key) / 300
        return max(1, round(task.minutes * self.pace * wobble))

    def waits(self, key: str) -> timedelta:
        """Return how long what follows a task has to wait for it."""
        return timedelta(minutes=0 if key in self.quick else self.tasks[key][1].waits)


class Planner:
    """Plans stretches of work by the calendar and the kinds of tags of a shop."""

    def __init__(self, days: Days, kinds: Mapping[str, TagKind]) -> None:
        self.days = days
        self.kinds = kinds

    def stretch(
        self, bench: Bench, start: datetime, *, until: str = "", minutes: int | None = None
    ) -> tuple[Step, ...]:
        """Return the steps of one stretch, and mark them as claimed and done on the bench.

        Parameters
        ----------
        bench : Bench
            The card.
        start : datetime
            When work begins.
        until : str, optional
            Key of the last task to do.
        minutes : int, optional
            Longest time at the bench, [min]
        """
        limit = self.days.same_day(start, SHUTS)
        if minutes is not None:
            limit = min(limit, self.days.walk(start, minutes))
        steps: list[Step] = []
        at = self.days.begin(start)
        while True:
            task, ready = self._next(bench, at)
            if task is None or ready - at > LONGEST_GAP:
                break
            begin = self.days.begin(max(at, ready))
            end = self.days.walk(begin, bench.minutes(task))
            if end > limit:
                break
            self._settle(bench, task, end)
            steps.append(Step(task, begin, end))
            at = end
            if task.key == until:
                break
        return tuple(steps)

    def _next(self, bench: Bench, at: datetime) -> tuple[Task | None, datetime]:
        """Return the task to take up: the first that need not wait, else the one that waits least."""
        best: tuple[Task | None, datetime] = (None, at)
        for key, (_id, task) in bench.tasks.items():
            if key in bench.claimed or self._barred(bench, task):
                continue
            ready = self._ready(bench, task, at)
            if ready is None:
                continue
            if ready <= at:
                return task, at
            if best[0] is None or ready < best[1]:
                best = (task, ready)
        return best

    def _ready(self, bench: Bench, task: Task, at: datetime) -> datetime | None:
        """Return when a task may begin, None while something before it is not done."""
        ready = at
        for key in task.after:
            if key not in bench.tasks:
                continue
            if key not in bench.done:
                if key in bench.claimed:  # left out
                    continue
                return None
            ready = max(ready, bench.done[key] + bench.waits(key))
        return ready

    def _barred(self, bench: Bench, task: Task) -> bool:
        return any(barring(name, self._bars(name), task) for name in bench.tags)

    def _bars(self, name: str) -> Sequence[str]:
        kind = self.kinds.get(name)
        return kind.bars if kind else ()

    @staticmethod
    def _settle(bench: Bench, task: Task, end: datetime) -> None:
        bench.claimed.add(task.key)
        bench.done[task.key] = end
        bench.tags.difference_update(task.lifts)
        bench.tags.update(task.hangs)

    def clocks(self, steps: Sequence[Step]) -> Iterator[tuple[datetime, Task | None]]:
        """Yield when somebody clocks on to which task; None is off.

        Small steps are clocked on the big one they lead to, as people do, so that the bill reads by jobs and
        not by minutes. Finishing that task stops the clock, so no clocking off is asked for at its end.
        """
        for group in (part for run in _groups(steps) for part in self._unbarred(run)):
            main = group[-1].task
            yield group[0].begin, main
            lunch = self.days.same_day(group[0].begin, LUNCH)
            if group[0].begin < lunch < group[-1].end:
                yield lunch, None
                yield self.days.begin(lunch), main

    def _unbarred(self, run: list[Step]) -> Iterator[list[Step]]:
        """Cut a run behind the step that lifts what bars its big one: no clock starts on a barred task."""
        main = run[-1].task
        lifting = (
            place
            for place, step in enumerate(run[:-1], 1)
            if any(barring(name, self._bars(name), main) for name in step.task.lifts)
        )
        cut = max(lifting, default=0)
        if cut:
            yield from self._unbarred(run[:cut])
        yield run[cut:]


def _groups(steps: Sequence[Step]) -> Iterator[list[Step]]:
    """Cut a stretch into runs clocked together; each ends with its longest step, none goes across a wait."""
    run: list[Step] = []
    for step in steps:
        if run and run[-1].end < step.begin:
            yield from _by_longest(run)
            run = []
        run.append(step)
        if sum(s.minutes for s in run) >= CLOCKED_TOGETHER:
            cut = _longest(run)
            yield run[:cut]
            run = run[cut:]
    yield from _by_longest(run)


def _by_longest(run: list[Step]) -> Iterator[list[Step]]:
    while run:
        cut = _longest(run)
        yield run[:cut]
        run = run[cut:]


def _longest(run: Sequence[Step]) -> int:
    """Return where to cut a run so that it ends with its longest step."""
    return 1 + max(range(len(run)), key=lambda index: (run[index].minutes, index))
