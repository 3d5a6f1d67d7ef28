"""The commands of what lies on the bench: tools, photos, the sheet that hangs on the car. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from argparse import ArgumentParser

    from shopcli.cli.parser import Commands

PART_HELP = "beginning of the part's name, or its number"
TOOL_HELP = "the tool's name, or its beginning"


def add_tools(c: "Commands", task_help: str) -> None:
    """Add the commands of the register of tools."""
    every = c.add(
        "tools", "tools:tools", "list the measuring tools (status 1 when a calibration is out)", json=True
    )
    every.add_argument("--all", action="store_true", help="those out of use too")
    add = c.add("tool-add", "tools:add", "write a measuring tool into the register")
    add.add_argument("name", help="as written on it, like 'wrench 2'")
    add.add_argument("kind", help="like 'torque wrench', 'feeler set', 'tyre gauge'")
    _printed(add, "")
    add.add_argument("--calibrated", default="", metavar="DATE", help="like 2026-12-04")
    add.add_argument("--certificate", default="")
    add.add_argument("--cycles", type=int, default=0, help="pulled since then, before the register counted")
    add.add_argument("--note", default="")
    change = c.add("tool-change", "tools:change", "change what the register says of a tool")
    change.add_argument("name", help=TOOL_HELP)
    change.add_argument("--rename", metavar="NAME")
    _printed(change, None)
    change.add_argument("--cycles", type=int)
    change.add_argument("--note")
    noted = c.add(
        "tool-calibrated", "tools:calibrated", "note that a tool was calibrated; its cycles begin anew"
    )
    noted.add_argument("name", help=TOOL_HELP)
    noted.add_argument("on", metavar="DATE", help="like 2026-12-04")
    noted.add_argument("--certificate", default="")
    retire = c.add("tool-retire", "tools:retire", "take a tool out of use, with a reason")
    retire.add_argument("name", help=TOOL_HELP)
    retire.add_argument("reason")
    fits = c.add(
        "tool-for", "tools:tool_for", "say which tool a task calls for, and what to set or stack", card=True
    )
    fits.add_argument("task", help=task_help)


def add_parts(c: "Commands", task_help: str) -> None:
    """Add the commands of parts at the task and of the stock."""
    short = c.add(
        "order-short", "fitting:order_short", "put what a card is short of on the order list", card=True
    )
    short.add_argument("--task", default="", help=task_help)
    put = c.add("put", "fitting:put", "give a card or a task a part by its number", card=True)
    put.add_argument("number", help="the part's number, as on its label")
    put.add_argument("--task", default="", help=task_help)
    c.add("arrived", "fitting:arrived", "say a part on order is here", card=True).add_argument(
        "part", help=PART_HELP
    )
    back = c.add("returned", "fitting:returned", "say a fitted part came off and goes back", card=True)
    back.add_argument("part", help=PART_HELP)
    unit = c.add("old-unit", "fitting:old_unit", "say the old unit of an exchange went back", card=True)
    unit.add_argument("part", help=PART_HELP)
    unit.add_argument("--not-back", action="store_true", help="it did not: the surcharge is owed")
    instead = c.add("instead", "fitting:instead", "fit another part in place of one of the card", card=True)
    instead.add_argument("part", help=f"the one it stands for: {PART_HELP}")
    instead.add_argument("reason")
    instead.add_argument("--number", default="", help="the other part's number in the stock")
    instead.add_argument("--what", default="", help="what it is, where it is not from stock")
    instead.add_argument("--price", default="", help="for one, before tax, where it is not from stock")
    instead.add_argument("--task", default="", help=task_help)
    instead.add_argument("--serial", default="", help="its serial number")
    add = c.add("part-add", "fitting:add", "write a part into the stock")
    add.add_argument("number")
    add.add_argument("name")
    add.add_argument("cost", help="for one, like 5.90")
    _stocked(add, {"stock": "0", "reorder": "0", "surcharge": "0", "bin": "", "supplier": "", "pack": "1"})
    add.add_argument("--unit", default="pc")
    change = c.add("part-change", "fitting:change", "change what is known of a stocked part, or count it")
    change.add_argument("number")
    change.add_argument("--name")
    change.add_argument("--cost")
    _stocked(change, {})


def _stocked(parser: "ArgumentParser", defaults: dict[str, str]) -> None:
    for name, text in (
        ("price", "for one, before tax; else the shop's markup"),
        ("stock", "how many are there, counted"),
        ("reorder", "order again at so many"),
        ("surcharge", "of an exchange, until the old unit is back"),
        ("bin", "where it lies"),
        ("supplier", "who it is bought from"),
        ("pack", "how many come in a pack"),
    ):
        parser.add_argument(f"--{name}", default=defaults.get(name), help=text)
    parser.add_argument(
        "--serial", choices=("yes", "no"), help="whether it wants its serial number when fitted"
    )


def add_photos(c: "Commands", task_help: str) -> None:
    """Add the commands of photos."""
    c.add("photos", "photos:photos", "list the photos of a card, with where they lie", json=True, card=True)
    add = c.add("photo", "photos:photo", "keep a photo with a card, a task or a finding", card=True)
    add.add_argument(
        "file", nargs="?", default="", help="its path; left out: the newest of the watched folder"
    )
    add.add_argument("--task", default="", help=task_help)
    add.add_argument("--finding", default="", help="beginning of what was seen")
    add.add_argument("--caption", default="")
    off = c.add(
        "photo-remove",
        "photos:remove",
        "take a photo off a card; the file stays in the shop's folder until somebody deletes it",
        card=True,
    )
    off.add_argument("file", help="its name, or the beginning of it, from: shopcli photos")
    off.add_argument("reason")


def add_sheet(c: "Commands") -> None:
    """Add the commands of the sheet that hangs on the car, and of the codes that are scanned."""
    sheet = c.add(
        "bench-sheet",
        "sheet:bench_sheet",
        "print the sheet of a card to hang on the car, or write it",
        card=True,
    )
    sheet.add_argument("--pdf", metavar="FILE", help="write it as PDF")
    sheet.add_argument("--out", metavar="FILE", help="write the text to a file")
    sheet.add_argument("--ascii", action="store_true", help="only plain characters")
    code = c.add("code", "sheet:code", "print the square that is scanned, of a card or of a part")
    code.add_argument("number", help="a card number, like J00012 or 12")
    code.add_argument("--part", action="store_true", help="it is a part number")
    code.add_argument("--svg", metavar="FILE", help="write it as a picture for a label")
    code.add_argument("--ascii", action="store_true", help="only plain characters")


def _printed(parser: "ArgumentParser", default: str | None) -> None:
    parser.add_argument("--range", default=default, help="as printed on it, like '20 to 100 Nm'")
    parser.add_argument("--graduation", default=default, help="smallest step of its scale, like 0.5")
    parser.add_argument("--blades", default=default, help="of a feeler set, like '2 3 4 thou; 0.05 mm'")
