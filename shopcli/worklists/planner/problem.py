"""The work as the search sees it: numbers, bits and lags only, so that trying an order costs microseconds.

Every rule between two tasks has one of two forms. Either one is bound to come before the other, or whichever
comes first in the order pushes the other back. So an order of the tasks fixes every start: each begins as
soon as those before it let it, and no plan is lost by looking at orders only.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.worklists.planner.chains import Chains
from shopcli.worklists.planner.tasks import PlanTask

Window = tuple[int, tuple[int, ...]]  # bits of who hangs a tag, and who lifts it
LONG_AGO = -(10**9)
GONE = 10**9  # since when a state holds that does not
Push = tuple[int, int]  # task, and minutes from the end of the pusher to its earliest start


@dataclass
class Problem:
    """What the search works on; tasks are numbers 0 to n-1, people 0 to hands-1, sets of tasks are bits.

    `windows` of a task say which tags leave it a choice: while one of the first is begun, no start before one of
    the second is over. `needs`, `makes` and `ends` are numbers of states, `holds` since when each holds at the
    start. `people` names who may do a task, `at` the place it has in
    the order, counted from 0 and without what is in hand (`early`: task and person). The bit above those of all
    tasks stands for the start itself: it is begun from the beginning, so a tag that hangs already is hung by it.
    `heads` and `tails` are the longest way to a task and from its end to the end of everything; `ran` is when
    the engine last ran, and it stays warm `warm_for` minutes.
    """

    tasks: Sequence[PlanTask]
    chains: Chains
    hands: int
    start: int
    minutes: list[int]
    waits: list[int]
    place: list[int]
    job: list[str]
    before: list[int]
    push: list[list[Push]]
    windows: list[list[Window]]
    needs: list[tuple[int, ...]]
    makes: list[tuple[int, ...]]
    ends: list[tuple[int, ...]]
    holds: list[int]
    release: list[int]
    people: list[tuple[int, ...]]
    at: dict[int, int]
    early: tuple[tuple[int, int], ...]
    wants_warm: list[bool]
    fires: list[bool]
    ran: int
    warm_for: int
    heads: list[int]
    tails: list[int]
    notes: tuple[str, ...] = ()
    late: frozenset[int] = frozenset()

    @property
    def n(self) -> int:
        """Number of tasks."""
        return len(self.minutes)

    @property
    def begun(self) -> int:
        """What is begun before the first step: the start itself."""
        return 1 << len(self.minutes)
