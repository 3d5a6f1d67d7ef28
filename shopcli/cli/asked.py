"""What is asked of the program, told without a parser where that can be: the application starts sooner for it."""

from collections.abc import Sequence
from types import SimpleNamespace

SHARED = ("--db", "--settings", "--by")
APPLICATION = "start:application"


def plainly(argv: Sequence[str]) -> SimpleNamespace | None:
    """Return what is asked when no command is named; None when it takes a parser to tell.

    Examples
    --------
    >>> plainly(["--db", "shop.db"]).db, plainly(["--by=Tom"]).by
    ('shop.db', 'Tom')
    >>> plainly(["list"]), plainly(["--db"]), plainly(["--help"])
    (None, None, None)
    """
    found = {}
    words = iter(argv)
    for word in words:
        name, given, value = word.partition("=")
        if not given:
            value = next(words, "")
        if name not in SHARED or not value or value.startswith("-"):
            return None
        found[name[2:]] = value
    return SimpleNamespace(handler=APPLICATION, **found)


def command_named(argv: Sequence[str]) -> str:
    """Return the first word that is neither an option nor the value of one; nothing when there is none.

    Examples
    --------
    >>> command_named(["--db", "shop.db", "list", "lark"]), command_named(["--by=Tom", "week"]), command_named(["-h"])
    ('list', 'week', '')
    """
    words = iter(argv)
    for word in words:
        if word in SHARED:
            next(words, "")
        elif not word.startswith("-"):
            return word
    return ""
