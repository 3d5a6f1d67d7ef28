"""The commands that look ahead, and those of offers. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from argparse import ArgumentParser

    from shopcli.cli.parser import Commands

HOWS = ("phone", "mail", "in person", "signed")


def add_ahead(c: "Commands") -> None:
    """Add the commands of prices ahead, promise dates and authorities."""
    cost = c.add("cost", "ahead:cost", "what jobs would cost on a vehicle, with an honest range", json=True)
    cost.add_argument("registration", nargs="?", default="", help="the vehicle; or --sheet for one not known")
    _jobs(cost)
    cost.add_argument("--sheet", default="", help="spec sheet of a vehicle not written down")
    promise = c.add(
        "promise",
        "ahead:promise",
        "when a card, or jobs on a vehicle, could be ready, and who slips",
        json=True,
    )
    promise.add_argument(
        "registration", nargs="?", default="", help="the vehicle; or --sheet for one not known"
    )
    _jobs(promise)
    promise.add_argument("--sheet", default="", help="spec sheet of a vehicle not written down")
    promise.add_argument("--card", default="", metavar="CARD", help="an open card instead")
    promise.add_argument(
        "--wanted", default="", metavar="DATE", help="a date to be looked at, like 2026-12-04"
    )
    c.add(
        "authority",
        "ahead:authority",
        "cards with an authority: spent, and where they are heading (status 1 when one goes past it)",
        json=True,
    )


def add_offers(c: "Commands") -> None:
    """Add the commands of offers."""
    make = c.add("offer", "offers:make", "make an offer: jobs at today's prices, fixed for good")
    make.add_argument("registration", nargs="?", default="", help="the vehicle")
    make.add_argument("--card", default="", metavar="CARD", help="for more work on an open card")
    _jobs(make)
    make.add_argument("--words", default="", help="the customer's own words")
    make.add_argument("--days", type=int, default=0, help="how long it holds (the shop's setting)")
    for kind, text in (("outwork", "work that is sent out"), ("sundry", "a sundry"), ("fee", "a fee")):
        make.add_argument(
            f"--{kind}",
            action="append",
            default=[],
            metavar="WHAT=PRICE",
            help=f"{text}, before tax (repeatable)",
        )
    every = c.add("offers", "offers:listed", "list the offers and how they stand", json=True)
    every.add_argument("registration", nargs="?", default="", help="of this vehicle only")
    every.add_argument("--open", action="store_true", help="only those nobody answered and that still hold")
    yes = c.add("offer-yes", "offers:accept", "note that the customer said yes: an authority")
    _answer(yes)
    yes.add_argument("--up-to", default="", metavar="SUM", help="tax included; else the offer's highest")
    no = c.add("offer-no", "offers:decline", "note that the customer said no")
    _answer(no)
    no.add_argument("--reason", default="", help="why, in their words")
    opens = c.add("offer-open", "offers:open_card", "open the card of an accepted offer")
    opens.add_argument("number", help="like OF00012 or 12")
    opens.add_argument("--words", default="", help="the customer's own words; else those of the offer")
    opens.add_argument("--odometer", type=int)
    opens.add_argument("--odometer-why", default="", metavar="WHY", help="why it shows less than before")
    opens.add_argument("--left-with", default="", help="keys and contents left with the car")
    opens.add_argument("--promised", default="", metavar="DATE", help="promise date, like 2026-12-04")


def _jobs(parser: "ArgumentParser") -> None:
    parser.add_argument(
        "--for", dest="templates", action="append", default=[], metavar="TEMPLATE", help="a job (repeatable)"
    )


def _answer(parser: "ArgumentParser") -> None:
    parser.add_argument("number", help="like OF00012 or 12")
    parser.add_argument("said_by", help="who said so")
    parser.add_argument("--how", choices=HOWS, default="phone", help="how it came (phone)")
