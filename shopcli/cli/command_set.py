"""The command set, in our own words: each command named once, for help and parser alike. Nothing but words is loaded."""

from shopcli.cli.asked import LIST
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

    from shopcli.cli.parser import Commands

TASK_HELP = "a task: its number in the list, or the beginning of its title or key"


class Undrawn:
    """Stands for a command nobody asked for: takes whatever is said about it and keeps nothing."""

    def __getattr__(self, _name: str) -> "Any":
        return self._take

    def _take(self, *_said: object, **_more: object) -> "Undrawn":
        return self


UNDRAWN: "Any" = Undrawn()


def draw_up(c: "Commands") -> None:
    """Add every command there is."""
    _start(c)
    _looking(c)
    add_intake(c)
    add_bench(c, TASK_HELP)
    add_fitting(c, TASK_HELP)
    add_closing(c)
    add_money(c)
    add_counter(c)
    add_knowledge(c)
    _sums(c)
    add_ahead(c)
    add_offers(c)
    add_order(c, TASK_HELP)
    add_tools(c, TASK_HELP)
    add_parts(c, TASK_HELP)
    add_stores(c, TASK_HELP)
    add_photos(c, TASK_HELP)
    add_sheet(c)
    add_sheets(c)
    add_keeping(c)
    add_clock(c, TASK_HELP)
    add_looking_back(c)
    add_papers(c)
    add_week(c)
    add_away(c)
    add_people(c)
    add_browser(c)


def _start(c: "Commands") -> None:
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


def _looking(c: "Commands") -> None:
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


def _sums(c: "Commands") -> None:
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
