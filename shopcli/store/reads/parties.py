"""The shop and a customer as parties of a paper, from the settings and the records of today."""

from shopcli.shop.bill import Party
from shopcli.shop.offer_paper import seller
from shopcli.store.shop import Shop


def shop_party(shop: Shop) -> Party:
    """Return the shop."""
    return seller(shop.settings)


CUSTOMER = "k.name, k.address, k.city, k.post_code, k.country, k.vat_number, k.phone, k.email"


def customer_party(
    name: str, address: str, city: str, post_code: str, country: str, vat_number: str, phone: str, email: str
) -> Party:
    r"""Return a customer as the columns `CUSTOMER` of its row say it.

    Examples
    --------
    >>> customer_party("Ada Lark", "2 Proof Road\n\nLittle Proof", "", "", "", "", "", "").address
    ('2 Proof Road', 'Little Proof')
    """
    lines = tuple(line for line in address.split("\n") if line.strip())
    return Party(name, lines, city, post_code, country, vat_number, phone=phone, email=email)
