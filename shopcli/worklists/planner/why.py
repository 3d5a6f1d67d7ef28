"""Why each step stands where it stands, in a sentence; and what drains, charges or cools meanwhile."""

from shopcli.worklists.planner.build import Ask
from shopcli.worklists.planner.chains import Tie
from shopcli.worklists.planner.day import Timed
from shopcli.worklists.planner.problem import Problem
from shopcli.worklists.planner.result import Wait
from shopcli.worklists.planner.tasks import COLD, Pin, PlanTask

_WORDS = {
    "drain": "draining",
    "charg": "charging",
    "soak": "soaking",
    "cure": "curing",
    "curing": "curing",
    "cool": "cooling",
    "warm": "warming up",
    "dry": "drying",
}
_LONG = 60  # a way to the end worth a word, [min]


def waiting_word(task: PlanTask) -> str:
    """Return what goes on without hands after a task.

    Examples
    --------
    >>> waiting_word(PlanTask("battery:charge", "Put the battery on charge"))
    'charging'
    """
    text = f"{task.key.rpartition(':')[2]} {task.title}".lower()
    return next((says for part, says in _WORDS.items() if part in text), "waiting")


def waits_of(p: Problem, day: Timed, ask: Ask) -> tuple[Wait, ...]:
    """Return all that runs without hands, in the order it begins."""
    found = [
        Wait(t.key, waiting_word(t), p.start, p.start + t.still_waits)
        for t in ask.tasks
        if t.done and t.still_waits
    ]
    ends = {j: start + p.minutes[j] for j, start in zip(day.order, day.starts, strict=True)}
    starts = dict(zip(day.order, day.starts, strict=True))
    found += [
        Wait(p.tasks[j].key, waiting_word(p.tasks[j]), end, end + p.waits[j])
        for j, end in ends.items()
        if p.waits[j]
    ]
    found += _cooling(p, starts, ask)
    return tuple(sorted(found, key=lambda wait: (wait.start_min, wait.end_min)))


def _cooling(p: Problem, starts: dict[int, int], ask: Ask) -> set[Wait]:
    """Return the cool-downs that cold work waits for; one before the first step has no key."""
    found = set()
    for j in starts:
        stopped = _stopped(p, starts, ask, j)
        if stopped is not None:
            at, key = stopped
            found.add(Wait(key, "cooling", at, at + ask.cool_down))
    return found


def _stopped(p: Problem, starts: dict[int, int], ask: Ask, j: int) -> tuple[int, str] | None:
    """Return when the engine stopped whose cooling task `j` has waited for, and after which task."""
    if COLD not in p.tasks[j].needs:
        return None
    over = {i: at + p.minutes[i] + p.waits[i] for i, at in starts.items()}
    ran = [(over[i], p.tasks[i].key) for i, at in starts.items() if p.warms[i] and i != j and at < starts[j]]
    stopped = max(ran, default=None if COLD in ask.state.holds else (p.start, ""))
    coolers = (i for i in starts if COLD in p.tasks[i].makes and over[i] <= starts[j])
    return None if stopped is None or any(starts[i] >= stopped[0] for i in coolers) else stopped


def reasons(p: Problem, day: Timed, ask: Ask) -> dict[int, str]:
    """Return for each task why it stands where it stands."""
    teller = _Teller(p, day, ask)
    return {j: teller.why(j) for j in day.order}


class _Teller:
    """Finds the strongest reason: what a person said, what is missing, what waits, what went before."""

    def __init__(self, p: Problem, day: Timed, ask: Ask) -> None:
        self.p, self.ask = p, ask
        self.starts = dict(zip(day.order, day.starts, strict=True))
        self.ends = {j: start + p.minutes[j] for j, start in self.starts.items()}
        self.first = min(self.starts.values(), default=p.start)
        self.previous: dict[int, int] = {}
        lines: dict[int, int] = {}
        for j, who in sorted(zip(day.order, day.people, strict=True), key=lambda item: self.starts[item[0]]):
            if who in lines:
                self.previous[j] = lines[who]
            lines[who] = j

    def why(self, j: int) -> str:
        """Return the reason of one step."""
        if self.p.tasks[j].in_hand_by is not None:
            return "in hand already"
        return (
            self._asked(j)
            or self._lacking(j)
            or self._sets_going(j)
            or self._cold(j)
            or self._asked_after(j)
            or self._held_back(j)
            or self._ahead_of_tag(j)
            or self._follows(j)
        )

    def _asked(self, j: int) -> str:
        task = self.p.tasks[j]
        return ", ".join(self._pinned(pin) for pin in self.ask.pins if pin.key == task.key)

    def _asked_after(self, j: int) -> str:
        others = [
            pin.key for pin in self.ask.pins if pin.kind == "before" and pin.other == self.p.tasks[j].key
        ]
        titles = [f'"{t.title}"' for t in self.ask.tasks if t.key in others]
        return f"after {', '.join(titles)}, as asked" if titles else ""

    def _pinned(self, pin: Pin) -> str:
        if pin.kind == "before":
            title = next(t.title for t in self.ask.tasks if t.key == pin.other)
            return f'before "{title}", as asked'
        if pin.kind == "by":
            return f"by {pin.who or f'person {pin.number}'}, as asked"
        if pin.kind == "last":
            return "last, as asked"
        return "first, as asked" if pin.number == 1 else f"in place {pin.number}, as asked"

    def _lacking(self, j: int) -> str:
        task = self.p.tasks[j]
        if task.parts_missing:
            return f"parts missing: {', '.join(task.parts_missing)}"
        if j not in self.p.late:
            return ""
        behind = (k for k in self.p.late if self.p.tasks[k].parts_missing and self.p.before[j] >> k & 1)
        return f'waits for "{self.p.tasks[next(behind)].title}", whose parts are missing'

    def _sets_going(self, j: int) -> str:
        """Tell of hands-off time that other work is done beside."""
        end, wait = self.ends[j], self.p.waits[j]
        beside = any(at < end + wait and self.ends[k] > end for k, at in self.starts.items() if k != j)
        if not wait or not beside:
            return ""
        when = "first" if self.starts[j] == self.first else "as soon as it can be"
        return f"started {when}: {waiting_word(self.p.tasks[j])} runs {wait} min beside other work"

    def _cold(self, j: int) -> str:
        p, start = self.p, self.starts[j]
        if _stopped(p, self.starts, self.ask, j):
            return f"after the engine has cooled for {self.ask.cool_down} min"
        warmed = any(p.warms[i] and at >= start for i, at in self.starts.items() if i != j)
        return "cold work before the engine is warmed" if warmed and COLD in p.tasks[j].needs else ""

    def _held_back(self, j: int) -> str:
        """Tell which step this one begins after at once, when more than a pair of hands was waited for."""
        start, previous = self.starts[j], self.previous.get(j)
        if previous is not None and self.ends[previous] == start:
            lifted = set(self.p.tasks[previous].lifts) & set(self.p.tasks[j].barred)
            return self._after(previous, j, 0) if lifted else ""
        for i, pushed in enumerate(self.p.push):
            for k, lag in pushed:
                if k == j and i in self.ends and self.ends[i] + lag == start and self.starts[i] < start:
                    return self._after(i, j, lag)
        return ""

    def _after(self, i: int, j: int, lag: int) -> str:
        title = self.p.tasks[i].title
        tie = self.p.chains.ties.get((i, j), Tie(lag, "after"))
        tags = set(self.p.tasks[i].lifts) & set(self.p.tasks[j].barred)
        if tags:
            return f'after "{title}", which lifts {min(tags)}'
        if tie.kind == "needs":
            return f'after "{title}": {tie.what}'
        if lag:
            return f'after "{title}" and {lag} min of {waiting_word(self.p.tasks[i])}'
        return f'after "{title}"'

    def _ahead_of_tag(self, j: int) -> str:
        """Tell of a tag that would bar it later."""
        p = self.p
        for k in self.starts:
            tags = set(p.tasks[k].hangs) & set(p.tasks[j].barred)
            if tags and self.starts[k] >= self.ends[j]:
                return f'before "{p.tasks[k].title}" hangs {min(tags)}'
        return ""

    def _follows(self, j: int) -> str:
        p, previous = self.p, self.previous.get(j)
        tied = [i for i in self.starts if (i, j) in p.chains.ties and p.chains.ties[i, j].kind == "after"]
        if previous in tied:
            return f'after "{p.tasks[previous].title}"'
        if p.tails[j] >= _LONG:
            return f"early, since {p.tails[j]} min of work and waiting follow from it"
        if previous is not None and p.place[previous] == p.place[j] >= 0:
            return f"next at the same place: {p.tasks[j].place}"
        if tied:
            return f'after "{p.tasks[max(tied, key=lambda i: self.ends[i])].title}"'
        return "when there are hands for it"
