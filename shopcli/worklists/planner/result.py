"""What a plan is: steps with their times and reasons, what waits meanwhile, and how good the plan is."""

from dataclasses import dataclass, field

from shopcli.worklists.planner.tasks import Pin, State

RULES_EASED = "some cold work needs a cool-down, or a missing part is needed earlier than last"


@dataclass(frozen=True, slots=True)
class Step:
    """A task at its time. Times are minutes on the same scale as the plan's start; people count from 1."""

    key: str
    person: int
    start_min: int
    end_min: int
    free_at_min: int
    why: str
    title: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class Wait:
    """Time that runs without hands: what drains, charges, soaks, cools. `key` is the task it follows."""

    key: str
    says: str
    start_min: int
    end_min: int


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A task the plan does without, and why."""

    key: str
    why: str


@dataclass(frozen=True, slots=True)
class Plan:
    """An order of work.

    `elapsed_min` runs from the start to the end of the last wait. No order can be shorter than
    `lower_bound_min`; `proved` says that this one is as short as any. `top_to_bottom_min` is the same work
    done as listed by the same people.
    """

    steps: tuple[Step, ...]
    elapsed_min: int
    hands_on_min: int
    walks: int
    lower_bound_min: int
    top_to_bottom_min: int
    waits: tuple[Wait, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    notes: tuple[str, ...] = ()
    proved: bool = False
    hands: int = 1
    start_min: int = 0
    state: State = field(default_factory=State)
    pins: tuple[Pin, ...] = ()
    cool_down_min: int = 120

    def step(self, key: str) -> Step | None:
        """Return the step of a task, or None when the plan does without it."""
        return next((s for s in self.steps if s.key == key), None)

    @property
    def saved(self) -> float:
        """Share of the elapsed time this order saves against doing the list top to bottom, [-]."""
        return 1 - self.elapsed_min / self.top_to_bottom_min if self.top_to_bottom_min else 0.0
