"""What may be asked of the clock beyond on and off, and the one act that takes another back."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class ClockOn(Command):
    """Clock the acting person on a task; a clock running elsewhere stops at the same second."""

    rule: ClassVar[str] = "clock:clock_on"
    task_id: int


@dataclass(frozen=True, slots=True)
class ClockOff(Command):
    """Stop the acting person's clock."""

    rule: ClassVar[str] = "clock:clock_off"


@dataclass(frozen=True, slots=True)
class CorrectClock(Command):
    """Correct an entry, with a reason; times in seconds UTC. Without an end a running clock runs on."""

    rule: ClassVar[str] = "corrections:correct_clock"
    entry_id: int
    started_at: int
    ended_at: int | None
    reason: str
    task_id: int | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class GoOnBreak(Command):
    """Stop the acting person's clock for a break; the task is kept for afterwards."""

    rule: ClassVar[str] = "breaks:go_on_break"


@dataclass(frozen=True, slots=True)
class EndBreak(Command):
    """End the acting person's break and start their clock again on the task it was taken from."""

    rule: ClassVar[str] = "breaks:end_break"


@dataclass(frozen=True, slots=True)
class CorrectBreak(Command):
    """Correct a break, with a reason; times in seconds UTC."""

    rule: ClassVar[str] = "breaks:correct_break"
    break_id: int
    started_at: int
    ended_at: int
    reason: str
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class SplitClock(Command):
    """Split an entry at a moment (seconds UTC); the later part goes to another task when one is named."""

    rule: ClassVar[str] = "corrections:split_clock"
    entry_id: int
    at: int
    reason: str
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class AddClock(Command):
    """Add time that was forgotten, with a reason; without `person_id` the acting person's."""

    rule: ClassVar[str] = "corrections:add_clock"
    task_id: int
    started_at: int
    ended_at: int
    reason: str
    person_id: int | None = None


@dataclass(frozen=True, slots=True)
class WorkedUntil(Command):
    """Answer until when one was really on a task whose clock ran past the shop's hours.

    `until` in seconds UTC ends the entry there; None says that the whole of it was work so far.
    """

    rule: ClassVar[str] = "corrections:worked_until"
    entry_id: int
    until: int | None = None


@dataclass(frozen=True, slots=True)
class TakeBack(Command):
    """Take an act of today back; `act_id` is its row in the journal, the one that was shown."""

    rule: ClassVar[str] = "taking_back:take_back"
    act_id: int
