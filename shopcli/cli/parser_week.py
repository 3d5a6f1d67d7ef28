"""The commands of the week. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_week(c: "Commands") -> None:
    """Add ``week`` and ``listed-time``."""
    week = c.add(
        "week", "week:week", "the report of a week, or of several; one page, or a table of it", json=True
    )
    week.add_argument(
        "week", nargs="?", default="", help="like 2026-W48, or -1 for the last whole one (this week)"
    )
    week.add_argument(
        "--weeks", type=int, default=1, metavar="N", help="so many weeks, this one the last (1)"
    )
    week.add_argument("--full", action="store_true", help="all tables instead of one page")
    week.add_argument("--table", default="", metavar="NAME", help="print one table; 'list' names them")
    week.add_argument(
        "--rows", default="", metavar="KEY", help="print the rows of a figure, like opened or waiting:parts"
    )
    week.add_argument(
        "--csv", default="", metavar="FOLDER", help="write every table as CSV, and all of it as JSON"
    )
    week.add_argument("--text", metavar="FILE", help="write it as text")
    week.add_argument("--html", metavar="FILE", help="write it as a page for a browser")
    week.add_argument("--pdf", metavar="FILE", help="write it as PDF, fit to be kept (PDF/A-3b)")
    week.add_argument("--ascii", action="store_true", help="plain characters only in text")
    listed = c.add("listed-time", "week:listed_time", "list a job at so many times what its template says")
    listed.add_argument("template", help="name of the job template")
    listed.add_argument("times", help="factor, like 1.35; 1 goes back to the template")
    listed.add_argument("--why", default="", help="reason")
