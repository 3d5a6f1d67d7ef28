"""The register of measuring tools: what each reads, and when it was calibrated last.

A tool past its calibration is never refused, because a reading with it may be better than none; it is said before
and noted with the reading.
"""

from datetime import UTC, date, datetime, time

from sqlmodel import Session, func, select

from shopcli.cleantext import clean_line, clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.parts import iso_date
from shopcli.shop.records import Reading, Tool
from shopcli.shop.tool_commands import AddTool, ChangeTool, NoteCalibration, RetireTool
from shopcli.worklists.tools import (
    FEELERS,
    WRENCH,
    ToolKind,
    blades_text,
    due_of,
    kind_named,
    read_blades,
    read_span,
    trouble_of,
)

MOST_CYCLES = 10_000_000
NAME_MOST = 40


def _name(session: Session, text: str, own: int | None = None) -> str:
    name = required_line(text, name="tool's name", limit=NAME_MOST)
    for other in session.exec(select(Tool)):
        if other.id != own and other.name.casefold() == name.casefold():
            raise Refused(
                f"a tool is called '{other.name}' already", hint="Give each its own name, as written on it."
            )
    return name


def _cycles(count: int) -> int:
    if not 0 <= count <= MOST_CYCLES:
        raise BadInput(f"{count} cycles", hint="A whole number, 0 or more.")
    return count


def _calibrated(act: Act, text: str) -> str:
    on = iso_date(clean_line(text, limit=20), "date of the calibration")
    if on and date.fromisoformat(on) > act.today():
        raise BadInput(f"a calibration on {on} is still to come", hint="Write the day it was done.")
    return on


def _set_span(tool: Tool, kind: ToolKind, span: str, graduation: str) -> None:
    read = read_span(span, kind, graduation)
    tool.low, tool.high = (read.low, read.high) if read else (None, None)
    tool.unit, tool.graduation = (read.unit, read.graduation) if read else ("", None)


def _blades(kind: ToolKind, text: str) -> str:
    if kind.name == FEELERS:
        return blades_text(*read_blades(text))
    if text.strip():
        raise BadInput(f"a {kind.name} has no blades", hint="Blades belong to a feeler set.")
    return ""


def add_tool(session: Session, act: Act, cmd: AddTool) -> Change:
    """Write a tool into the register.

    Raises
    ------
    BadInput
        When range, graduation, blades or date cannot be read; a torque wrench needs range and graduation.
    Refused
        When another tool has that name.
    """
    kind = kind_named(cmd.kind)
    tool = Tool(
        name=_name(session, cmd.name),
        kind=kind.name,
        blades=_blades(kind, cmd.blades),
        calibrated=_calibrated(act, cmd.calibrated),
        certificate=clean_line(cmd.certificate, name="certificate", limit=80),
        cycles=_cycles(cmd.cycles),
        note=clean_note(cmd.note, limit=400),
    )
    _set_span(tool, kind, cmd.span, cmd.graduation)
    key = key_of(saved(session, tool))
    late = trouble(session, act, tool)
    return Change(
        "tool", key, said=(f"{tool.name} is in the register.", *((f"{tool.name}: {late}.",) if late else ()))
    )


def _in_use(session: Session, tool_id: int) -> Tool:
    tool = get(session, Tool, tool_id, "tool")
    if tool.retired_at is not None:
        raise Refused(
            f"{tool.name} is out of use: {tool.retired_for}", hint="Write a new tool into the register."
        )
    return tool


def _kept(tool: Tool) -> dict[str, object]:
    return tool.model_dump(exclude={"id", "version", "retired_at", "retired_for"})


def change_tool(session: Session, act: Act, cmd: ChangeTool) -> Change:
    """Change what the register says of a tool."""
    tool = _in_use(session, cmd.tool_id)
    before, kind, what = _kept(tool), kind_named(tool.kind), tool.name
    if cmd.name is not None:
        tool.name = _name(session, cmd.name, tool.id)
    if cmd.span is not None or cmd.graduation is not None:
        span = cmd.span if cmd.span is not None else _span_text(tool)
        step = (
            cmd.graduation
            if cmd.graduation is not None
            else ""
            if tool.graduation is None
            else f"{tool.graduation:g}"
        )
        _set_span(tool, kind, span, step)
    if cmd.blades is not None:
        tool.blades = _blades(kind, cmd.blades)
    if cmd.cycles is not None:
        tool.cycles = _cycles(cmd.cycles)
    if cmd.note is not None:
        tool.note = clean_note(cmd.note, limit=400)
    settle(session, act, cmd, tool, before, subject="tool", what=what)
    session.add(tool)
    return Change("tool", cmd.tool_id, before=before, after=_kept(tool), said=(f"{tool.name} changed.",))


def _span_text(tool: Tool) -> str:
    return "" if tool.low is None or tool.high is None else f"{tool.low:g} to {tool.high:g} {tool.unit}"


def note_calibration(session: Session, act: Act, cmd: NoteCalibration) -> Change:
    """Note a calibration; the cycles begin anew."""
    tool = _in_use(session, cmd.tool_id)
    on = _calibrated(act, cmd.on)
    if not on:
        raise BadInput("the day of the calibration is missing", hint="Write it like 2026-12-04.")
    before = _kept(tool)
    tool.calibrated, tool.cycles = on, 0
    tool.certificate = clean_line(cmd.certificate, name="certificate", limit=80)
    session.add(tool)
    due = due_of(date.fromisoformat(on), act.settings.tool_months)
    return Change(
        "tool",
        cmd.tool_id,
        before=before,
        after=_kept(tool),
        said=(f"{tool.name}: calibrated {on}, due again {due}.",),
    )


def retire_tool(session: Session, act: Act, cmd: RetireTool) -> Change:
    """Take a tool out of use."""
    tool = _in_use(session, cmd.tool_id)
    tool.retired_for = reason_given(cmd.reason, "taking a tool out of use")
    tool.retired_at = act.at
    session.add(tool)
    return Change("tool", cmd.tool_id, said=(f"{tool.name} is out of use.",))


# With a reading ---------------------------------------------------------------------------------------


def cycles_of(session: Session, act: Act, tool: Tool) -> int:
    """Return the cycles of a torque wrench since its calibration: those noted and the readings taken with it."""
    if tool.kind != WRENCH:
        return 0
    since = 0
    if tool.calibrated:
        day = datetime.combine(date.fromisoformat(tool.calibrated), time(), act.settings.tz())
        since = int(day.astimezone(UTC).timestamp())
    count = select(func.count()).select_from(Reading).where(Reading.tool_id == tool.id, Reading.at >= since)
    return tool.cycles + session.exec(count).one()


def trouble(session: Session, act: Act, tool: Tool) -> str:
    """Say why a tool should not be used today, empty where nothing is known against it."""
    on = date.fromisoformat(tool.calibrated) if tool.calibrated else None
    settings = act.settings
    cycles = cycles_of(session, act, tool)
    return trouble_of(tool.kind, on, cycles, act.today(), settings.tool_months, settings.tool_cycles)


def used(session: Session, act: Act, name: str) -> tuple[str, int | None, str]:
    """Return (name, id, what is against it) of the tool a reading was taken with; a tool not registered is only named."""
    text = clean_line(name, name="tool", limit=80)
    for tool in session.exec(select(Tool).where(Tool.retired_at == None)) if text else ():  # noqa: E711
        if tool.name.casefold() == text.casefold():
            return tool.name, tool.id, trouble(session, act, tool)
    return text, None, ""
