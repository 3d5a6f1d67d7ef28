"""What the bench does more rarely, behind one key: another tool, photos, the bench sheet, the shop's tools."""

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

from shopcli.screens.bench.numberwords import preferences
from shopcli.screens.bench.photographing import add_photo
from shopcli.screens.dialogs import Choice
from shopcli.shop.views import TaskView
from shopcli.worklists.tools import OwnedTool

if TYPE_CHECKING:
    from shopcli.screens.bench.station import BenchScreen


async def more(bench: "BenchScreen", task: TaskView | None) -> None:
    """Ask which of them."""
    choices = [Choice("tool", "Tool", "say which tool is used for this task")] if task else []
    choices += (
        [
            Choice("photo", "Photo", "add one: of this task, of a finding, of the car"),
            Choice("photos", "Photos of the card", "look at them"),
        ]
        if bench.view
        else []
    )
    choices += [Choice("sheet", "Bench sheet", "to hang on the car: PDF or text")] if bench.view else []
    choices += [Choice("tools", "The shop's tools", "the register, with every calibration")]
    what = await bench.ask_pick("What else?", choices)
    if what == "tool" and task is not None:
        await choose_tool(bench, task)
    elif what == "photo":
        await add_photo(bench, task)
    elif what == "photos" and bench.view is not None:
        from shopcli.screens.photos import PhotosScreen

        bench.app.push_screen(PhotosScreen(bench.view.id, bench.view.number))
    elif what == "sheet" and bench.view is not None:
        await bench_sheet(bench, bench.view.id, bench.view.number)
    elif what == "tools":
        bench.desk_app.action_tools()


async def bench_sheet(bench: "BenchScreen", card_id: int, number: str) -> None:
    """Write the bench sheet to a file: as PDF to print, or as text."""
    from shopcli.papers.filing import paper_name
    from shopcli.screens.saving import ask_where

    choices = [Choice("pdf", "PDF", "to print"), Choice("txt", "Text", "80 columns")]
    kind = await bench.ask_pick("The bench sheet as what?", choices)
    if kind is None:
        return
    if bench.app.is_web:
        bench.hand_out(lambda: (paper_name(number, f".{kind}", "bench-sheet"), _sheet(bench, card_id, kind)))
        return
    where = await ask_where(bench, number, f".{kind}", "bench-sheet")
    if where is not None:
        path = await asyncio.to_thread(_write_sheet, bench, card_id, kind, where)
        bench.tell(f"Written: {path}")


def _write_sheet(bench: "BenchScreen", card_id: int, kind: str, path: Path) -> Path:
    from shopcli.papers.filing import write_new

    return write_new(path, _sheet(bench, card_id, kind))


def _sheet(bench: "BenchScreen", card_id: int, kind: str) -> str | bytes:
    from shopcli.papers.sheet import sheet_file

    app = bench.desk_app
    return sheet_file(app.shop, card_id, kind, preferences(app.who.units))


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
