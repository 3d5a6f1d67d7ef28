"""The tool for the number in hand, in one line beneath it; one past its calibration says so before it is used."""

from collections.abc import Sequence

from shopcli.columns import shown
from shopcli.screens.widgets.lines import Line, wrapped
from shopcli.units import Preferences
from shopcli.worklists.model import ReadingSlot, Task
from shopcli.worklists.tool_choice import Advice, advice, named, tool_for
from shopcli.worklists.tools import OwnedTool


def chosen_advice(
    task: Task, owned: tuple[OwnedTool, ...], prefs: Preferences, chosen: str = ""
) -> tuple[Advice, ...]:
    """Return the tools to name for a task: the one somebody chose, else those its numbers call for."""
    tool = next((t for t in owned if t.name == chosen), None)
    if tool is not None:
        return (named(tool),)
    return advice(task, owned, prefs)


def reading_tool(
    task: Task, slot: ReadingSlot, owned: tuple[OwnedTool, ...], prefs: Preferences, chosen: str = ""
) -> str:
    """Return the name of the tool to note with a reading, empty where none is known."""
    if any(t.name == chosen for t in owned):
        return chosen
    found = tool_for(task, slot, owned, prefs)
    return found.tool if found else ""


def tool_lines(told: Sequence[Advice], width: int) -> list[Line]:
    """Return the tools of a task, those with something against them marked and last."""
    sound = [shown(a.text) for a in told if not a.trouble]
    late = [f"! {shown(a.text)}: {shown(a.trouble)}" for a in told if a.trouble]
    lines = wrapped("Tool: " + " · ".join(sound), width, "", rest="  ") if sound else []
    return lines + [line for text in late for line in wrapped(text, width, "$text-warning", rest="  ")]
