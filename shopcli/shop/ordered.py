"""What is seen of the order of work: steps with their times and reasons, wishes, and what is left; values only."""

from dataclasses import dataclass

from shopcli.worklists.planner import Plan, PlanTask, Wait


def wish_words(kind: str, *, person: str = "", other: str = "", place: int = 0) -> str:
    """Return a wish for the order of work as it is said.

    Examples
    --------
    >>> wish_words("after", other="Drain the oil"), wish_words("next")
    ("after 'Drain the oil'", 'next')
    """
    if kind == "by":
        return f"by {person}"
    if kind == "after":
        return f"after '{other}'"
    if kind == "place":
        return f"in place {place}"
    return kind


@dataclass(frozen=True, slots=True)
class StepView:
    """A task at its time. Minutes count from the moment the order was made; `number` is the task's own."""

    task_id: int
    number: int
    title: str
    place: str
    who: str
    start_min: int
    end_min: int
    free_at_min: int
    why: str
    in_hand: bool = False
    wish: str = ""


@dataclass(frozen=True, slots=True)
class WishView:
    """What somebody asked for; `set_aside` says why it cannot be kept as things are now."""

    id: int
    task_id: int
    number: int
    title: str
    says: str
    asked_by: str
    set_aside: str = ""


@dataclass(frozen=True, slots=True)
class NoRoomView:
    """A task the order does without, and why."""

    task_id: int
    number: int
    title: str
    why: str


@dataclass(frozen=True, slots=True)
class OrderView:
    """An order of work as it is shown. `at` is the second it was made, `hands` how many people it is for.

    `hands_on_min` is work that is left, `elapsed_min` how long until the last wait is over, `listed_min` the same
    work done as it is listed. `from_card` is the number of hands the card asks for, None for the shop's own.
    """

    card_id: int
    at: int
    hands: int
    from_card: int | None
    people: tuple[str, ...]
    steps: tuple[StepView, ...]
    waits: tuple[Wait, ...]
    no_room: tuple[NoRoomView, ...]
    wishes: tuple[WishView, ...]
    notes: tuple[str, ...]
    elapsed_min: int
    hands_on_min: int
    listed_min: int

    @property
    def saved_percent(self) -> int:
        """How much shorter it is than the list from top to bottom, [%]."""
        return round(100 * (1 - self.elapsed_min / self.listed_min)) if self.listed_min else 0

    def step(self, task_id: int | None) -> StepView | None:
        """Return the step of a task, or None when it is settled or finds no room."""
        return next((s for s in self.steps if s.task_id == task_id), None)

    def place(self, task_id: int | None) -> int | None:
        """Return the place of a task among what is not begun, from 1; None when it has none."""
        waiting = [s.task_id for s in self.steps if not s.in_hand]
        return waiting.index(task_id) + 1 if task_id in waiting else None

    def wishes_for(self, task_id: int | None) -> tuple[WishView, ...]:
        """Return the wishes for a task."""
        return tuple(w for w in self.wishes if w.task_id == task_id)


@dataclass(frozen=True, slots=True)
class Order:
    """An order with what it was made from: the plan, its tasks, and what must be alike for it to hold on.

    `sequence` are the ids of all tasks of the card: settled ones as they were settled, the steps, what finds no room.
    """

    view: OrderView
    sequence: tuple[int, ...]
    tasks: tuple[PlanTask, ...]
    plan: Plan | None
    alike: tuple[object, ...]
