"""Tells what was asked, by argparse; nothing else is loaded for it."""

import argparse
from collections.abc import Sequence

from shopcli import __version__
from shopcli.cli.asked import APPLICATION, OPTIONS, command_named
from shopcli.cli.command_set import UNDRAWN, Undrawn, draw_up
from shopcli.cli.help_page import ABOUT, VERSION_HELP, WHERE_AND_WHO, help_page


class _Whole(argparse.ArgumentParser):
    """The parser of all commands; its help is the page that is shown without it."""

    def format_help(self) -> str:
        """Return the page."""
        return help_page()


def _common() -> argparse.ArgumentParser:
    common = argparse.ArgumentParser(add_help=False, exit_on_error=False)
    group = common.add_argument_group(WHERE_AND_WHO)
    for flag, metavar, text in OPTIONS:
        group.add_argument(flag, metavar=metavar, default=argparse.SUPPRESS, help=text)
    return common


class Commands:
    """Adds commands that share the options of where and who; where `only` one is wanted the others are left out."""

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
        if isinstance(verbs, Undrawn):
            return UNDRAWN
        parser = verbs.add_parser(name, help=text, description=text, parents=[self._common])
        parser.set_defaults(handler=handler)
        if json:
            parser.add_argument("--json", action="store_true", help="print data as JSON")
        return parser


def parse(argv: Sequence[str]) -> argparse.Namespace:
    """Return what was asked. No command is drawn up but the one that is named: the answer comes sooner without."""
    only = command_named(argv) or None
    parser, known = _parser(only)
    if only and only not in known:
        parser = build_parser()
    return parser.parse_args(argv)


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of all commands."""
    return _parser(None)[0]


def _parser(only: str | None) -> tuple[argparse.ArgumentParser, Sequence[str]]:
    """Return a parser and the commands it knows: all, or `only` one."""
    parser = _Whole(prog="shopcli", description=ABOUT, parents=[_common()])
    parser.add_argument("--version", action="version", version=f"shopcli {__version__}", help=VERSION_HELP)
    parser.set_defaults(handler=APPLICATION)
    sub = parser.add_subparsers(title="commands", metavar="COMMAND", parser_class=argparse.ArgumentParser)
    draw_up(Commands(sub, only=only))
    return parser, tuple(sub.choices)
