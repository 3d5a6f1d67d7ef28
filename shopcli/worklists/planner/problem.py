"""The work as the search sees it: numbers, bits and lags only, so that trying an order costs microseconds.

Every rule between two tasks has one of two forms. Either one is bound to come before the other, or whichever
comes first in the order pushes the other back. So an order of the tasks fixes every start: each begins as
soon as those before it let it, and no plan is lost by looking at orders only.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from shopcli.worklists.planner.chains import Chains
from shopcli.worklists.planner.tasks import BENCH, PlanTask

Window = tuple[int, tuple[int, ...]]  # bits of who hangs a tag, and who lifts it
LONG_AGO = -(10**9)
GONE = 10**9  # since when a state holds that does not
COLD_STATE = 0
Push = tuple[int, int]  # task, and minutes from the end of the pusher to its earliest start


@dataclass
class Problem:
    """What the search works on; tasks are numbers 0 to n-1, people 0 to hands-1, sets of tasks are bits.

    `windows` of a task say which tags leave it a choice: while one of the first is begun, no start before one of
    the second is over. The bit above those of all tasks stands for the start itself: it is begun from the
    beginning, so a tag that hangs already is hung by it. `needs`, `makes` and `ends` are numbers of states,
    `holds` since when each holds; the first is the cold engine, which comes back by itself. `people` names who may do a task, `at` the place it has in the order, counted
    from 0 and without what is in hand (`early`: task and person). `keeps_off` are tasks that keep others off the
    car. `heads` and `tails` are the longest way to a task and from its end to the end of everything. `ran` is
    when the engine last ran; it is cold after `cool_down` minutes and too cold for warm work after half of them. `late` wait for parts.
    """

    tasks: Sequence[PlanTask]
    chains: Chains
    hands: int
    start: int
    place: list[int]
    push: list[list[Push]]
    windows: list[list[Window]]
    needs: list[tuple[int, ...]]
    makes: list[tuple[int, ...]]
    ends: list[tuple[int, ...]]
    holds: list[int]
    release: list[int]
    people: list[tuple[int, ...]]
    at: dict[int, int]
    wants_warm: list[bool]
    ran: int
    cool_down: int
    heads: list[int]
    tails: list[int]
    notes: tuple[str, ...] = ()
    late: frozenset[int] = frozenset()
    early: tuple[tuple[int, int], ...] = field(init=False)
    before: list[int] = field(init=False)
    minutes: list[int] = field(init=False)
    waits: list[int] = field(init=False)
    job: list[str] = field(init=False)
    warm_for: int = field(init=False)
    warms: list[bool] = field(init=False)
    keeps_off: list[bool] = field(init=False)
    at_bench: list[bool] = field(init=False)

    def __post_init__(self) -> None:
        held = ((j, task.in_hand_by) for j, task in enumerate(self.tasks))
        self.early = tuple((j, person - 1) for j, person in held if person is not None)
        self.before = self.chains.before
        self.warm_for = self.cool_down // 2
        self.minutes = [t.minutes for t in self.tasks]
        self.waits = [t.waits for t in self.tasks]
        self.job = [t.job for t in self.tasks]
        self.warms = [t.warms for t in self.tasks]
        self.keeps_off = [t.moves_car and t.in_hand_by is None for t in self.tasks]
        self.at_bench = [t.place == BENCH for t in self.tasks]

    @property
    def n(self) -> int:
        """Number of tasks."""
        return len(self.minutes)

    @property
    def begun(self) -> int:
        """What is begun before the first step: the start itself."""
        return 1 << len(self.minutes)
