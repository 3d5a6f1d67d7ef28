"""What was credited on an invoice so far."""

from decimal import Decimal

from shopcli.shop.amounts import from_minor
from shopcli.shop.fetching import Fetch

CREDITED_SQL = "SELECT COALESCE(SUM(gross_minor), 0) FROM credit_note WHERE card_id = ?"


def credited(fetch: Fetch, card_id: int) -> Decimal:
    """Return the sum of the credit notes of a card's invoice, with tax."""
    return from_minor(int(fetch(CREDITED_SQL, (card_id,))[0][0]))
