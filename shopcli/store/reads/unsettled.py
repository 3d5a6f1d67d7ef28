"""Every invoice that is not settled, by itself: who only asks what is owed waits for no statement."""

import json
import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.amounts import from_minor
from shopcli.shop.bill_numbers import bill_number
from shopcli.store.shop import Shop

OPEN = """
WITH account AS (
    SELECT card_id, SUM(minor) AS due FROM (
        SELECT card_id, gross_minor AS minor FROM invoice
        UNION ALL SELECT card_id, -gross_minor FROM credit_note
        UNION ALL SELECT card_id, -amount_minor FROM payment
    ) AS booked GROUP BY card_id HAVING SUM(minor) <> 0
)
SELECT c.id, c.number, i.number, i.issued_at, i.body, k.id, k.name, k.phone, v.registration,
       a.due
FROM account a JOIN invoice i ON i.card_id = a.card_id JOIN card c ON c.id = a.card_id
JOIN customer k ON k.id = c.customer_id JOIN vehicle v ON v.id = c.vehicle_id
ORDER BY i.issued_at, i.id"""
DUE_BY = re.compile(r'"due_by": ?"(\d{4}-\d{2}-\d{2})"')


@dataclass(frozen=True, slots=True)
class Unsettled:
    """An invoice not settled: `due` above zero is owed to the shop, below zero to the customer."""

    card_id: int
    card: str
    number: str
    issued: date
    due_by: date
    customer_id: int
    customer: str
    phone: str
    registration: str
    due: Decimal

    def days_past(self, today: date) -> int:
        """Return by how many days it is past its day, zero or less while it is not."""
        return (today - self.due_by).days


def unsettled(shop: Shop) -> tuple[Unsettled, ...]:
    """Return every invoice that is not settled, oldest first."""
    return tuple(
        Unsettled(
            card_id,
            card,
            bill_number(shop.settings.invoice_prefix, number),
            issued := shop.local(at).date(),
            _due_by(body, issued),
            customer_id,
            name,
            phone,
            registration,
            from_minor(int(due)),
        )
        for card_id, card, number, at, body, customer_id, name, phone, registration, due in shop.fetch(
            OPEN, ()
        )
    )


def _due_by(body: str, issued: date) -> date:
    # The whole body is read only where the day does not stand in it as it is written: quotes within a text are escaped.
    plain = DUE_BY.search(body)
    text = plain[1] if plain else json.loads(body).get("due_by")
    return date.fromisoformat(text) if text else issued
