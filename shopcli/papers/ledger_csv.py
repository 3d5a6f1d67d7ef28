"""The books as a table for the accountant's program: RFC 4180, a dot before the cents, no cell that could be a formula."""

import csv
import io
from decimal import Decimal

from shopcli.shop.ledger import Ledger, LedgerLine
from shopcli.worklists.sheet_csv import guarded

HEAD = (
    "date",
    "kind",
    "document",
    "card",
    "customer number",
    "customer",
    "account",
    "what",
    "rate",
    "category",
    "percent",
    "net",
    "tax",
    "gross",
    "currency",
)


def ledger_csv(ledger: Ledger) -> str:
    """Return every line of the books; a text that a spreadsheet would work out begins with an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEAD)
    for line in ledger.lines:
        writer.writerow(_cells(line, ledger.currency))
    return out.getvalue()


def _cells(line: LedgerLine, currency: str) -> list[str]:
    figures = [_figure(d) for d in (line.percent, line.net, line.tax, line.gross)]
    who = [line.card, str(line.customer_id), line.customer]
    texts = [line.kind, line.document, *who, line.account, line.what, line.rate, line.category]
    return [line.on.isoformat(), *map(guarded, texts), *figures, guarded(currency)]


def _figure(d: Decimal | None) -> str:
    return "" if d is None else format(d, "f")
