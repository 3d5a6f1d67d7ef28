"""What the records say of a card's work as it stands: done, in hand, waiting, tagged, lacking parts, wished for.

The rule that hears a wish and the screen that shows the order read it by the same SQL text, each over its own
connection. Nothing here plans.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from shopcli.errors import NotFound
from shopcli.shop.fetching import Fetch
from shopcli.shop.parts_here import NotHere, not_here
from shopcli.shop.states import TaskState
from shopcli.worklists.freeze import task_from_json
from shopcli.worklists.model import TagKind, Task
from shopcli.worklists.planner import PlanTask, State
from shopcli.worklists.planner.plan import COOL_DOWN_MIN
from shopcli.worklists.planner.tasks import COLD, WARM

A_LITTLE_MIN = 2  # what is begun is not over before somebody says so
WARM_FOR_MIN = COOL_DOWN_MIN // 2  # common practice, no source

CARD = "SELECT vehicle_id, hands FROM card WHERE id = ?"
TASKS = "SELECT id, position, state, frozen, done_at FROM task WHERE card_id = ? ORDER BY position, id"
CLOCKS = """
SELECT e.task_id, e.person_id, p.name, e.started_at, e.ended_at
FROM clock_entry e JOIN person p ON p.id = e.person_id WHERE e.card_id = ? ORDER BY e.started_at, e.id"""
TAGS = "SELECT name, says, bars FROM tag WHERE vehicle_id = ? AND lifted_at IS NULL ORDER BY id"
ELSEWHERE = """
SELECT t.frozen, t.done_at FROM task t JOIN card c ON c.id = t.card_id
WHERE c.vehicle_id = ? AND c.id <> ? AND t.state = 'done' AND c.state NOT IN ('closed', 'void')"""
WISHES = """
SELECT w.id, w.task_id, w.kind, w.nth, w.other_id, w.person_id, COALESCE(p.name, ''), a.name
FROM wish w JOIN person a ON a.id = w.asked_by LEFT JOIN person p ON p.id = w.person_id
WHERE w.card_id = ? AND w.given_back_at IS NULL ORDER BY w.id"""


@dataclass(frozen=True, slots=True)
class TaskNow:
    """A task of the card and how it stands; `runner` is whose clock runs on it."""

    id: int
    number: int
    state: str
    task: Task
    done_at: int | None
    clocked_s: int
    runner: int | None

    def still_waits_min(self, at: int) -> int:
        """Return what is left of the wait after it, started minutes counted whole, [min]."""
        if self.state != TaskState.DONE or self.done_at is None:
            return 0
        return max(0, -((at - self.done_at - self.task.waits * 60) // 60))

    def left_min(self) -> int:
        """Return the hands-on time that is left, [min]."""
        if not self.clocked_s:
            return self.task.minutes
        return max(A_LITTLE_MIN, self.task.minutes - self.clocked_s // 60)


@dataclass(frozen=True, slots=True)
class Wished:
    """A wish as it is kept, with the names it speaks of."""

    id: int
    task_id: int
    kind: str
    nth: int
    other_id: int | None
    person_id: int | None
    person: str
    asked_by: str


@dataclass(frozen=True, slots=True)
class WorkNow:
    """The work of a card at a second: what a plan is made from."""

    card_id: int
    at: int
    tasks: tuple[TaskNow, ...]
    planned: tuple[PlanTask, ...]
    state: State
    hands: int
    from_card: int | None
    people: tuple[tuple[int, str], ...]
    wishes: tuple[Wished, ...]
    loose_parts: tuple[str, ...]

    def open_tasks(self) -> tuple[TaskNow, ...]:
        """Return what is neither done nor left out."""
        return tuple(t for t in self.tasks if t.state == TaskState.OPEN)

    def begun(self) -> int:
        """Return how many tasks are settled or in hand."""
        return sum(t.state != TaskState.OPEN or t.runner is not None for t in self.tasks)

    def alike(self) -> tuple[object, ...]:
        """Return everything that asks for a new order when it changes; minutes going by do not."""
        rows = tuple((t.id, t.state, t.done_at, t.runner, t.still_waits_min(self.at) > 0) for t in self.tasks)
        lacking = tuple(p.parts_missing for p in self.planned)
        return rows, lacking, self.state, self.hands, self.people, self.wishes, self.loose_parts


def work_now(
    fetch: Fetch,
    card_id: int,
    at: int,
    *,
    usual_hands: int,
    tags: Mapping[str, TagKind],
    hands: int | None = None,
) -> WorkNow:
    """Return the work of a card as the records say it.

    Parameters
    ----------
    fetch : callable
        Reads rows by SQL text with ``?`` parameters.
    card_id : int
        The card.
    at : int
        Now, in seconds UTC, [s]
    usual_hands : int
        How many people the shop usually has on one car.
    tags : mapping of str to TagKind
        Which acts each kind of tag bars.
    hands : int, optional
        How many people this plan is for, whatever card and shop say.

    Raises
    ------
    NotFound
        When there is no such card.
    """
    rows = fetch(CARD, (card_id,))
    if not rows:
        raise NotFound(f"there is no card {card_id}")
    vehicle_id, from_card = rows[0]
    tasks = _tasks(fetch, card_id, at)
    hanging = {
        name: TagKind(name, says, tuple(bars.split("\n"))) for name, says, bars in fetch(TAGS, (vehicle_id,))
    }
    wishes = _wishes(fetch, card_id, tasks)
    people = _people(fetch, card_id, tasks, wishes)
    still_open = [(t.id, t.task) for t in tasks if t.state == TaskState.OPEN]
    lacking = not_here(fetch, card_id, still_open)
    return WorkNow(
        card_id=card_id,
        at=at,
        tasks=tasks,
        planned=tuple(_planned(tasks, {**tags, **hanging}, [key for key, _ in people], lacking, at)),
        state=State(_holds(_done(fetch, vehicle_id, card_id, tasks), tags, at), frozenset(hanging)),
        hands=max(hands or from_card or usual_hands, len(people)),
        from_card=from_card,
        people=people,
        wishes=wishes,
        loose_parts=lacking.of_the_job,
    )


def _tasks(fetch: Fetch, card_id: int, at: int) -> tuple[TaskNow, ...]:
    seconds: dict[int, int] = {}
    runner: dict[int, int] = {}
    for task_id, person_id, _name, started, ended in fetch(CLOCKS, (card_id,)):
        seconds[task_id] = seconds.get(task_id, 0) + max(0, (at if ended is None else ended) - started)
        if ended is None:
            runner.setdefault(task_id, person_id)
    return tuple(
        TaskNow(
            key,
            number,
            state,
            task_from_json(frozen),
            done_at,
            seconds.get(key, 0),
            runner.get(key) if state == TaskState.OPEN else None,
        )
        for key, number, state, frozen, done_at in fetch(TASKS, (card_id,))
    )


def _wishes(fetch: Fetch, card_id: int, tasks: Iterable[TaskNow]) -> tuple[Wished, ...]:
    """Return the wishes that still mean something: a task begun has its place, a task settled is no longer waited for."""
    still_open = {t.id: t for t in tasks if t.state == TaskState.OPEN}
    found = []
    for wish in (Wished(*row) for row in fetch(WISHES, (card_id,))):
        task = still_open.get(wish.task_id)
        if task is None or (wish.kind != "by" and task.runner is not None):
            continue
        if wish.kind == "after" and wish.other_id not in still_open:
            continue
        found.append(wish)
    return tuple(found)


def _people(
    fetch: Fetch, card_id: int, tasks: Iterable[TaskNow], wishes: Iterable[Wished]
) -> tuple[tuple[int, str], ...]:
    """Return who is known to work on the card: those whose clock runs there, then those asked for by name."""
    runners = {t.runner for t in tasks}
    found = {
        person: name
        for _task, person, name, _started, ended in fetch(CLOCKS, (card_id,))
        if ended is None and person in runners
    }
    for wish in wishes:
        if wish.person_id is not None:
            found.setdefault(wish.person_id, wish.person)
    return tuple(found.items())


def _planned(
    tasks: Sequence[TaskNow], tags: Mapping[str, TagKind], people: Sequence[int], lacking: NotHere, at: int
) -> Iterable[PlanTask]:
    handed_on = {t.task.key: t.task.after for t in tasks if t.state == TaskState.LEFT_OUT}
    still_open = {t.task.key for t in tasks if t.state == TaskState.OPEN}
    for now in tasks:
        if now.state != TaskState.LEFT_OUT:
            yield PlanTask.of(
                replace(now.task, after=_waits_for(now.task, handed_on)),
                tags,
                done=now.state == TaskState.DONE,
                in_hand_by=None if _is_early(now, still_open) else people.index(now.runner) + 1,
                parts_missing=lacking.by_task.get(now.id, ()),
                left_min=now.left_min(),
                still_waits=now.still_waits_min(at),
            )


def _is_early(now: TaskNow, still_open: Collection[str]) -> bool:
    """Whether a task is not begun, for all that its clock may run: what takes a tag off waits for what comes before it.

    A sump is not full because somebody's clock runs on filling it while its plug is out.
    """
    return now.runner is None or bool(now.task.lifts and not still_open.isdisjoint(now.task.after))


def _waits_for(task: Task, handed_on: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Return what a task waits for; one that was left out hands on what it waited for itself."""
    found: dict[str, None] = {}
    todo, seen = list(reversed(task.after)), {task.key}
    while todo:
        key = todo.pop()
        if key not in seen:
            seen.add(key)
            if key in handed_on:
                todo += reversed(handed_on[key])
            else:
                found[key] = None
    return tuple(found)


def _done(fetch: Fetch, vehicle_id: int, card_id: int, tasks: Iterable[TaskNow]) -> list[tuple[int, Task]]:
    """Return what was done to the car on its open cards, in the order it was done."""
    found = [(t.done_at, t.task) for t in tasks if t.state == TaskState.DONE and t.done_at is not None]
    found += [
        (done_at, task_from_json(frozen)) for frozen, done_at in fetch(ELSEWHERE, (vehicle_id, card_id))
    ]
    return sorted(found, key=lambda item: item[0])


def _holds(done: Iterable[tuple[int, Task]], tags: Mapping[str, TagKind], at: int) -> frozenset[str]:
    """Return the states done work has left the car in; an engine that has stood long enough is cold again."""
    state, ran_until = State(), None
    for done_at, task in done:
        step = PlanTask.of(task, tags, done=True)
        state = state.left_by([step])
        if step.warms:
            ran_until = done_at + step.waits * 60
    holds = state.holds
    if ran_until is None or COLD in holds:
        return holds
    stood_min = (at - ran_until) // 60
    if stood_min >= WARM_FOR_MIN:
        holds -= {WARM}
    return holds | {COLD} if stood_min >= COOL_DOWN_MIN else holds
