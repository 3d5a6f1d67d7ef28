"""The words of the commands about spec sheets and numbers, beside the others because they are many."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from argparse import ArgumentParser

    from shopcli.cli.parser import Commands

WHERE = "a registration, or the name of a sheet"
FACT = "a fact, like volts=6; repeatable; an empty text leaves it to the wider sheet"


def add_sheets(c: "Commands") -> None:
    """Add what looks at sheets and what enters their numbers."""
    show = c.add(
        "numbers", "numbers:show", "show the numbers of a vehicle or sheet, every layer of them", json=True
    )
    show.add_argument("where", help=WHERE)
    show.add_argument("text", nargs="*", help="narrow: a word of the number, practice, differs, missing")
    show.add_argument(
        "--history", metavar="NUMBER", default="", help="every entry of one number, the newest first"
    )
    show.add_argument("--all", action="store_true", help="those nobody entered yet too")
    _number(c)
    withdraw = c.add(
        "withdraw", "numbers:withdraw", "withdraw a number of a vehicle or an own sheet, with the reason"
    )
    withdraw.add_argument("where", help=WHERE)
    withdraw.add_argument("name", help="the number's name, like points_gap")
    withdraw.add_argument("reason")
    withdraw.add_argument(
        "--entry", type=int, default=0, help="an older entry, by its figure in: numbers --history"
    )
    _sheets(c)
    _tables(c)


def _number(c: "Commands") -> None:
    number = c.add(
        "number",
        "numbers:number",
        "give a vehicle or an own sheet a number, or confirm one, from the handbook in hand",
    )
    number.add_argument("where", metavar="registration|sheet", help=WHERE)
    number.add_argument("name", help="the number's name, like points_gap")
    number.add_argument(
        "--printed", default="", help='as printed, in one: "0.35 to 0.45 mm", "at least 9 bar"'
    )
    number.add_argument("--low", default="")
    number.add_argument("--nominal", default="")
    number.add_argument("--high", default="")
    number.add_argument("--also", default="", help="a second print of the same limits, in another unit")
    number.add_argument("--unit", default="", help="unit of bare figures")
    number.add_argument("--state", default="", help="cold, hot; - for none")
    number.add_argument(
        "--from", dest="kind", choices=("handbook", "plate", "measured", "practice"), default="handbook"
    )
    number.add_argument("--document", default="")
    number.add_argument("--page", default="")
    number.add_argument("--note", default="")
    number.add_argument("--why", default="", help="why it is changed")
    number.add_argument("--confirm", action="store_true", help="the number the sheets have is right")
    new = number.add_argument_group("a number no sheet knows yet")
    new.add_argument("--label", default="", help="what it is called")
    new.add_argument("--quantity", default="", help="what it measures, like length or torque")


def _sheets(c: "Commands") -> None:
    make = c.add("sheet-make", "numbers:make", "make a spec sheet of the shop's own")
    make.add_argument("name", help="small letters, figures and hyphens: lark-1200")
    make.add_argument("--title", required=True)
    _about_sheet(make)
    change = c.add(
        "sheet-change", "numbers:change", "change title, wider sheet, remark or facts of an own sheet"
    )
    change.add_argument("name")
    change.add_argument("--title")
    _about_sheet(change)
    facts = c.add(
        "facts", "numbers:facts", "show the facts of a vehicle or sheet, or change a vehicle's", json=True
    )
    facts.add_argument("where", help=WHERE)
    facts.add_argument("--fact", action="append", default=[], metavar="NAME=TEXT", help=FACT)
    facts.add_argument("--sheet", help="the sheet it lies under")


def _about_sheet(parser: "ArgumentParser") -> None:
    parser.add_argument("--under", help="the wider sheet it lies under, see: shopcli sheets")
    parser.add_argument("--about", help="a remark")
    parser.add_argument("--fact", action="append", default=[], metavar="NAME=TEXT", help=FACT)


def _tables(c: "Commands") -> None:
    out = c.add(
        "table-out", "number_tables:table_out", "write the numbers of a vehicle or sheet as a CSV table"
    )
    out.add_argument("where", help=WHERE)
    out.add_argument("--out", metavar="FILE", help="write it to a file")
    into = c.add(
        "table-in",
        "number_tables:table_in",
        "take numbers in from a CSV table; says what would come of it (status 1 when a line is wrong)",
        json=True,
    )
    into.add_argument("where", help="a registration, or the name of an own sheet")
    into.add_argument(
        "file",
        help="UTF-8, with a head: name,low,nominal,high,unit,from,document,page …; - reads standard input",
    )
    into.add_argument("--write", action="store_true", help="keep it: all lines, or none when one is wrong")
