"""The command set, in our own words. Only argparse is imported here: asking for help must not wait for anything."""

import argparse
import os
import sys
from collections.abc import Sequence

from shopcli import __version__
from shopcli.cli.asked import APPLICATION, LIST, command_named
from shopcli.cli.parser_ahead import add_ahead, add_offers
from shopcli.cli.parser_away import add_away
from shopcli.cli.parser_bench import add_parts, add_photos, add_sheet, add_tools
from shopcli.cli.parser_browser import add_browser
from shopcli.cli.parser_clock import add_clock, add_looking_back
from shopcli.cli.parser_counter import add_counter
from shopcli.cli.parser_intake import add_intake
from shopcli.cli.parser_keeping import add_keeping
from shopcli.cli.parser_knowledge import add_knowledge
from shopcli.cli.parser_money import add_money
from shopcli.cli.parser_order import add_order
from shopcli.cli.parser_papers import add_papers
from shopcli.cli.parser_people import add_people
from shopcli.cli.parser_sheets import add_sheets
from shopcli.cli.parser_stores import add_stores
from shopcli.cli.parser_week import add_week
from shopcli.cli.parser_work import add_bench, add_closing, add_fitting

TYPE_CHECKING = False  # asking for help waits for nothing it does without
if TYPE_CHECKING:
    from typing import Any

Sub = "argparse._SubParsersAction[argparse.ArgumentParser]"
USUAL_COLUMNS = 80
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


class _AsWide(argparse.HelpFormatter):
    """Help as wide as the terminal, asked of it directly: the usual way loads the readers of archives as well."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=_columns() - 2)


def _columns() -> int:
    given = os.environ.get("COLUMNS", "")
    if given.isdecimal() and int(given):
        return int(given)
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns or USUAL_COLUMNS
    except (OSError, ValueError):
        return USUAL_COLUMNS


class _Undrawn:
    """Stands for a command nobody asked for: takes whatever is said about it and keeps nothing."""

    def __init__(self, **_said: object) -> None: ...

    def __getattr__(self, _name: str) -> "Any":
        return self._take

    def _take(self, *_said: object, **_more: object) -> "_Undrawn":
        return self


UNDRAWN: "Any" = _Undrawn()


class Commands:
    """Adds commands that share the options of where and who.

    Where `only` one is wanted the others are left out; where it is empty all are named, and none is drawn up.
    """

    def __init__(
        self, sub: "argparse._SubParsersAction[argparse.ArgumentParser]", *, only: str | None = None
    ) -> None:
        self._sub = sub
        self._only = only
        self._common = _common()

    def add(
        self, name: str, handler: str, text: str, *, json: bool = False, card: bool = False
    ) -> argparse.ArgumentParser:
        """Add a command; `card` asks for a card number first, `json` offers data out."""
        if self._only == "":
            return self._sub.add_parser(name, help=text)
        if self._only not in (name, None):
            return UNDRAWN
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
        if isinstance(verbs, _Undrawn):
            return UNDRAWN
        parser = verbs.add_parser(name, help=text, description=text, parents=[self._common])
        parser.set_defaults(handler=handler)
        if json:
            parser.add_argument("--json", action="store_true", help="print data as JSON")
        return parser


def parse(argv: Sequence[str]) -> argparse.Namespace:
    """Return what was asked. No command is drawn up but the one that is named: the answer comes sooner without."""
    only = command_named(argv)
    parser, known = _parser(only)
    if only and only not in known:
        parser = build_parser()
    return parser.parse_args(argv)


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of all commands."""
    return _parser(None)[0]


def _parser(only: str | None) -> tuple[argparse.ArgumentParser, Sequence[str]]:
    """Return a parser and the commands it knows: all, `only` one, or all by name alone."""
    parser = argparse.ArgumentParser(
        prog="shopcli",
        description="Job cards for a small classic-car shop. Without a command the terminal application starts.",
        parents=[_common()],
        formatter_class=_AsWide,
    )
    parser.add_argument("--version", action="version", version=f"shopcli {__version__}")
    parser.set_defaults(handler=APPLICATION)
    drawn: Any = _Undrawn if only == "" else argparse.ArgumentParser
    sub = parser.add_subparsers(title="commands", metavar="COMMAND", parser_class=drawn)
    commands = Commands(sub, only=only)
    _start(commands)
    _looking(commands)
    add_intake(commands)
    add_bench(commands, TASK_HELP)
    add_fitting(commands, TASK_HELP)
    add_closing(commands)
    add_money(commands)
    add_counter(commands)
    add_knowledge(commands)
    _sums(commands)
    add_ahead(commands)
    add_offers(commands)
    add_order(commands, TASK_HELP)
    add_tools(commands, TASK_HELP)
    add_parts(commands, TASK_HELP)
    add_stores(commands, TASK_HELP)
    add_photos(commands, TASK_HELP)
    add_sheet(commands)
    add_sheets(commands)
    add_keeping(commands)
    add_clock(commands, TASK_HELP)
    add_looking_back(commands)
    add_papers(commands)
    add_week(commands)
    add_away(commands)
    add_people(commands)
    add_browser(commands)
    return parser, tuple(sub.choices)


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
    c.add("list", LIST, "list the open cards per customer and vehicle", json=True).add_argument(
        "text", nargs="*", help="narrow by registration, name, telephone, card number, job, task or tag"
    )
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
    c.add(
        "customers", "looking:customers", "find customers by name, phone or registration", json=True
    ).add_argument("text", nargs="*")
    c.add(
        "vehicles", "looking:vehicles", "find vehicles; shows findings and owed checks", json=True
    ).add_argument("text", nargs="*")


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
