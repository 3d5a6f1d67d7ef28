"""The commands of intake: a card opened, what earlier visits left, a card held or void. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_intake(c: "Commands") -> None:
    """Add the commands of intake, of what earlier visits left and of a card as a whole."""
    new = c.add("new", "intake:new", "open a card")
    new.add_argument("registration", help="the vehicle; add the options below for one not yet known")
    new.add_argument(
        "--for", dest="templates", action="append", default=[], metavar="TEMPLATE", help="a job (repeatable)"
    )
    new.add_argument("--words", default="", help="the customer's own words")
    new.add_argument("--title", default="", help="what to call the job")
    new.add_argument("--odometer", type=int)
    new.add_argument(
        "--odometer-why",
        default="",
        metavar="WHY",
        help="why it shows less than before, like 'clock changed'",
    )
    new.add_argument("--keys", default="", help="the car's keys: how many, which")
    new.add_argument("--left-with", default="", help="what lies in the car")
    new.add_argument("--fuel", default="", help="how much fuel is in it")
    new.add_argument("--damage", default="", help="scratches and dents it came with")
    new.add_argument("--authority", metavar="SUM", help="how far we may go, like 400.00")
    new.add_argument("--authority-by", default="", help="who said so")
    new.add_argument("--authority-how", default="", help="phone, mail, in person or signed")
    new.add_argument("--promised", default="", metavar="DATE", help="promise date, like 2026-12-04")
    new.add_argument(
        "--take",
        action="append",
        default=[],
        metavar="WHAT",
        help="take on what an earlier visit left, by its name from: shopcli carried (repeatable)",
    )
    group = new.add_argument_group("a vehicle or customer not yet known")
    group.add_argument("--customer", help="name; taken if known, else written down")
    group.add_argument("--phone", default="")
    group.add_argument("--make")
    group.add_argument("--model", default="")
    group.add_argument("--year", type=int)
    group.add_argument("--sheet", default="", help="spec sheet, see: shopcli sheets")
    group.add_argument("--odometer-unit", choices=("mi", "km"), default="mi")
    _customer(c)
    left = c.add(
        "carried", "carried:carried", "list what earlier visits of a vehicle left for this one", json=True
    )
    left.add_argument("registration")
    left.add_argument("--odometer", type=int, help="what it shows now; else the one written last counts")
    take = c.add("take", "carried:take", "take on an open card what earlier visits left", card=True)
    take.add_argument("what", nargs="+", help="like finding:3 or owed:5, from: shopcli carried")
    decline = c.add(
        "decline", "carried:decline", "write down that the customer does not want something carried over"
    )
    decline.add_argument("what", help="like finding:3 or owed:5, from: shopcli carried")
    decline.add_argument("words", help="the customer's own words")
    decline.add_argument("--said-by", default="", metavar="NAME", help="who said so (the customer)")
    add = c.add("add-job", "intake:add_job", "expand a further job onto an open card", card=True)
    add.add_argument("template", nargs="+")
    hold = c.add("hold", "intake:hold", "hold a card, with a reason", card=True)
    hold.add_argument("reason")
    hold.add_argument("--parts", action="store_true", help="it goes on by itself when its parts are in")
    c.add("go-on", "intake:go_on", "take a card in hand", card=True)
    void = c.add("void", "intake:void", "void a card on which nothing was done", card=True)
    void.add_argument("reason")


def _customer(c: "Commands") -> None:
    change = c.add(
        "customer-change", "customers:change", "change a customer's name, telephone, address or VAT number"
    )
    change.add_argument("customer", help="the id, or words of a name, a telephone or a plate")
    for name, text in (
        ("name", "their new name"),
        ("phone", "telephone"),
        ("email", "e-mail"),
        ("address", "street and the like; further lines after a semicolon"),
        ("city", "town"),
        ("post-code", "post code"),
        ("country", "two letters, like GB; empty: that of the shop"),
        ("vat-number", "VAT number"),
    ):
        change.add_argument(f"--{name}", help=f"{text}; what is not named stays")
