"""An issued bill as it was written down, whole; nothing of it is reckoned anew.

A body written since bills are kept whole holds a `Bill`. Before that it held lines and sums alone: who sold and
who bought is then taken from the settings and the records of today, and the day it was issued from its row.
"""

import json
from datetime import date
from decimal import Decimal
from typing import Any

from shopcli.errors import NotFound
from shopcli.shop.amounts import from_minor
from shopcli.shop.bill import Bill, BillGroup, BillLine, BillPayment
from shopcli.shop.kept_json import from_json
from shopcli.store.reads.desk import vehicle_name
from shopcli.store.reads.parties import CUSTOMER, customer_party, shop_party
from shopcli.store.shop import Shop

INVOICE = "SELECT id, number, issued_at, body FROM invoice WHERE card_id = ?"
CREDIT = "SELECT body FROM credit_note WHERE number = ?"
CREDIT_OF = "SELECT n.number, c.number FROM credit_note n JOIN card c ON c.id = n.card_id WHERE n.id = ?"
CARD = f"""
SELECT c.number, c.odometer, c.closed_at, v.registration, v.make, v.model, v.year, v.distance_unit,
       {CUSTOMER}
FROM card c JOIN vehicle v ON v.id = c.vehicle_id JOIN customer k ON k.id = v.customer_id WHERE c.id = ?"""
PAID = "SELECT kind, amount_minor, method, at FROM payment WHERE card_id = ? AND at <= ? ORDER BY id"
LONGEST = 9  # figures of a number
BY_THE_HOUR = 60  # a line in minutes is priced by the hour


def bill_of_card(shop: Shop, card_id: int) -> Bill:
    """Return the invoice of a card as it was issued.

    Raises
    ------
    NotFound
        When none has been issued.
    """
    rows = shop.fetch(INVOICE, (card_id,))
    if not rows:
        raise NotFound("no invoice of that card has been issued", hint="It is issued when the card closes.")
    _key, number, issued_at, body = rows[0]
    data = json.loads(body)
    return (
        from_json(Bill, body)
        if "seller" in data
        else _without_parties(shop, card_id, number, issued_at, data)
    )


def credit_note_named(shop: Shop, credit_note_id: int) -> tuple[int, str]:
    """Return the number of a credit note and that of its card."""
    number, card = shop.fetch(CREDIT_OF, (credit_note_id,))[0]
    return int(number), str(card)


def credit_note(shop: Shop, number: str) -> Bill:
    """Return the credit note of that number, like ``CN-000004`` or ``4``, as it was issued.

    Raises
    ------
    NotFound
        When there is none.
    """
    figures = "".join(c for c in number if c.isdecimal())
    rows = shop.fetch(CREDIT, (int(figures),)) if 0 < len(figures) <= LONGEST else []
    if not rows:
        raise NotFound(
            f"there is no credit note '{number[:20]}'", hint="Its number stands in its right corner."
        )
    return from_json(Bill, rows[0][0])


def _without_parties(shop: Shop, card_id: int, number: int, issued_at: int, data: dict[str, Any]) -> Bill:
    card, odometer, closed_at, registration, make, model, year, unit, *customer = shop.fetch(
        CARD, (card_id,)
    )[0]
    figures = {k: Decimal(data[k]) for k in ("line_net", "without_vat", "vat", "with_vat", "paid", "due")}
    issued = shop.local(issued_at).date()
    return Bill(
        kind="invoice",
        number=str(number),
        issued=issued,
        due_by=None,
        supplied=shop.local(closed_at).date() if closed_at else None,
        currency=shop.settings.currency,
        seller=shop_party(shop),
        buyer=customer_party(*customer),
        card=card,
        vehicle=f"{registration}, {vehicle_name(make, model, year)}",
        odometer="" if odometer is None else f"{odometer:,} {unit}",
        order="",
        lines=tuple(map(_line, data["lines"])),
        allowances=(),
        groups=tuple(map(_group, data["groups"])),
        payments=_payments(shop, card_id, issued_at, figures["paid"]),
        line_net=figures["line_net"],
        allowance_sum=Decimal("0.00"),
        charge_sum=Decimal("0.00"),
        without_vat=figures["without_vat"],
        tax=figures["vat"],
        with_vat=figures["with_vat"],
        paid=figures["paid"],
        rounding=Decimal("0.00"),
        due=figures["due"],
    )


def _line(x: dict[str, Any]) -> BillLine:
    return BillLine(
        id=x["id"],
        kind=x["kind"],
        description=x["description"],
        qty=Decimal(x["qty"]),
        unit=x["unit"],
        price=Decimal(x["price"]),
        base_qty=BY_THE_HOUR if x["unit"] == "min" else 1,
        net=Decimal(x["net"]),
        vat=x["vat"],
        percent=Decimal(x["percent"]),
        category=x["category"],
    )


def _group(g: dict[str, Any]) -> BillGroup:
    return BillGroup(g["vat"], g["category"], Decimal(g["percent"]), Decimal(g["basis"]), Decimal(g["tax"]))


def _payments(shop: Shop, card_id: int, issued_at: int, paid: Decimal) -> tuple[BillPayment, ...]:
    """Return the payments taken up to the issue, none where they are not what was counted then."""
    found = tuple(
        BillPayment(kind, from_minor(amount), method, _day(shop, at))
        for kind, amount, method, at in shop.fetch(PAID, (card_id, issued_at))
    )
    return found if sum((p.amount for p in found), Decimal(0)) == paid else ()


def _day(shop: Shop, at: int) -> date:
    return shop.local(at).date()
