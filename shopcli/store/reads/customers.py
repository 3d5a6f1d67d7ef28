"""A customer as the form that changes one shows it."""

from shopcli.errors import NotFound
from shopcli.shop.known import CustomerEntry
from shopcli.store.shop import Shop

ENTRY = """
SELECT id, version, name, phone, email, address, city, post_code, country, vat_number, reverse_charge
FROM customer WHERE id = ?"""
OF_CARD = "SELECT customer_id FROM card WHERE id = ?"


def customer_entry(shop: Shop, customer_id: int) -> CustomerEntry:
    """Return all that is written of a customer.

    Raises
    ------
    NotFound
        When there is none.
    """
    for row in shop.fetch(ENTRY, (customer_id,)):
        return CustomerEntry(*row[:10], bool(row[10]))
    raise NotFound(f"there is no customer {customer_id}", hint="See: shopcli customers")


def customer_of_card(shop: Shop, card_id: int) -> CustomerEntry:
    """Return whose card it is."""
    rows = shop.fetch(OF_CARD, (card_id,))
    return customer_entry(shop, rows[0][0] if rows else 0)
