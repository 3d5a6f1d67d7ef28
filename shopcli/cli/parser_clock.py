"""The commands of the clock and of taking back. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from argparse import ArgumentParser

    from shopcli.cli.parser import Commands

TIME = "like 8:05, 805 or 17.30"


def add_clock(c: "Commands", task_help: str) -> None:
    """Add ``clock`` with its verbs, ``undo`` and ``where``."""
    clock = c.add("clock", "clock:show", "clock on or off, a break, and a day's own times", json=True)
    verbs = clock.add_subparsers(title="what", metavar="WHAT")
    on = c.verb(verbs, "on", "clock:on", "start the clock on a task; one that runs elsewhere stops")
    on.add_argument("card", nargs="?", help="card number")
    on.add_argument("task", nargs="?", help=task_help)
    c.verb(verbs, "off", "clock:off", "stop the clock, or end a break without going on")
    show = "show everybody's clocks and breaks, and clocks to be asked about"
    c.verb(verbs, "show", "clock:show", show, json=True)
    c.verb(verbs, "break", "clock:take_break", "go on a break; the same again goes on with the same task")
    day = c.verb(
        verbs, "day", "clock:day", "show the times of a day, with the numbers of the entries", json=True
    )
    _of_day(day)
    day.add_argument("--of", metavar="NAME", default="", help="somebody else's")
    correct = c.verb(verbs, "correct", "clock:correct", "correct an entry or a break, with a reason")
    correct.add_argument("entry", help="its number from: shopcli clock day (b before it for a break)")
    correct.add_argument("--from", dest="start", default="", metavar="TIME", help=TIME)
    correct.add_argument("--until", dest="end", default="", metavar="TIME", help=TIME)
    _of_task(correct, task_help)
    correct.add_argument("--why", required=True, help="the reason; it stays readable")
    split = c.verb(verbs, "split", "clock:split", "split an entry; the later part may go to another task")
    split.add_argument("entry", help="its number from: shopcli clock day")
    split.add_argument("at", metavar="TIME", help=TIME)
    _of_task(split, task_help)
    split.add_argument("--why", required=True, help="the reason")
    add = c.verb(verbs, "add", "clock:add", "add time that was forgotten")
    add.add_argument("card", help="card number")
    add.add_argument("task", help=task_help)
    add.add_argument("start", metavar="FROM", help=TIME)
    add.add_argument("end", metavar="UNTIL", help=f"{TIME}; before the start means the next day")
    _of_day(add)
    add.add_argument("--of", metavar="NAME", default="", help="somebody else's; the owner only")
    add.add_argument("--why", required=True, help="the reason")
    until = c.verb(verbs, "until", "clock:until", "say until when a forgotten clock was really work")
    until.add_argument(
        "time", nargs="?", default="", metavar="TIME", help=f"{TIME}; the shop's end if left out"
    )
    until.add_argument("--through", action="store_true", help="I really worked through")


def _of_day(parser: "ArgumentParser") -> None:
    parser.add_argument("--day", default="", metavar="DATE", help="like 2026-11-25; today if left out")


def _of_task(parser: "ArgumentParser", task_help: str) -> None:
    parser.add_argument("--card", default="", help="another card")
    parser.add_argument("--task", default="", help=f"another task: {task_help}")


def add_looking_back(c: "Commands") -> None:
    """Add ``undo``, ``where`` and ``trend``."""
    undo = c.add("undo", "looking_back:undo", "take back your last act of today on a card", card=True)
    undo.add_argument("--look", action="store_true", help="only say what would be taken back")
    undo.add_argument("--again", action="store_true", help="do again what was taken back last")
    c.add(
        "where",
        "looking_back:where",
        "where was I: what is in hand, what was last, what came meanwhile, what is next",
        json=True,
        card=True,
    )
    trend = c.add("trend", "trends:show", "show a reading over the visits, and where it is going", json=True)
    trend.add_argument("where", metavar="CARD|REGISTRATION", help="a card looks back from itself")
    trend.add_argument(
        "name", nargs="*", metavar="NAME", help="which reading: compression, points gap, valve 3"
    )
