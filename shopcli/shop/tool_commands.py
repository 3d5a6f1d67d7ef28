"""What may be asked of the register of measuring tools."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class AddTool(Command):
    """Write a measuring tool into the register.

    `span` and `graduation` are typed as printed on it (``20 to 100 Nm``, ``0.5``), `blades` those of a feeler set
    (``2 3 4 thou; 0.05 mm``); `calibrated` is an ISO date, `cycles` those pulled since.
    """

    rule: ClassVar[str] = "tools:add_tool"
    name: str
    kind: str
    span: str = ""
    graduation: str = ""
    blades: str = ""
    calibrated: str = ""
    certificate: str = ""
    cycles: int = 0
    note: str = ""


@dataclass(frozen=True, slots=True)
class ChangeTool(Command):
    """Change what the register says of a tool; fields left None stay."""

    rule: ClassVar[str] = "tools:change_tool"
    tool_id: int
    version: int
    name: str | None = None
    span: str | None = None
    graduation: str | None = None
    blades: str | None = None
    cycles: int | None = None
    note: str | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class NoteCalibration(Command):
    """Note that a tool was calibrated: on which day, and the certificate; its cycles begin anew."""

    rule: ClassVar[str] = "tools:note_calibration"
    tool_id: int
    on: str
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class RetireTool(Command):
    """Take a tool out of use, with a reason; readings taken with it keep its name."""

    rule: ClassVar[str] = "tools:retire_tool"
    tool_id: int
    reason: str
