"""The command set, in our own words. Only argparse is imported here: asking for help must not wait for anything."""

import argparse
from collections.abc import Callable, Sequence

from shopcli import __version__
from shopcli.cli.parser_bench import add_parts, add_photos, add_sheet, add_tools
from shopcli.cli.parser_clock import add_clock, add_looking_back
from shopcli.cli.parser_knowledge import add_knowledge
from shopcli.cli.parser_order import add_order
from shopcli.cli.parser_sheets import add_sheets

Sub = "argparse._SubParsersAction[argparse.ArgumentParser]"
APPLICATION = "start:application"
TASK_HELP = "a task: its number in the list, or the beginning of its title or key"


def _common() -> argparse.ArgumentParser:
    common = argparse.ArgumentParser(add_help=False, exit_on_error=False)
    group = common.add_argument_group("where and who")
    group.add_argument(
        "--db", metavar="FILE|URL", default=argparse.SUPPRESS, help="the shop's records (or SHOPCLI_DB)"
    )
    group.add_argument(
        "--settings",
        metavar="FILE",
        default=argparse.SUPPRESS,
        help="the shop's settings (or SHOPCLI_SETTINGS)",
    )
    group.add_argument("--by", metavar="NAME", default=argparse.SUPPRESS, help="who acts (or SHOPCLI_BY)")
    return common


class Commands:
    """Adds commands that share the options of where and who."""

    def __init__(self, sub: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
        self._sub = sub
        self._common = _common()

    def add(
        self, name: str, handler: str, text: str, *, json: bool = False, card: bool = False
    ) -> argparse.ArgumentParser:
        """Add a command; `card` asks for a card number first, `json` offers data out."""
        parser = self._sub.add_parser(name, help=text, description=text, parents=[self._common])
        parser.set_defaults(handler=handler)
        if card:
            parser.add_argument("card", help="card number, like J00012 or 12")
        if json:
            parser.add_argument("--json", action="store_true", help="print data as JSON")
        return parser

    def verb(
        self,
        verbs: "argparse._SubParsersAction[argparse.ArgumentParser]",
        name: str,
        handler: str,
        text: str,
        *,
        json: bool = False,
    ) -> argparse.ArgumentParser:
        """Add one of the verbs of a command that has several."""
        parser = verbs.add_parser(name, help=text, description=text, parents=[self._common])
        parser.set_defaults(handler=handler)
        if json:
            parser.add_argument("--json", action="store_true", help="print data as JSON")
        return parser


def parse(argv: Sequence[str] | None = None) -> argparse.Namespace:
    """Return what was asked. Where no command is named none is drawn up: the application starts sooner without."""
    try:
        args, rest = _common().parse_known_args(argv)
    except argparse.ArgumentError:
        rest = ["said in full below"]
    if rest:
        return build_parser().parse_args(argv)
    args.handler = APPLICATION
    return args


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of all commands."""
    parser = argparse.ArgumentParser(
        prog="shopcli",
        description="Job cards for a small classic-car shop. Without a command the terminal application starts.",
        parents=[_common()],
    )
    parser.add_argument("--version", action="version", version=f"shopcli {__version__}")
    parser.set_defaults(handler=APPLICATION)
    commands = Commands(parser.add_subparsers(title="commands", metavar="COMMAND"))
    adders: tuple[Callable[[Commands], None], ...] = (
        _start,
        _looking,
        _intake,
        _bench,
        _parts,
        _closing,
        add_knowledge,
        _sums,
    )
    for add in adders:
        add(commands)
    add_order(commands, TASK_HELP)
    add_tools(commands, TASK_HELP)
    add_parts(commands, TASK_HELP)
    add_photos(commands, TASK_HELP)
    add_sheet(commands)
    add_sheets(commands)
    add_clock(commands, TASK_HELP)
    add_looking_back(commands)
    return parser


def _start(c: Commands) -> None:
    demo = c.add("demo", "start:demo", "start on a fresh invented shop made from the sample data")
    demo.add_argument(
        "--plain", action="store_true", help="no terminal: print open jobs, a work list and a summary"
    )
    demo.add_argument("--keep", metavar="FILE", help="keep the demo's records in this file")
    c.add(
        "keys",
        "keys:keys",
        "list what every key does, and check the settings' own choice (status 1 when one is refused)",
        json=True,
    )


def _looking(c: Commands) -> None:
    c.add(
        "list", "looking:list_cards", "list the open cards per customer and vehicle", json=True
    ).add_argument("text", nargs="*", help="narrow by registration, name, card number or job")
    c.add(
        "show",
        "looking:show",
        "show one card: its work list with the vehicle's numbers",
        json=True,
        card=True,
    )
    summary = c.add(
        "summary", "looking:summary", "print the invoice-ready summary of a card", json=True, card=True
    )
    summary.add_argument("--html", action="store_true", help="as HTML instead of text")
    summary.add_argument("--out", metavar="FILE", help="write it to a file")
    c.add("people", "looking:people", "list who works here and whose clock runs", json=True)
    c.add(
        "customers", "looking:customers", "find customers by name, phone or registration", json=True
    ).add_argument("text", nargs="*")
    c.add(
        "vehicles", "looking:vehicles", "find vehicles; shows findings and owed checks", json=True
    ).add_argument("text", nargs="*")
    week = c.add("week", "looking:week", "print the weeks: opened, closed, hours clocked and sold", json=True)
    week.add_argument("--weeks", type=int, default=13, help="how many, up to now (13)")


def _intake(c: Commands) -> None:
    new = c.add("new", "intake:new", "open a card")
    new.add_argument("registration", help="the vehicle; add the options below for one not yet known")
    new.add_argument(
        "--for", dest="templates", action="append", default=[], metavar="TEMPLATE", help="a job (repeatable)"
    )
    new.add_argument("--words", default="", help="the customer's own words")
    new.add_argument("--title", default="", help="what to call the job")
    new.add_argument("--odometer", type=int)
    new.add_argument("--left-with", default="", help="keys and contents left with the car")
    new.add_argument("--authority", metavar="SUM", help="how far we may go, like 400.00")
    new.add_argument("--authority-by", default="", help="who said so, and how")
    new.add_argument("--promised", default="", metavar="DATE", help="promise date, like 2026-12-04")
    new.add_argument(
        "--take",
        action="append",
        default=[],
        metavar="WHAT",
        help="take on what an earlier visit left, by its name from: shopcli carried (repeatable)",
    )
    group = new.add_argument_group("a vehicle or customer not yet known")
    group.add_argument("--customer", help="name; taken if known, else written down")
    group.add_argument("--phone", default="")
    group.add_argument("--make")
    group.add_argument("--model", default="")
    group.add_argument("--year", type=int)
    group.add_argument("--sheet", default="", help="spec sheet, see: shopcli sheets")
    group.add_argument("--odometer-unit", choices=("mi", "km"), default="mi")
    left = c.add(
        "carried", "carried:carried", "list what earlier visits of a vehicle left for this one", json=True
    )
    left.add_argument("registration")
    left.add_argument("--odometer", type=int, help="what it shows now; else the highest ever written counts")
    take = c.add("take", "carried:take", "take on an open card what earlier visits left", card=True)
    take.add_argument("what", nargs="+", help="like finding:3 or owed:5, from: shopcli carried")
    decline = c.add(
        "decline", "carried:decline", "write down that the customer does not want something carried over"
    )
    decline.add_argument("what", help="like finding:3 or owed:5, from: shopcli carried")
    decline.add_argument("words", help="the customer's own words")
    decline.add_argument("--said-by", default="", metavar="NAME", help="who said so (the customer)")
    add = c.add("add-job", "intake:add_job", "expand a further job onto an open card", card=True)
    add.add_argument("template", nargs="+")
    hold = c.add("hold", "intake:hold", "hold a card, with a reason", card=True)
    hold.add_argument("reason")
    c.add("go-on", "intake:go_on", "take a card in hand", card=True)
    void = c.add("void", "intake:void", "void a card on which nothing was done", card=True)
    void.add_argument("reason")


def _bench(c: Commands) -> None:
    reading = c.add(
        "reading",
        "bench:reading",
        'record a reading, typed as read: 6 thou, .006", 0,15 mm, 40 ftlb',
        card=True,
    )
    reading.add_argument("task", help=TASK_HELP)
    reading.add_argument("value", help="as read, with its unit")
    reading.add_argument(
        "--at", default="", metavar="PLACE", help="where, when the task has several: '2 inlet', 'front left'"
    )
    phase = reading.add_mutually_exclusive_group()
    phase.add_argument("--found", action="store_true", help="as found")
    phase.add_argument("--left", action="store_true", help="as left (the default when the task asks for it)")
    reading.add_argument("--tool", default="", help="which tool")
    done = c.add("done", "bench:done", "say a task is done", card=True)
    done.add_argument("task", help=TASK_HELP)
    done.add_argument("--note", default="", help="a note; needed where a reading as left is missing")
    out = c.add("leave-out", "bench:leave_out", "leave a task out, with a reason", card=True)
    out.add_argument("task", help=TASK_HELP)
    out.add_argument("reason")
    back = c.add("take-back", "bench:take_back", "take back done or left out", card=True)
    back.add_argument("task", help=TASK_HELP)
    second = c.add(
        "second", "bench:second", "sign a task as the second pair of eyes (--by another person)", card=True
    )
    second.add_argument("task", help=TASK_HELP)
    finding = c.add("finding", "bench:finding", "write down a fault seen and not mended", card=True)
    finding.add_argument("place", help="where on the car")
    finding.add_argument("what", help="what is wrong")
    finding.add_argument("--bad", choices=("stop", "soon", "watch"), default="soon", help="how bad (soon)")
    finding.add_argument("--takes", default="", help="what it would take")
    finding.add_argument("--wanted", default="", metavar="TEMPLATE", help="the job that would mend it")
    finding.add_argument("--photo", default="", metavar="PATH", help="where the photo lies")


def _parts(c: Commands) -> None:
    fit = c.add("fit", "parts:fit", "fit a part of the card's kit, or another from stock", card=True)
    fit.add_argument("part", help="beginning of the part's name, or its number")
    fit.add_argument("--task", default="", help=TASK_HELP)
    fit.add_argument("--qty", default="", help="for a part not on the card yet (1)")
    fit.add_argument("--serial", default="")
    order = c.add("order", "parts:order", "say a part of the card is on order", card=True)
    order.add_argument("part")
    unused = c.add("not-used", "parts:not_used", "say a part of the kit was not used", card=True)
    unused.add_argument("part")
    price = c.add("price", "parts:price", "give a part of the card its price", card=True)
    price.add_argument("part")
    price.add_argument("price", help="for one, without VAT, like 8.06")
    pay = c.add("pay", "parts:pay", "take a deposit (card open) or a payment (card closed)", card=True)
    pay.add_argument("amount", help="like 100.00")
    pay.add_argument("--method", default="cash")


def _closing(c: Commands) -> None:
    c.add(
        "check",
        "closing:check",
        "list everything that hinders the hand-over (status 1 when anything does)",
        json=True,
        card=True,
    )
    waive = c.add("waive", "closing:waive", "set a hindrance aside by name, with a reason", card=True)
    waive.add_argument("hindrance", help="its key from: shopcli check")
    waive.add_argument("reason")
    lift = c.add("lift", "closing:lift", "lift a tag by hand, with a reason", card=True)
    lift.add_argument("tag", help="the tag's name")
    lift.add_argument("reason")
    settle = c.add("settle", "closing:settle", "say a promised check was done", card=True)
    settle.add_argument("check", help="beginning of the check's title")
    settle.add_argument("reason", help="how it was done")
    c.add(
        "close",
        "closing:close",
        "close a card and issue its invoice; refused while anything hinders",
        card=True,
    )


def _sums(c: Commands) -> None:
    every = c.add("workings", "sums:workings", "list the workshop sums", json=True)
    every.add_argument("--page", action="store_true", help="print the docs page of all of them")
    c.add(
        "working", "sums:working", "describe a sum: inputs, source, what it is good for", json=True
    ).add_argument("name", help="its name from: shopcli workings")
    work = c.add(
        "work", "sums:work_one", "work a sum: shopcli work dwell-percent dwell=52 lobes=4", json=True
    )
    work.add_argument("name", help="its name from: shopcli workings")
    work.add_argument(
        "inputs",
        nargs="*",
        metavar="input=value",
        help='as read, with its unit: gap="16 thou" torque="40 ftlb"',
    )
    work.add_argument("--ascii", action="store_true", help="draw with plain characters")
