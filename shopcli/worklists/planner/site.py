"""The work that is left, numbered, with its ties: what the rules read and add to."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from shopcli.worklists.planner.chains import Chains
from shopcli.worklists.planner.tasks import COLD, PlanTask, State


@dataclass
class Site:
    """Tasks to be planned, by number, and the car as it stands.

    `early` are in hand: what they wait for, need, or are barred by was settled when they were begun.
    """

    tasks: Sequence[PlanTask]
    state: State
    cool_down: int
    early: int = field(init=False)
    number: dict[str, int] = field(init=False)
    chains: Chains = field(init=False)
    needing: dict[str, list[int]] = field(init=False)
    making: dict[str, list[int]] = field(init=False)
    ending: dict[str, list[int]] = field(init=False)
    barred_by: dict[str, list[int]] = field(init=False)
    hanging: dict[str, list[int]] = field(init=False)
    lifting: dict[str, list[int]] = field(init=False)

    def __post_init__(self) -> None:
        self.number = {task.key: j for j, task in enumerate(self.tasks)}
        self.early = sum(1 << j for j, task in enumerate(self.tasks) if task.in_hand_by is not None)
        self.chains = Chains([task.title for task in self.tasks], self.early)
        # The rules ask these over and over; a rule never binds what is in hand.
        self.needing = self._index(lambda t: t.needs, in_hand=False)
        self.barred_by = self._index(lambda t: t.barred, in_hand=False)
        self.making = self._index(lambda t: t.makes)
        self.ending = self._index(lambda t: t.ends)
        self.hanging = self._index(lambda t: t.hangs)
        self.lifting = self._index(lambda t: t.lifts)

    def _index(
        self, names: Callable[[PlanTask], Iterable[str]], *, in_hand: bool = True
    ) -> dict[str, list[int]]:
        index: dict[str, list[int]] = defaultdict(list)
        for j, task in enumerate(self.tasks):
            if in_hand or not self.in_hand(j):
                for name in names(task):
                    index[name].append(j)
        return index

    def in_hand(self, j: int) -> bool:
        """Whether somebody has begun it."""
        return bool(self.early >> j & 1)

    @property
    def cold_now(self) -> bool:
        """Whether the engine is cold before the first step."""
        return COLD in self.state.holds

    def may_cool(self, w: int | None, j: int) -> bool:
        """Whether a task that makes the engine cold can come before task `j`, and after `w` if that is given."""
        is_before = self.chains.is_before
        able = (k for k in self.making[COLD] if k != j and not is_before(j, k))
        return any(w is None or (k != w and not is_before(k, w)) for k in able)

    def states(self) -> tuple[str, ...]:
        """Return the states somebody needs, but for the cold engine, which comes back by itself."""
        return tuple(dict.fromkeys(s for t in self.tasks for s in t.needs if s != COLD))

    def lifters_of(self, j: int, tag: str) -> list[int]:
        """Return who lifts the tag task `j` hangs: those bound to come after it, or else the last listed."""
        lifters = [k for k in self.lifting[tag] if k != j and not self.chains.is_before(k, j)]
        bound = [k for k in lifters if self.chains.is_before(j, k)]
        return bound or lifters[-1:]
