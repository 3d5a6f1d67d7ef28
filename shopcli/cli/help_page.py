"""The help of the whole program, laid out without a parser: no command is drawn up to be named."""

import os
import sys
from collections.abc import Iterable, Iterator

from shopcli.cli.asked import OPTIONS
from shopcli.cli.command_set import UNDRAWN, draw_up
from shopcli.columns import wrap

TYPE_CHECKING = False  # asking for help waits for nothing it does without
if TYPE_CHECKING:
    from typing import Any

ABOUT = "Job cards for a small classic-car shop. Without a command the terminal application starts."
WHERE_AND_WHO = "where and who"
HELP_HELP = "show this help message and exit"
VERSION_HELP = "show program's version number and exit"
USUAL_COLUMNS, NARROWEST = 80, 40
LEFT = 20
"""Where what is said of a name begins; a longer name has a line to itself, [columns]"""


class _Named:
    """Keeps of every command its name and what it does."""

    def __init__(self) -> None:
        self.rows: list[tuple[str, str]] = []

    def add(self, name: str, _handler: str, text: str, **_more: object) -> "Any":
        """Keep one."""
        self.rows.append((name, text))
        return UNDRAWN

    def verb(self, *_said: object, **_more: object) -> "Any":
        """Keep nothing: verbs are told by the help of their command."""
        return UNDRAWN


def help_page() -> str:
    """Return the page, as wide as the terminal."""
    width = max(_columns() - 2, NARROWEST)
    named: Any = _Named()
    draw_up(named)
    switches = (("-h, --help", HELP_HELP), ("--version", VERSION_HELP))
    options = [(f"{flag} {value}", text) for flag, value, text in OPTIONS]
    lines = [
        *_usage(width),
        "",
        *wrap(ABOUT, width),
        *_part("options", switches, width),
        *_part(WHERE_AND_WHO, options, width),
        *_part("commands", named.rows, width),
    ]
    return "\n".join(lines) + "\n"


def _usage(width: int) -> list[str]:
    head = "usage: shopcli "
    said = ["[-h]", *(f"[{flag} {value}]" for flag, value, _text in OPTIONS), "[--version]", "COMMAND ..."]
    lines = [head]
    for part in said:
        if len(lines[-1]) + len(part) > width:
            lines.append(" " * len(head))
        lines[-1] += part + " "
    return [line.rstrip() for line in lines]


def _part(title: str, rows: Iterable[tuple[str, str]], width: int) -> Iterator[str]:
    yield from ("", f"{title}:")
    for name, text in rows:
        first, *more = wrap(text, width - LEFT)
        head = f"  {name}"
        if len(head) + 2 > LEFT:
            yield head
            head = ""
        yield head.ljust(LEFT) + first
        for line in more:
            yield " " * LEFT + line


def _columns() -> int:
    """Return how wide the terminal is, asked of it directly: the usual way loads the readers of archives as well."""
    given = os.environ.get("COLUMNS", "")
    if given.isdecimal() and int(given):
        return int(given)
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns or USUAL_COLUMNS
    except (OSError, ValueError):
        return USUAL_COLUMNS
