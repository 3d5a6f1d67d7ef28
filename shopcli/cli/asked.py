"""What is asked of the program, told without a parser where that can be: what is asked for most often comes sooner."""

from collections.abc import Sequence
from types import SimpleNamespace

OPTIONS = (
    ("--db", "FILE|URL", "the shop's records (or SHOPCLI_DB)"),
    ("--settings", "FILE", "the shop's settings (or SHOPCLI_SETTINGS)"),
    ("--by", "NAME", "who acts (or SHOPCLI_BY)"),
)
SHARED = tuple(flag for flag, _value, _text in OPTIONS)
APPLICATION = "start:application"
LIST = "open_list:list_cards"


def plainly(argv: Sequence[str]) -> SimpleNamespace | None:
    """Return what is asked when no command is named, or the list of open cards; None when it takes a parser to tell.

    Examples
    --------
    >>> plainly(["--db", "shop.db"]).db, plainly(["--by=Tom"]).by
    ('shop.db', 'Tom')
    >>> plainly(["list", "lark", "--json"])
    namespace(handler='open_list:list_cards', text=['lark'], json=True)
    >>> plainly(["week"]), plainly(["--db"]), plainly(["--help"])
    (None, None, None)
    """
    found = SimpleNamespace(handler=APPLICATION)
    words = iter(argv)
    for word in words:
        listed = found.handler == LIST
        name, given, value = word.partition("=")
        if name in SHARED:
            value = value if given else next(words, "")
            if not value or value.startswith("-"):
                return None
            setattr(found, name[2:], value)
        elif word == "list" and not listed:
            found.handler, found.text, found.json = LIST, [], False
        elif word == "--json" and listed:
            found.json = True
        elif listed and not word.startswith("-"):
            found.text.append(word)
        else:
            return None
    return found


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
