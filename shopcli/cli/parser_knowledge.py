"""The commands of what the shop knows: job templates, spec sheets, previews. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_knowledge(c: "Commands") -> None:
    """Add the commands of job templates and sheets."""
    c.add(
        "templates",
        "knowledge:templates",
        "check the library and print what it holds, and what of it is your own (status 1 on problems)",
        json=True,
    )
    new = c.add(
        "template-new",
        "own_templates:new",
        "begin a job template of your own: usable at once, explained in the file",
    )
    new.add_argument("name", nargs="?", default="", help="of the file; else made of the title")
    new.add_argument("--title", default="", help="as the card shows it")
    new.add_argument("--system", default="", help="like ignition, brakes, electrics")
    new.add_argument(
        "--task",
        dest="tasks",
        action="append",
        default=[],
        metavar="TITLE",
        help="a step (repeatable, in order)",
    )
    new.add_argument(
        "--like", default="", metavar="TEMPLATE", help="copy a job of the program, to have it your way"
    )
    new.add_argument(
        "--folder", default="", metavar="DIR", help="where to; else templates_folder in the settings"
    )
    check = c.add(
        "template-check",
        "own_templates:check",
        "check files or folders of your own: file, line, what to write instead (status 1 on problems)",
        json=True,
    )
    check.add_argument(
        "path", nargs="*", help="a file, a folder, or the name of a job of your own (else all of yours)"
    )
    c.add("sheets", "knowledge:sheets", "list the spec sheets", json=True)
    preview = c.add(
        "preview", "knowledge:preview", "expand a template for a vehicle or a sheet without opening a card"
    )
    preview.add_argument("template", nargs="+")
    which = preview.add_mutually_exclusive_group(required=True)
    which.add_argument("--vehicle", metavar="REG")
    which.add_argument("--sheet")
