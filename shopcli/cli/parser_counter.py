"""The commands of the counter. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command

if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_counter(c: "Commands") -> None:
    """Add whom to ring, the note of a call, the hand-over and its papers."""
    ring = c.add("ring", "counter:ring", "list whom to ring, why, and what was said last", json=True)
    ring.add_argument("--all", action="store_true", help="those to be rung on a later day, too")
    note = c.add(
        "note-call", "counter:note", "note a call: who was reached, what was said, when to ring again"
    )
    note.add_argument("key", help="what it was about, from: shopcli ring")
    note.add_argument("--reached", default="", metavar="NAME", help="who was reached (nobody)")
    note.add_argument("--said", default="", metavar="WORDS", help="what was said")
    note.add_argument("--again", default="", metavar="DAY", help="when to ring again, like fri or 2026-12-04")
    over = c.add("hand-over", "counter:hand_over", "hand a car over once its card is closed", card=True)
    over.add_argument("--to", default="", metavar="NAME", help="who fetches it (the customer)")
    print_ = c.add(
        "papers-of",
        "counter:papers",
        "write a closed card's invoice and summary into the papers folder",
        card=True,
    )
    print_.add_argument("--folder", default="", help="another folder")
    reverse = c.add(
        "reverse-charge",
        "counter:reverse_charge",
        "bill the customer of a card without tax, by their VAT number; or with tax again",
        card=True,
    )
    reverse.add_argument(
        "--vat-number", default="", help="the customer's; left out, they are billed with tax"
    )
    closed = c.add(
        "closed", "counter:closed", "find closed cards: customer, car, telephone or a number", json=True
    )
    closed.add_argument(
        "text", nargs="+", help="three letters or more of a name, a registration; J00012, INV-000012"
    )
