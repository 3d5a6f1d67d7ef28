"""The books from one day to another, read from the documents as they were written down when they were issued."""

import json
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from shopcli.errors import BadInput
from shopcli.shop.amounts import from_minor
from shopcli.shop.hours import local_day, midnight
from shopcli.shop.ledger import (
    CREDIT_NOTE,
    INVOICE,
    Document,
    Ledger,
    Paid,
    Sold,
    Taxed,
    line_of_payment,
    lines_of,
    rates_of,
    wrong_with,
)
from shopcli.store.shop import Shop

DOCUMENTS = """
SELECT at, kind, number, card, customer_id, customer, net, tax, gross, body FROM (
  SELECT i.issued_at AS at, 'invoice' AS kind, i.number AS number, c.number AS card, k.id AS customer_id,
         k.name AS customer, i.net_minor AS net, i.vat_minor AS tax, i.gross_minor AS gross, i.body AS body, i.id AS id
  FROM invoice i JOIN card c ON c.id = i.card_id JOIN customer k ON k.id = c.customer_id
  UNION ALL
  SELECT n.issued_at, 'credit note', n.number, c.number, k.id, k.name, n.net_minor, n.vat_minor, n.gross_minor, n.body, n.id
  FROM credit_note n JOIN card c ON c.id = n.card_id JOIN customer k ON k.id = c.customer_id
) AS documents WHERE at >= ? AND at < ? ORDER BY at, kind DESC, id"""
PAYMENTS = """
SELECT p.at, p.kind, p.id, c.number, k.id, k.name, p.method, p.amount_minor
FROM payment p JOIN card c ON c.id = p.card_id JOIN customer k ON k.id = c.customer_id
WHERE p.at >= ? AND p.at < ? ORDER BY p.at, p.id"""
OWED = """
SELECT COALESCE((SELECT SUM(gross_minor) FROM invoice WHERE issued_at < ?), 0)
     - COALESCE((SELECT SUM(gross_minor) FROM credit_note WHERE issued_at < ?), 0)
     - COALESCE((SELECT SUM(amount_minor) FROM payment WHERE at < ?), 0)"""


def ledger(shop: Shop, first: date, last: date) -> Ledger:
    """Return the books from one day to another, both counted.

    Raises
    ------
    BadInput
        When the last day is before the first.
    """
    if last < first:
        raise BadInput(f"from {first} to {last}", hint="Write the earlier day first.")
    zone, accounts = shop.settings.tz(), shop.settings.accounts
    since, until = midnight(first, zone), midnight(last + timedelta(days=1), zone)
    documents, payments = tuple(_documents(shop, since, until)), tuple(_payments(shop, since, until))
    booked = [line for document in documents for line in lines_of(document, accounts)]
    lines = (*booked, *(line_of_payment(paid, accounts) for paid in payments))
    opening, closing = _owed(shop, since), _owed(shop, until)
    return Ledger(
        first=first,
        last=last,
        currency=shop.settings.currency,
        lines=tuple(sorted(lines, key=lambda line: line.on)),
        documents=len(documents) + len(payments),
        net=sum((d.sign * d.net for d in documents), Decimal("0.00")),
        tax=sum((d.sign * d.tax for d in documents), Decimal("0.00")),
        taken=sum((p.amount for p in payments), Decimal("0.00")),
        opening=opening,
        closing=closing,
        rates=rates_of(booked),
        wrong=tuple(wrong_with(lines, documents, payments, opening, closing)),
    )


def _owed(shop: Shop, until: int) -> Decimal:
    return from_minor(int(shop.fetch(OWED, (until, until, until))[0][0]))


def _documents(shop: Shop, since: int, until: int) -> Iterator[Document]:
    zone = shop.settings.tz()
    for at, kind, number, card, customer_id, customer, net, tax, gross, body in shop.fetch(
        DOCUMENTS, (since, until)
    ):
        # Bodies of before bills were kept whole have neither number nor buyer, nor what stands at the foot.
        said: dict[str, Any] = json.loads(body)
        yield Document(
            on=local_day(at, zone),
            kind=CREDIT_NOTE if kind == CREDIT_NOTE else INVOICE,
            number=said.get("number") or str(number),
            card=card,
            customer_id=customer_id,
            customer=said["buyer"]["name"] if "buyer" in said else customer,
            sold=tuple(
                Sold(x["kind"], x["category"], Decimal(x["percent"]), Decimal(x["net"]))
                for x in said["lines"]
            ),
            groups=tuple(
                Taxed(g["vat"], g["category"], Decimal(g["percent"]), Decimal(g["basis"]), Decimal(g["tax"]))
                for g in said["groups"]
            ),
            rounding=Decimal(said.get("rounding", 0)),
            net=from_minor(net),
            tax=from_minor(tax),
            gross=from_minor(gross),
        )


def _payments(shop: Shop, since: int, until: int) -> Iterator[Paid]:
    zone = shop.settings.tz()
    for at, kind, key, card, customer_id, customer, method, minor in shop.fetch(PAYMENTS, (since, until)):
        yield Paid(
            local_day(at, zone),
            kind,
            f"R{key:05d}",
            card,
            customer_id,
            customer,
            method,
            from_minor(minor),
        )
