"""A payment as a receipt says it: what it was for, and what is left to pay after it."""

import json
from decimal import Decimal

from shopcli.errors import NotFound
from shopcli.shop.amounts import from_minor
from shopcli.shop.paper_views import ReceiptView
from shopcli.store.reads.desk import vehicle_name
from shopcli.store.reads.parties import CUSTOMER, customer_party, shop_party
from shopcli.store.shop import Shop

PAYMENTS = """
SELECT p.id, p.kind, p.amount_minor, p.method, p.at, n.name, p.reason FROM payment p JOIN person n ON n.id = p.taken_by
WHERE p.card_id = ? ORDER BY p.id"""
CREDITED = "SELECT COALESCE(SUM(gross_minor), 0) FROM credit_note WHERE card_id = ? AND issued_at <= ?"
CARD = f"""
SELECT c.number, v.registration, v.make, v.model, v.year, {CUSTOMER},
       i.number, i.gross_minor, i.body
FROM card c JOIN vehicle v ON v.id = c.vehicle_id JOIN customer k ON k.id = v.customer_id
LEFT JOIN invoice i ON i.card_id = c.id WHERE c.id = ?"""


def receipt(shop: Shop, card_id: int, which: int = 0) -> ReceiptView:
    """Return the receipt of a payment on a card.

    Parameters
    ----------
    shop : Shop
        The shop.
    card_id : int
        The card.
    which : int, optional
        The first payment is 1; 0 means the last.

    Raises
    ------
    NotFound
        When there is no such payment.
    """
    paid = shop.fetch(PAYMENTS, (card_id,))
    if not 0 <= which <= len(paid) or not paid:
        raise NotFound(
            f"payment {which} of that card was not taken" if paid else "no money was taken on that card",
            hint=f"There are {len(paid)}.",
        )
    at = (which or len(paid)) - 1
    key, kind, minor, method, when, by, reason = paid[at]
    credited = from_minor(int(shop.fetch(CREDITED, (card_id, when))[0][0]))
    card, registration, make, model, year, *customer, number, gross, body = shop.fetch(CARD, (card_id,))[0]
    amount = from_minor(minor)
    before = sum((from_minor(p[2]) for p in paid[:at]), Decimal(0))
    total = None if gross is None else from_minor(gross)
    return ReceiptView(
        number=f"R{key:05d}",
        on=shop.local(when).date(),
        currency=shop.settings.currency,
        seller=shop_party(shop),
        payer=customer_party(*customer),
        kind=kind,
        method=method,
        amount=amount,
        towards=f"card {card}" if body is None else f"invoice {_printed(body, number)}, card {card}",
        vehicle=f"{registration}, {vehicle_name(make, model, year)}",
        total=total,
        paid_before=None if total is None else before,
        left=None if total is None else total - credited - before - amount,
        taken_by=by,
        note=reason,
        credited=credited,
    )


def _printed(body: str, number: int) -> str:
    # Bodies of the first form did not hold the number as it was printed.
    return str(json.loads(body).get("number", number))
