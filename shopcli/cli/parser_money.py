"""The commands of money. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_money(c: "Commands") -> None:
    """Add what goes on a bill and off it, credit notes, payments and who owes what."""
    c.add("bill", "money:bill", "show a card's bill with the signs of its lines", json=True, card=True)
    extra = c.add("extra", "money:extra", "put a sundry or a fee passed on on a card's bill", card=True)
    extra.add_argument("kind", choices=("sundry", "fee"))
    extra.add_argument("what")
    extra.add_argument("price", help="for one, before tax, like 4.50")
    extra.add_argument("--qty", default="")
    extra.add_argument("--vat", default="", help="name of the rate in the settings (that of labour)")
    off = c.add("off-bill", "money:off_bill", "take a sundry, a fee or a discount off a bill again")
    off.add_argument("sign", help="as `bill` shows it, like I3 or D2")
    less = c.add("discount", "money:discount", "take something off a line or the whole bill", card=True)
    less.add_argument("amount", help="like 10.00 before tax, or 5%%")
    less.add_argument("reason")
    less.add_argument("--line", default="", help="sign of the line, as `bill` shows it (the whole bill)")
    less.add_argument("--charge", action="store_true", help="put it on the whole bill instead")
    pay = c.add("pay", "money:pay", "take a deposit (card open) or a payment (card closed)", card=True)
    pay.add_argument("amount", help="like 100.00")
    pay.add_argument("--method", default="cash")
    pay.add_argument(
        "--over",
        default="",
        choices=("change", "kept"),
        help="of more than is due: change given back, or kept in the customer's favour",
    )
    refund = c.add("refund", "money:refund", "give back what is in the customer's favour", card=True)
    refund.add_argument("amount")
    refund.add_argument("reason")
    refund.add_argument("--method", default="cash")
    reverse = c.add("reverse-payment", "money:reverse", "answer a payment entered wrongly by its opposite")
    reverse.add_argument("payment", type=int, help="number of its receipt, like 12 for R00012")
    reverse.add_argument("reason")
    credit = c.add(
        "credit", "money:credit", "write a credit note: all that is left, lines, or a sum", card=True
    )
    credit.add_argument("reason")
    credit.add_argument(
        "--line",
        action="append",
        default=[],
        metavar="SIGN[=QTY]",
        help="a line of the invoice; may be repeated",
    )
    credit.add_argument("--amount", default="", help="a sum before tax")
    credit.add_argument("--vat", default="", help="name of the sum's rate (that of labour)")
    c.add("owing", "money:owing", "list invoices that are not settled, and what is owed by age", json=True)
    books = c.add(
        "ledger",
        "ledger:ledger",
        "the books from day to day, by account and rate (status 1 when they do not agree with the documents)",
        json=True,
    )
    books.add_argument("--since", default="", metavar="DAY", help="like 2026-10-01 (first of the month)")
    books.add_argument("--to", default="", metavar="DAY", help="(today)")
    books.add_argument("--csv", default="", metavar="FILE", help="write every line as a table")
