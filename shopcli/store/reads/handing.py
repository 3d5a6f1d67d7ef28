"""What the counter has to know of a closed card: its invoice, its account, what was paid, what goes back."""

from shopcli.shop.balance import balance
from shopcli.shop.card_bill import card_bill
from shopcli.shop.handing_view import Handing, MoneyNow
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


def money_now(shop: Shop, card_id: int) -> MoneyNow:
    """Return what a card comes to and what is due on it: by its account once it has an invoice, else as it stands.

    Raises
    ------
    NotFound
        When there is no such card.
    """
    view = card(shop, card_id)
    if view.state == "closed":
        account = balance(shop.fetch, card_id)
        number = bill_of_card(shop, card_id).number
        return MoneyNow(view, number, account.invoiced, account.paid, account.due)
    now = card_bill(shop.fetch, card_id, shop.settings, shop.at()).totals
    return MoneyNow(view, "", now.with_vat, now.paid, now.due)
