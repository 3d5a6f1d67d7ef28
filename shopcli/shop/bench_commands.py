"""What may be asked at the bench: readings, tasks, tags, what is owed, what was found."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class TakeReading(Command):
    """Record a reading as typed, judged by the limits frozen into the task."""

    rule: ClassVar[str] = "readings:take_reading"
    task_id: int
    slot: str
    typed: str
    tool: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class StrikeReading(Command):
    """Strike a reading that was wrong; it stays in the journal."""

    rule: ClassVar[str] = "readings:strike_reading"
    reading_id: int


@dataclass(frozen=True, slots=True)
class FinishTask(Command):
    """Say a task is done: hangs and lifts its tags, writes what it owes, redeems what was owed to it."""

    rule: ClassVar[str] = "tasks:finish_task"
    knows: ClassVar[bool] = True
    task_id: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class LeaveOut(Command):
    """Leave a task out, with a reason."""

    rule: ClassVar[str] = "tasks:leave_out"
    task_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class ReopenTask(Command):
    """Take back done or left out; tags and owed checks of the task are taken back with it."""

    rule: ClassVar[str] = "tasks:reopen_task"
    task_id: int
    reason: str = ""


@dataclass(frozen=True, slots=True)
class SecondCheck(Command):
    """A second person signs a task that wants a second pair of eyes."""

    rule: ClassVar[str] = "tasks:second_check"
    task_id: int


@dataclass(frozen=True, slots=True)
class NoteOnTask(Command):
    """Write a note on a task."""

    rule: ClassVar[str] = "tasks:note_on_task"
    task_id: int
    note: str
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class LiftTag(Command):
    """Lift a tag by hand, with a reason (a task normally lifts it)."""

    rule: ClassVar[str] = "tags:lift_tag"
    tag_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class SettleOwed(Command):
    """Say a promised check was done (``done``) or waive it (``waived``), with a reason."""

    rule: ClassVar[str] = "owed:settle_owed"
    owed_id: int
    state: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class AddFinding(Command):
    """Write down a fault seen and not mended. `wanted` names the job template that would mend it."""

    rule: ClassVar[str] = "findings:add_finding"
    knows: ClassVar[bool] = True
    card_id: int
    place: str
    what: str
    severity: str
    takes: str = ""
    task_id: int | None = None
    wanted: str = ""
    photo: str = ""


@dataclass(frozen=True, slots=True)
class SettleFinding(Command):
    """Say a finding was done, or declined by the customer; `said_by` when somebody else spoke for the owner."""

    rule: ClassVar[str] = "findings:settle_finding"
    finding_id: int
    state: str
    reason: str = ""
    said_by: str = ""
