"""The commands of papers that leave the shop. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from argparse import ArgumentParser

    from shopcli.cli.parser import Commands


def add_papers(c: "Commands") -> None:
    """Add ``paper`` and what may be asked of it."""
    paper = c.add("paper", "papers:summary", "print a paper, or write it as text, page or PDF")
    kinds = paper.add_subparsers(title="papers", metavar="WHICH", required=True)
    summary = c.verb(kinds, "summary", "papers:summary", "what was done and what it comes to")
    summary.add_argument("card", help="card number, like J00012 or 12")
    invoice = c.verb(
        kinds, "invoice", "papers:invoice", "the invoice of a card, also as e-invoice (EN 16931)"
    )
    invoice.add_argument("card", help="card number, like J00012 or 12")
    credit = c.verb(kinds, "credit-note", "papers:credit_note", "a credit note, also as e-invoice")
    credit.add_argument("number", help="number of the credit note, like CN-000004 or 4")
    receipt = c.verb(
        kinds, "receipt", "papers:receipt", "one payment on a card in writing, the last or another"
    )
    receipt.add_argument("card", help="card number, like J00012 or 12")
    receipt.add_argument(
        "--which", type=int, default=0, metavar="N", help="the first payment is 1 (the last)"
    )
    offer = c.verb(kinds, "offer", "papers:offer", "an offer as it was made, with a place to sign")
    offer.add_argument("number", help="number of the offer, like OF00012 or 12")
    history = c.verb(
        kinds, "history", "papers:history", "the story of a vehicle, with its readings over the years"
    )
    history.add_argument("registration", help="registration of the vehicle")
    order = c.verb(kinds, "order", "papers:order", "an order to a supplier, for the post or to read out")
    order.add_argument("number", help="number of the order, like P00012 or 12")
    account = c.verb(kinds, "statement", "papers:statement", "a customer's account between two days")
    account.add_argument("customer", help="the beginning of the customer's name, or their number")
    account.add_argument("--since", default="", metavar="DAY", help="like 2026-10-01 (90 days before)")
    account.add_argument("--to", default="", metavar="DAY", help="(today)")
    for kind in (account, summary, invoice, credit, receipt, offer, history, order):
        _forms(kind)
    for kind in (invoice, credit):
        _machine_forms(kind)


def _forms(parser: "ArgumentParser") -> None:
    parser.add_argument("--text", metavar="FILE", help="write it as text")
    parser.add_argument("--html", metavar="FILE", help="write it as a page for a browser")
    parser.add_argument("--pdf", metavar="FILE", help="write it as PDF, fit to be kept (PDF/A-3b)")
    parser.add_argument("--ascii", action="store_true", help="plain characters only in text")


def _machine_forms(parser: "ArgumentParser") -> None:
    parser.add_argument("--cii", metavar="FILE", help="write it as UN/CEFACT Cross Industry Invoice")
    parser.add_argument("--ubl", metavar="FILE", help="write it as OASIS UBL 2.1")
    parser.add_argument("--facturx", metavar="FILE", help="write it as PDF with the former inside (Factur-X)")
