"""The commands of who was away, and of the tables the week is read from. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_away(c: "Commands") -> None:
    """Add ``away`` and ``reckon-weeks``."""
    away = c.add("away", "away:away", "who was or is away, or note it; the week pays for the rest", json=True)
    away.add_argument("name", nargs="?", default="", help="who")
    away.add_argument("first", nargs="?", default="", help="first day, like 2026-12-24")
    away.add_argument("last", nargs="?", default="", help="last day (the first)")
    away.add_argument("--minutes", type=int, metavar="N", help="so many minutes of each day (whole days)")
    away.add_argument("--why", default="", help="reason")
    away.add_argument("--withdraw", type=int, metavar="NUMBER", help="say that an absence was none")
    c.add("reckon-weeks", "away:reckon_weeks", "write anew what the week is read from, out of the records")
