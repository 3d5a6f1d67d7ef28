"""What the register asks about a tool: one thing at a time, each checked while it stands in its field; Esc keeps nothing."""

import re
from datetime import date
from typing import TYPE_CHECKING

from shopcli.errors import BadInput
from shopcli.present import day_long
from shopcli.screens.desk.looking import today
from shopcli.screens.dialogs import Choice
from shopcli.shop.seen import over
from shopcli.shop.tool_commands import AddTool, ChangeTool, NoteCalibration, RetireTool
from shopcli.worklists.tools import FEELERS, TOOL_KINDS, WRENCH, OwnedTool, ToolKind, read_blades, read_span

if TYPE_CHECKING:
    from shopcli.screens.desk.tools import ToolsScreen

ANY_STEP = "0.001"  # the range is looked at before the step is asked
_DAY = re.compile(r"(\d{1,2})\s*[./]\s*(\d{1,2})\s*[./]\s*(\d{4})")


def read_day_done(text: str, today: date) -> date | None:
    """Return the day something was done, None when nothing is typed.

    Raises
    ------
    BadInput
        If it is no date, or still to come.

    Examples
    --------
    >>> today = date(2026, 11, 25)
    >>> [str(read_day_done(t, today)) for t in ("2026-03-04", "4.3.2026", "4/3/2026", "today")]
    ['2026-03-04', '2026-03-04', '2026-03-04', '2026-11-25']
    """
    said = " ".join(text.casefold().split())
    if said in {"", "today"}:
        return today if said else None
    found = _DAY.fullmatch(said)
    try:
        day = date(int(found[3]), int(found[2]), int(found[1])) if found else date.fromisoformat(said)
    except ValueError as error:
        raise BadInput(
            f"'{said[:24]}' is not a date", hint="Write it like 2026-12-04 or 4.12.2026."
        ) from error
    if day > today:
        raise BadInput(f"{day_long(day)} is still to come", hint="Write the day it was done.")
    return day


async def _reads(
    screen: "ToolsScreen", kind: ToolKind, span: str = "", step: str = ""
) -> tuple[str, str] | None:
    """Ask for range and graduation; the graduation only where a range is typed."""
    must = kind.name == WRENCH
    asked = await screen.ask_text(
        "From where to where does it read?",
        value=span,
        placeholder="20 to 100 Nm",
        note="" if must else "As printed on it; it may stay empty.",
        check=lambda text: read_span(text, kind, ANY_STEP),
        allow_empty=not must,
    )
    if not asked:
        return None if asked is None else ("", "")
    graduation = await screen.ask_text(
        "What is the smallest step of its scale?",
        value=step,
        placeholder="0.5",
        note="" if must else "It may stay empty.",
        check=lambda text: read_span(asked, kind, text),
        allow_empty=not must,
    )
    return None if graduation is None else (asked, graduation)


async def _when(screen: "ToolsScreen", question: str, *, empty: bool) -> str | None:
    now = today(screen.desk_app.shop)

    def understood(text: str) -> str:
        return day_long(day) if (day := read_day_done(text, now)) else "none noted"

    said = await screen.ask_text(
        question,
        placeholder="2026-03-04, 4.3.2026, today",
        note="It may stay empty." if empty else "",
        check=lambda text: read_day_done(text, now),
        understood=understood,
        allow_empty=empty,
    )
    if said is None:
        return None
    done = read_day_done(said, now)
    return done.isoformat() if done else ""


async def ask_new(screen: "ToolsScreen") -> None:
    """Ask for a new tool: what it is, its name, what it reads, when it was calibrated."""
    choices = [Choice(name, name, ", ".join(kind.quantities)) for name, kind in TOOL_KINDS.items()]
    picked = await screen.ask_pick("What kind of tool is it?", choices)
    if picked is None:
        return
    kind = TOOL_KINDS[picked]
    name = await screen.ask_text(
        "What is written on it?", placeholder="wrench 2", note="Each tool has a name of its own."
    )
    if name is None:
        return
    span, blades = ("", ""), ""
    if kind.name == FEELERS:
        typed = await _blades(screen)
        if typed is None:
            return
        blades = typed
    else:
        reads = await _reads(screen, kind)
        if reads is None:
            return
        span = reads
    on = await _when(screen, "When was it calibrated last?", empty=True)
    if on is not None:
        screen.carry_out(AddTool(name, kind.name, *span, blades, on))


async def _blades(screen: "ToolsScreen", value: str = "") -> str | None:
    return await screen.ask_text(
        "Which blades are in the set?",
        value=value,
        placeholder="2 3 4 5 6 8 10 thou; 0.05 0.10 mm",
        check=read_blades,
    )


async def ask_change(screen: "ToolsScreen", tool: OwnedTool) -> None:
    """Ask what is to be changed, with what it is now."""
    kind = TOOL_KINDS[tool.kind]
    reads = tool.span.text() if tool.span else "nothing noted"
    choices = [Choice("name", "Name", tool.name)]
    choices += (
        [Choice("blades", "Blades", tool.blades)]
        if kind.name == FEELERS
        else [Choice("span", "Range and graduation", reads)]
    )
    choices += [Choice("cycles", "Cycles", str(tool.cycles))] if kind.name == WRENCH else []
    choices += [Choice("note", "Note", tool.note or "nothing written")]
    what = await screen.ask_pick(f"What changes: {tool.name}?", choices)
    command = await _changed(screen, tool, kind, what) if what else None
    if command is not None:
        screen.carry_out(command)


async def _changed(screen: "ToolsScreen", tool: OwnedTool, kind: ToolKind, what: str) -> ChangeTool | None:
    if what == "span":
        span = tool.span
        told, step = (span.typed(), span.step()) if span else ("", "")
        reads = await _reads(screen, kind, told, step)
        return (
            over(tool, ChangeTool(tool.id, tool.version, span=reads[0], graduation=reads[1]))
            if reads
            else None
        )
    if what == "blades":
        blades = await _blades(screen, tool.blades)
        return None if blades is None else over(tool, ChangeTool(tool.id, tool.version, blades=blades))
    if what == "cycles":
        count = await screen.ask_text("How many cycles before the register counted?", check=_count)
        return None if count is None else over(tool, ChangeTool(tool.id, tool.version, cycles=_count(count)))
    if what == "name":
        name = await screen.ask_text("What is written on it?", value=tool.name)
        return None if name is None else over(tool, ChangeTool(tool.id, tool.version, name=name))
    note = await screen.ask_text("Note", value=tool.note, allow_empty=True)
    return None if note is None else over(tool, ChangeTool(tool.id, tool.version, note=note))


def _count(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= len("5000000")):
        raise BadInput(f"'{text[:20]}' is not a count", hint="A whole number, like 1200.")
    return int(text)


async def ask_calibration(screen: "ToolsScreen", tool: OwnedTool) -> None:
    """Ask when it was calibrated and by which certificate."""
    on = await _when(screen, f"When was {tool.name} calibrated?", empty=False)
    if not on:
        return
    certificate = await screen.ask_text("Which certificate?", note="It may stay empty.", allow_empty=True)
    if certificate is not None:
        screen.carry_out(NoteCalibration(tool.id, on, certificate))


async def ask_retire(screen: "ToolsScreen", tool: OwnedTool) -> None:
    """Ask why it goes out of use."""
    reason = await screen.ask_text(f"Why does {tool.name} go out of use?", placeholder="in a few words")
    if reason is not None:
        screen.carry_out(RetireTool(tool.id, reason))
