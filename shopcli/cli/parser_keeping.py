"""The commands that keep a shop's records safe. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command

if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_keeping(c: "Commands") -> None:
    """Add the examination of the records, their copies, the move to another place, and lists from elsewhere."""
    c.add(
        "examine",
        "keeping:examine_",
        "examine the records: what does not hold, and what would mend it (status 1 when anything)",
        json=True,
    )
    copy = c.add("back-up", "keeping:back_up_", "copy the records while everybody works on; keeps the newest")
    copy.add_argument("--folder", default="", help="another folder than that of the settings")
    back = c.add(
        "restore", "keeping:restore_", "put a copy in the place of the records, once it is looked at"
    )
    back.add_argument("file", help="a copy made by back-up or write-out")
    out = c.add("write-out", "keeping:write_out", "write all records as lines of JSON; - for the terminal")
    out.add_argument("file", help="a file that is not there yet, or -")
    in_ = c.add("read-in", "keeping:read_in_", "read written-out records into an empty place (--db)")
    in_.add_argument("file", help="a file made by write-out")
    data = c.add(
        "customer-data",
        "customer_data:show",
        "show everything that is kept of a customer, or give it to them",
        json=True,
    )
    data.add_argument("customer", help="the id, or words of a name, a telephone or a plate")
    data.add_argument("--out", metavar="FILE", default="", help="write it into a new file; .json for JSON")
    erase = c.add("erase", "customer_data:erase", "erase who a customer is, for good (an owner does)")
    erase.add_argument("customer", help="the id, or words of a name, a telephone or a plate")
    erase.add_argument("--reason", required=True, help="why; it stays in the journal")
    erase.add_argument("--for-good", action="store_true", help="it is meant: nothing brings it back")
    c.add("wipe", "customer_data:wipe", "overwrite what lies free in the records, after something was erased")
    move = c.add("move-to", "keeping:move_to", "copy the shop to a server or a file, and prove every row")
    move.add_argument(
        "place", metavar="FILE|URL", help="an empty place; the records stay where they are, too"
    )
    lists = c.add(
        "list-in",
        "lists_in:list_in",
        "take in customers, vehicles or parts from a CSV table (status 1 when a line is wrong)",
        json=True,
    )
    lists.add_argument("kind", choices=("customers", "vehicles", "parts"))
    lists.add_argument("file", help="UTF-8, the first line names the columns; - reads standard input")
    lists.add_argument(
        "--column",
        action="append",
        default=[],
        metavar="OURS=THEIRS",
        help="what a column is called in the table, like phone=Telephone; repeatable",
    )
    lists.add_argument("--write", action="store_true", help="keep it: all lines, or none when one is wrong")
