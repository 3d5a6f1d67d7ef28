"""The shop and a customer as parties of a paper, from the settings and the records of today."""

from shopcli.shop.bill import Party
from shopcli.shop.offer_paper import seller
from shopcli.store.shop import Shop


def shop_party(shop: Shop) -> Party:
    """Return the shop."""
    return seller(shop.settings)


def customer_party(name: str, address: str, phone: str, email: str) -> Party:
    r"""Return a customer as the columns of its row say it.

    Examples
    --------
    >>> customer_party("Ada Lark", "2 Proof Road\n\nLittle Proof", "", "").address
    ('2 Proof Road', 'Little Proof')
    """
    return Party(name, tuple(line for line in address.split("\n") if line.strip()), phone=phone, email=email)
