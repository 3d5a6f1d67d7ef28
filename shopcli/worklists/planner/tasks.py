"""What the order of work needs to know of a task, of the car as it stands, and of a person's own wishes.

Less than a card knows: no numbers, no readings. What a tag bars is settled here once, by name, so that the
planner asks only which tags bar a task.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from shopcli.worklists.model import TagKind, Task
from shopcli.worklists.words import HAND_OVER, OPPOSITES

COLD, WARM = "engine cold", "engine warm"
RAISED, ON_WHEELS = "car raised", "car on its wheels"
IGNITION_OFF = "ignition off"
# A turn of the hand brings these about, so nobody waits for a task that does.
BY_HAND = frozenset({IGNITION_OFF, "handbrake off"})
UNDER, BENCH = "under the car", "bench"
_FIRING = frozenset({"start", "drive", "road test"})
_TURNING = _FIRING | {"crank"}
_DRIVING = frozenset({"move", "drive", "road test"})


@dataclass(frozen=True, slots=True)
class PlanTask:
    """One task as the planner sees it. `barred` names every tag that bars it, whatever the reason.

    `minutes` are hands-on, `waits` hands-off after them. `still_waits` is for a done task whose wait is not
    over; `in_hand_by` is the person, counted from 1, who has begun it. Tasks of one `job` are kept together
    where that costs nothing.
    """

    key: str
    title: str
    minutes: int = 0
    waits: int = 0
    place: str = ""
    after: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()
    acts: tuple[str, ...] = ()
    hangs: tuple[str, ...] = ()
    lifts: tuple[str, ...] = ()
    barred: tuple[str, ...] = ()
    done: bool = False
    in_hand_by: int | None = None
    parts_missing: tuple[str, ...] = ()
    still_waits: int = 0
    job: str = ""

    @classmethod
    def of(
        cls,
        task: Task,
        tags: Mapping[str, TagKind],
        *,
        done: bool = False,
        in_hand_by: int | None = None,
        parts_missing: Iterable[str] = (),
        left_min: int | None = None,
        still_waits: int = 0,
    ) -> "PlanTask":
        """Return what the planner needs of a task.

        Parameters
        ----------
        task : Task
            As expanded.
        tags : mapping of str to TagKind
            The library's tags: which acts each bars.
        done : bool, optional
            It only leaves its states behind.
        in_hand_by : int, optional
            Person who has begun it, counted from 1.
        parts_missing : iterable of str, optional
            Parts it cannot be done without and that are not here.
        left_min : int, optional
            Hands-on time that is left, when some of it is done, [min]
        still_waits : int, optional
            What is left of the wait of a done task, [min]

        Examples
        --------
        >>> dry = {"sump dry": TagKind("sump dry", "No oil.", ("start",))}
        >>> PlanTask.of(Task("t:run", "t", "1", "Run it", "", acts=("start",)), dry).barred
        ('sump dry',)
        """
        by_act = (name for name, kind in tags.items() if set(kind.bars) & set(task.acts))
        barred = (name for name in dict.fromkeys((*task.barred, *by_act)) if name not in task.lifts)
        return cls(
            task.key,
            task.title,
            task.minutes if left_min is None else max(0, left_min),
            task.waits,
            task.place,
            task.after,
            task.needs,
            task.makes,
            task.acts,
            task.hangs,
            task.lifts,
            tuple(barred),
            done,
            in_hand_by,
            tuple(parts_missing),
            still_waits,
            task.template,
        )

    @property
    def turns(self) -> bool:
        """Whether the starter or the engine turns meanwhile."""
        return not _TURNING.isdisjoint(self.acts)

    @property
    def fires(self) -> bool:
        """Whether the engine runs, which keeps it warm."""
        return not _FIRING.isdisjoint(self.acts)

    @property
    def warms(self) -> bool:
        """Whether the engine is no longer cold afterwards."""
        return self.fires or WARM in self.makes

    @property
    def lifts_car(self) -> bool:
        """Whether it raises the car or lets it down."""
        return RAISED in self.makes or ON_WHEELS in self.makes

    @property
    def moves_car(self) -> bool:
        """Whether the car moves under the hands of anybody else who is at it."""
        return self.lifts_car or not _DRIVING.isdisjoint(self.acts)

    @property
    def shuns_running(self) -> bool:
        """Whether nobody can do it beside a running engine."""
        return not self.turns and (IGNITION_OFF in self.needs or self.place == UNDER or self.lifts_car)

    @property
    def hands_over(self) -> bool:
        """Whether the car leaves with it."""
        return HAND_OVER in self.acts

    @property
    def ends(self) -> frozenset[str]:
        """States that are no more once it has begun; a tag lifted takes the state of its name with it."""
        ended = {OPPOSITES[s] for s in self.makes if s in OPPOSITES} | set(self.lifts)
        if COLD in self.needs:  # the engine is cold when its turn comes, so it is warm no more
            ended.add(WARM)
        return frozenset(ended - set(self.makes))


@dataclass(frozen=True, slots=True)
class State:
    """The car as it stands before the first step: the states that hold and the tags that hang."""

    holds: frozenset[str] = frozenset({COLD, ON_WHEELS})
    tags: frozenset[str] = frozenset()

    def left_by(self, tasks: Iterable[PlanTask]) -> "State":
        """Return the state after the done ones among `tasks`, taken in the order listed.

        Examples
        --------
        >>> drain = PlanTask("drain", "Drain", makes=("car raised",), hangs=("sump dry",), done=True)
        >>> left = State().left_by([drain])
        >>> sorted(left.holds), sorted(left.tags)
        (['car raised', 'engine cold'], ['sump dry'])
        """
        holds, tags = self.holds, self.tags
        for task in tasks:
            if task.done:
                warmed = {COLD} if task.warms else set()
                holds = (holds - task.ends - warmed) | set(task.makes)
                tags = (tags - set(task.lifts)) | set(task.hangs)
        return State(holds, tags)


@dataclass(frozen=True, slots=True)
class Pin:
    """A person's own wish for a task: before another, at a place in the order, last, or by one person.

    `who` is the name of that person, for the reasons.

    Examples
    --------
    >>> Pin.before("drain", "points"), Pin.by("points", 2).number
    (Pin(kind='before', key='drain', other='points', number=0, who=''), 2)
    """

    kind: Literal["before", "place", "last", "by"]
    key: str
    other: str = ""
    number: int = 0
    who: str = ""

    @classmethod
    def before(cls, key: str, other: str) -> "Pin":
        """Do one before the other."""
        return cls("before", key, other)

    @classmethod
    def first(cls, key: str) -> "Pin":
        """Nothing is started before it, but for what is in hand."""
        return cls("place", key, number=1)

    @classmethod
    def place(cls, key: str, number: int) -> "Pin":
        """Start it as the first, second, third ... of what is not yet begun."""
        return cls("place", key, number=number)

    @classmethod
    def last(cls, key: str) -> "Pin":
        """Nothing is started after it."""
        return cls("last", key)

    @classmethod
    def by(cls, key: str, person: int, who: str = "") -> "Pin":
        """Have it done by that person, counted from 1."""
        return cls("by", key, number=person, who=who)
