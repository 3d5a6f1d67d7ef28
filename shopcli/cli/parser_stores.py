"""The commands of the stores: the shelf, suppliers, orders, outwork, exchanges. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands

ORDER = "number of the order, like P00012 or 12"
PART = "the part's number, or the beginning of its name"
DATE = "like 2026-12-04"


def add_stores(c: "Commands", task_help: str) -> None:
    """Add the commands of the stores."""
    _stock(c)
    _suppliers(c)
    _orders(c)
    _outwork(c)
    _exchanges(c)
    own = c.add("put-own", "outside:put_own", "put a part on a card that the customer brought", card=True)
    own.add_argument("what")
    own.add_argument("--qty", default="1")
    own.add_argument("--task", default="", help=task_help)


def _stock(c: "Commands") -> None:
    stock = c.add("stock", "stock:listed", "the shelf: what lies there, counted, corrected, sent back")
    verbs = stock.add_subparsers(title="what", metavar="WHAT", required=True)
    listed = c.verb(
        verbs, "list", "stock:listed", "list the shelf, with what is wanted and coming", json=True
    )
    listed.add_argument("text", nargs="*", help="narrow by number, name, bin or supplier")
    listed.add_argument("--low", action="store_true", help="only what is short")
    show = c.verb(verbs, "show", "stock:show", "show a part with its movements and prices", json=True)
    show.add_argument("number", help="the part's number")
    count = c.verb(verbs, "count", "stock:count", "write down what was counted")
    count.add_argument(
        "counts", nargs="*", metavar="NUMBER COUNT", help="pairs of a part's number and its count"
    )
    count.add_argument("--file", help="a table of such pairs, separated by commas")
    count.add_argument("--note", default="")
    correct = c.verb(verbs, "correct", "stock:correct", "put more or fewer on the shelf, with a reason")
    correct.add_argument("number", help="the part's number")
    correct.add_argument("qty", help="the difference, like 1 or -0.5")
    correct.add_argument("reason", help="broken, lost, found …")
    back = c.verb(verbs, "back", "stock:back", "send a part back to its supplier")
    back.add_argument("number", help="the part's number")
    back.add_argument("qty")
    back.add_argument("reason")
    back.add_argument("--credit", default="0", help="the credit expected for all of it")
    back.add_argument("--to", default="", help="another supplier than its own")
    c.verb(verbs, "check", "stock:check", "is every stock the sum of its movements? (status 1 when not)")
    undo = c.verb(verbs, "undo", "stock:undo", "take back your last act of today on the stores")
    undo.add_argument("--look", action="store_true", help="only say what would be taken back")


def _suppliers(c: "Commands") -> None:
    supplier = c.add("supplier", "stock:suppliers", "who parts are bought from and work is sent to")
    verbs = supplier.add_subparsers(title="what", metavar="WHAT", required=True)
    c.verb(verbs, "list", "stock:suppliers", "list the suppliers", json=True)
    add = c.verb(verbs, "add", "stock:supplier_add", "write a supplier down")
    add.add_argument("name")
    change = c.verb(verbs, "change", "stock:supplier_change", "change what is known of a supplier")
    change.add_argument("name", help="the supplier's name, or its beginning")
    change.add_argument("--rename", metavar="NAME")
    for parser in (add, change):
        parser.add_argument("--phone")
        parser.add_argument("--email")
        parser.add_argument("--account", help="our account there")
        parser.add_argument("--note")
        parser.add_argument("--days", type=int, help="days the shop is open from the order to the goods")


def _orders(c: "Commands") -> None:
    c.add(
        "to-order", "purchasing:needed", "print what is to be ordered: for cards and for the shelf", json=True
    )
    orders = c.add("purchase", "purchasing:listed", "orders to suppliers, from the draft to the goods")
    verbs = orders.add_subparsers(title="what", metavar="WHAT", required=True)
    listed = c.verb(verbs, "list", "purchasing:listed", "list the orders under way", json=True)
    listed.add_argument("--all", action="store_true", help="those that are over too")
    c.verb(verbs, "show", "purchasing:show", "show an order line by line", json=True).add_argument(
        "order", help=ORDER
    )
    draft = c.verb(verbs, "draft", "purchasing:draft", "put what is to be ordered on an order")
    draft.add_argument("supplier", help="the supplier's name, or its beginning")
    draft.add_argument(
        "--only", nargs="+", default=[], metavar="KEY", help="only these, from: shopcli to-order"
    )
    draft.add_argument("--note", default="", help="words for the supplier")
    add = c.verb(verbs, "add", "purchasing:add", "put a part on an order though nothing asks for it")
    add.add_argument("supplier", help="the supplier's name, or its beginning")
    add.add_argument("number", help="the part's number")
    add.add_argument("qty")
    change = c.verb(verbs, "change", "purchasing:change", "change a line of an order")
    change.add_argument("order", help=ORDER)
    change.add_argument("part", help=PART)
    change.add_argument("--qty", help="while it is drafted; 0 takes it off")
    change.add_argument("--cost", help="expected for one, like 5.90")
    change.add_argument("--due", metavar="DATE", help=DATE)
    c.verb(verbs, "send", "purchasing:send", "say that an order went out").add_argument("order", help=ORDER)
    goods = c.verb(verbs, "in", "purchasing:goods_in", "take goods in against a line of an order")
    goods.add_argument("order", help=ORDER)
    goods.add_argument("part", help=PART)
    goods.add_argument("qty", nargs="?", default="", help="how many came; all that are to come if left out")
    goods.add_argument("--cost", help="what one cost, where it is another than expected")
    goods.add_argument("--more", action="store_true", help="more came than was ordered, and that is right")
    c.verb(verbs, "all-in", "purchasing:all_in", "take in everything that is still to come").add_argument(
        "order", help=ORDER
    )
    rest = c.verb(verbs, "not-coming", "purchasing:not_coming", "say that the rest of a line is not coming")
    rest.add_argument("order", help=ORDER)
    rest.add_argument("part", help=PART)
    rest.add_argument("reason")
    cancel = c.verb(verbs, "cancel", "purchasing:cancel", "give an order up, or the rest of it")
    cancel.add_argument("order", help=ORDER)
    cancel.add_argument("reason")
    c.verb(verbs, "arrived", "purchasing:arrived", "list the cards whose parts came in", json=True)


def _outwork(c: "Commands") -> None:
    outwork = c.add("outwork", "outside:listed", "work sent out, and back again")
    verbs = outwork.add_subparsers(title="what", metavar="WHAT", required=True)
    listed = c.verb(verbs, "list", "outside:listed", "list the work that is out", json=True)
    listed.add_argument("--all", action="store_true", help="what came back too")
    send = c.verb(verbs, "send", "outside:send", "send work out")
    send.add_argument("card", help="card number")
    send.add_argument("what", help="what is to be done")
    send.add_argument("firm", help="who does it")
    send.add_argument("--cost", default="0")
    send.add_argument("--price", default="0", help="before tax")
    send.add_argument("--due", default="", metavar="DATE", help=DATE)
    send.add_argument("--ring", default="", help="whom to ring; the supplier's telephone if left out")
    goes = c.verb(verbs, "goes", "outside:send_planned", "send out what an accepted offer planned")
    goes.add_argument("number", type=int, help="its number from: shopcli outwork list")
    goes.add_argument("firm", help="who does it")
    goes.add_argument("--due", default="", metavar="DATE", help=DATE)
    goes.add_argument("--ring", default="", help="whom to ring; the supplier's telephone if left out")
    drop = c.verb(verbs, "drop", "outside:drop_planned", "do without what an accepted offer planned")
    drop.add_argument("number", type=int, help="its number from: shopcli outwork list")
    drop.add_argument("reason")
    back = c.verb(verbs, "back", "outside:back", "say that outwork came back")
    back.add_argument("number", type=int, help="its number from: shopcli outwork list")
    back.add_argument("--on", default="", metavar="DATE", help=f"{DATE}; today if left out")
    change = c.verb(verbs, "change", "outside:change", "another due date, cost, price, or whom to ring")
    change.add_argument("number", type=int, help="its number from: shopcli outwork list")
    change.add_argument("--due", metavar="DATE", help=DATE)
    change.add_argument("--ring")
    for parser in (back, change):
        parser.add_argument("--cost")
        parser.add_argument("--price", help="before tax")


def _exchanges(c: "Commands") -> None:
    exchange = c.add("exchange", "outside:exchange_list", "old units of exchanges, and credits to come")
    verbs = exchange.add_subparsers(title="what", metavar="WHAT", required=True)
    listed = c.verb(verbs, "list", "outside:exchange_list", "list who owes what", json=True)
    listed.add_argument("--all", action="store_true", help="what is settled too")
    sent = c.verb(verbs, "sent", "outside:exchange_sent", "send an old unit, which is here, to its supplier")
    sent.add_argument("card", help="card number")
    sent.add_argument("part", help=PART)
    sent.add_argument("--to", default="", help="another supplier than its own")
    credit = c.verb(verbs, "credit", "outside:exchange_credit", "say that the supplier's credit came")
    credit.add_argument("key", help="from: shopcli exchange list")
    credit.add_argument("amount", nargs="?", help="as expected if left out")
