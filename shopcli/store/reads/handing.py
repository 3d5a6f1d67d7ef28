"""What the counter has to know of a closed card: its invoice, its account, what was paid, what goes back."""

from shopcli.shop.balance import balance
from shopcli.shop.handing_view import Handing
from shopcli.store.reads.bench import card
from shopcli.store.reads.bills import bill_of_card
from shopcli.store.reads.summary import payments
from shopcli.store.shop import Shop


def handing(shop: Shop, card_id: int) -> Handing:
    """Return a closed card as the counter needs it.

    Raises
    ------
    NotFound
        When its invoice was not issued yet.
    """
    bill = bill_of_card(shop, card_id)
    return Handing(
        card(shop, card_id), bill.number, bill.due_by, balance(shop.fetch, card_id), payments(shop, card_id)
    )
