"""Commands of the register of measuring tools."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, clean, print_json, shop_of, table, task_of, who
from shopcli.shop.seen import over
from shopcli.shop.tool_commands import AddTool, ChangeTool, NoteCalibration, RetireTool
from shopcli.store.reads.tools import tool_named
from shopcli.store.reads.tools import tools as read_tools
from shopcli.worklists.tools import OwnedTool


def reads_words(tool: OwnedTool) -> str:
    """Say what a tool reads: its range and step, or its blades."""
    step = f" by {tool.span.step()}" if tool.span and tool.span.step() else ""
    return f"{tool.span.text()}{step}" if tool.span else tool.blades or "-"


def tools(args: Namespace) -> int:
    """List the register; status 1 when a tool in use is past its calibration."""
    shop = shop_of(args)
    found = read_tools(shop, retired=args.all)
    if args.json:
        print_json(found)
    else:
        rows = [
            (t.name, t.kind, reads_words(t), t.calibrated or "-", t.due or "-", t.cycles or "-", _standing(t))
            for t in found
        ]
        head = ("name", "kind", "reads", "calibrated", "due", "cycles", "")
        print(table(head, rows, right=(5,)) if rows else "The register of tools is empty.")
    return 1 if any(t.trouble and not t.retired_for for t in found) else 0


def _standing(tool: OwnedTool) -> str:
    return (
        f"out of use: {tool.retired_for}"
        if tool.retired_for
        else f"! {tool.trouble}"
        if tool.trouble
        else "in date"
    )


def add(args: Namespace) -> int:
    """Write a tool into the register."""
    act(
        args,
        AddTool(
            args.name,
            args.kind,
            args.range,
            args.graduation,
            args.blades,
            args.calibrated,
            args.certificate,
            args.cycles,
            args.note,
        ),
    )
    return 0


def change(args: Namespace) -> int:
    """Change what the register says of a tool."""
    shop = shop_of(args)
    tool = tool_named(shop, args.name)
    command = over(
        tool,
        ChangeTool(
            tool.id,
            tool.version,
            args.rename,
            args.range,
            args.graduation,
            args.blades,
            args.cycles,
            args.note,
        ),
    )
    act(args, command, shop)
    return 0


def calibrated(args: Namespace) -> int:
    """Note a calibration."""
    shop = shop_of(args)
    act(args, NoteCalibration(tool_named(shop, args.name).id, args.on, args.certificate), shop)
    return 0


def retire(args: Namespace) -> int:
    """Take a tool out of use."""
    shop = shop_of(args)
    act(args, RetireTool(tool_named(shop, args.name).id, args.reason), shop)
    return 0


def tool_for(args: Namespace) -> int:
    """Say which tools a task calls for; status 1 when something is against one of them."""
    from shopcli.units import IMPERIAL, METRIC
    from shopcli.worklists.tool_choice import advice

    shop = shop_of(args)
    task = task_of(card_of(shop, args), args.task)
    prefs = IMPERIAL if who(shop, args).units == "imperial" else METRIC
    found = advice(task.task, read_tools(shop), prefs)
    for one in found:
        print(clean(f"{one.text}{f' ! {one.trouble}' if one.trouble else ''}"))
    if not found:
        print("The numbers of this task call for no tool of the register.")
    return 1 if any(one.trouble for one in found) else 0
