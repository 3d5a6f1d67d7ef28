"""Issuing: the number and the figures are fixed in the transaction that closes the card."""

import json
from decimal import Decimal

from sqlmodel import Session, select

from shopcli.shop.act import Act
from shopcli.shop.amounts import to_minor
from shopcli.shop.cards import next_number
from shopcli.shop.common import key_of, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.money import Line, Totals, total
from shopcli.shop.pricing import bill_lines, paid
from shopcli.shop.records import Card, CardPart, Invoice


def _sum(lines: tuple[Line, ...], kinds: frozenset[str]) -> Decimal:
    return sum((line.net for line in lines if line.kind in kinds), Decimal(0))


def _body(lines: tuple[Line, ...], totals: Totals) -> str:
    """Write the figures down as they were issued; a paper printed later reads these and recomputes nothing."""
    return json.dumps(
        {
            "lines": [
                {
                    "id": line.id,
                    "kind": line.kind,
                    "description": line.description,
                    "qty": str(line.qty),
                    "unit": line.unit,
                    "price": str(line.price),
                    "net": str(line.net),
                    "vat": line.vat,
                    "percent": str(line.percent),
                    "category": line.category,
                }
                for line in lines
            ],
            "line_net": str(totals.line_net),
            "without_vat": str(totals.without_vat),
            "vat": str(totals.vat),
            "with_vat": str(totals.with_vat),
            "paid": str(totals.paid),
            "due": str(totals.due),
            "groups": [
                {
                    "vat": g.vat,
                    "category": g.category,
                    "percent": str(g.percent),
                    "basis": str(g.basis),
                    "tax": str(g.tax),
                }
                for g in totals.groups
            ],
        },
        ensure_ascii=False,
        sort_keys=True,
    )


def issue(session: Session, act: Act, card: Card) -> Invoice:
    """Issue the invoice of a card: next number, figures as they stand, never changed afterwards."""
    fetch = fetcher(session)
    lines = bill_lines(fetch, key_of(card), act.settings, act.at)
    totals = total(lines, paid=paid(fetch, key_of(card)))
    labour = sum(
        (line.qty * (60 if line.unit == "h" else 1) for line in lines if line.kind == "labour"), Decimal(0)
    )
    parts = select(CardPart).where(CardPart.card_id == card.id, CardPart.state == "fitted")
    cost = sum(
        (Decimal(p.cost_minor) * p.qty_milli / 1000 for p in session.exec(parts) if not p.customers_own),
        Decimal(0),
    )
    return saved(
        session,
        Invoice(
            number=next_number(session, "invoice"),
            card_id=key_of(card),
            issued_at=act.at,
            issued_by=act.by,
            net_minor=to_minor(totals.without_vat),
            vat_minor=to_minor(totals.vat),
            gross_minor=to_minor(totals.with_vat),
            due_minor=to_minor(totals.due),
            labour_minutes=round(labour),
            labour_minor=to_minor(_sum(lines, frozenset({"labour"}))),
            parts_minor=to_minor(_sum(lines, frozenset({"part"}))),
            parts_cost_minor=round(cost),
            week=card.closed_week,
            body=_body(lines, totals),
        ),
    )
