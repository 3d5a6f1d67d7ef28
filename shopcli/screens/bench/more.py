"""What the bench does more rarely, behind one key: another tool for the task, and the shop's tools."""

from typing import TYPE_CHECKING

from shopcli.screens.dialogs import Choice
from shopcli.shop.views import TaskView
from shopcli.worklists.tools import OwnedTool

if TYPE_CHECKING:
    from shopcli.screens.bench.station import BenchScreen


async def more(bench: "BenchScreen", task: TaskView | None) -> None:
    """Ask which of them."""
    choices = [Choice("tool", "Tool", "say which tool is used for this task")] if task else []
    choices += [Choice("tools", "The shop's tools", "the register, with every calibration")]
    what = await bench.ask_pick("What else?", choices)
    if what == "tool" and task is not None:
        await choose_tool(bench, task)
    elif what == "tools":
        bench.desk_app.action_tools()


async def choose_tool(bench: "BenchScreen", task: TaskView) -> None:
    """Say which tool is used; what was read with it is noted with the reading."""
    owned = bench.seen.tools if bench.seen else ()
    if not owned:
        bench.refuse("The register of tools is empty. p, then 'The shop's tools' writes one down.")
        return
    choices = [Choice("", "The one that fits", "; ".join(a.text for a in bench.tools_of(task)))]
    choices += [Choice(t.name, t.name, _note(t)) for t in owned]
    name = await bench.ask_pick(f"Which tool: {task.task.title}?", choices)
    if name is None:
        return
    bench.tool_chosen[task.id] = name
    tool = next((t for t in owned if t.name == name), None)
    if tool is not None and tool.trouble:
        bench.refuse(f"{tool.name}: {tool.trouble}. It is noted with the reading.")
    bench.paint()


def _note(tool: OwnedTool) -> str:
    reads = tool.span.text() if tool.span else tool.blades
    return ", ".join(filter(None, (f"! {tool.trouble}" if tool.trouble else "", tool.kind, reads)))
