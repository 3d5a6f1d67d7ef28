"""Issuing: the number and the figures are fixed in the transaction that closes the card."""

from collections.abc import Iterable
from decimal import Decimal

from sqlmodel import Session, select

from shopcli.shop.act import Act
from shopcli.shop.amounts import to_minor
from shopcli.shop.bill import BillLine
from shopcli.shop.billing import bill
from shopcli.shop.card_bill import card_bill
from shopcli.shop.cards import next_number
from shopcli.shop.common import key_of, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.kept_json import to_json
from shopcli.shop.records import Card, CardPart, Invoice


def net_of(lines: Iterable[BillLine], kind: str) -> int:
    """Return the net of the lines of one kind, in minor units."""
    return to_minor(sum((line.net for line in lines if line.kind == kind), Decimal("0.00")))


def issue(session: Session, act: Act, card: Card) -> Invoice:
    """Issue the invoice of a card: next number, figures as they stand, never changed afterwards.

    `due_minor` is what is left to pay at the issue, `body` the whole bill; a paper printed later reads it and
    reckons nothing.
    """
    now = card_bill(fetcher(session), key_of(card), act.settings, act.at)
    number = next_number(session, "invoice")
    whole = bill(session, act, card, number, now)
    minutes = sum(
        (line.qty * (60 if line.unit == "h" else 1) for line in whole.lines if line.kind == "labour"),
        Decimal(0),
    )
    parts = select(CardPart).where(CardPart.card_id == card.id, CardPart.state == "fitted")
    cost = sum(
        (Decimal(p.cost_minor) * p.qty_milli / 1000 for p in session.exec(parts) if not p.customers_own),
        Decimal(0),
    )
    return saved(
        session,
        Invoice(
            number=number,
            card_id=key_of(card),
            issued_at=act.at,
            issued_by=act.by,
            net_minor=to_minor(whole.without_vat),
            vat_minor=to_minor(whole.tax),
            gross_minor=to_minor(whole.with_vat + whole.rounding),
            due_minor=to_minor(whole.due),
            labour_minutes=round(minutes),
            labour_minor=net_of(whole.lines, "labour"),
            parts_minor=net_of(whole.lines, "part"),
            parts_cost_minor=round(cost),
            week=card.closed_week,
            body=to_json(whole),
        ),
    )
