"""What may be asked about days somebody was not here, as plain frozen data."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class NoteAbsence(Command):
    """Note that somebody is or was not here, from one ISO day to another; `minutes` of each, None for whole days."""

    rule: ClassVar[str] = "absences:note_absence"
    person_id: int
    first: str
    last: str = ""
    minutes: int | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class WithdrawAbsence(Command):
    """Say that an absence was none."""

    rule: ClassVar[str] = "absences:withdraw_absence"
    absence_id: int
