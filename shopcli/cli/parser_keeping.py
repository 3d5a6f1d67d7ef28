"""The commands that keep a shop's records safe. Only argparse is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command

if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_keeping(c: "Commands") -> None:
    """Add the examination of the records, their copies, and the move to another place."""
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
    move = c.add("move-to", "keeping:move_to", "copy the shop to a server or a file, and prove every row")
    move.add_argument(
        "place", metavar="FILE|URL", help="an empty place; the records stay where they are, too"
    )
