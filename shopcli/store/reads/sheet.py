"""A card as it is printed to hang on the car: its tasks in the order of work, and when it was printed."""

from shopcli.present import day
from shopcli.shop.views import CardView
from shopcli.store.reads.bench import card
from shopcli.store.reads.orders import in_order, order
from shopcli.store.shop import Shop


def card_to_print(shop: Shop, card_id: int) -> tuple[CardView, str]:
    """Return the card in the order of work, and the moment in words."""
    view = card(shop, card_id)
    now = shop.local(shop.at())
    return in_order(view, order(shop, card_id)), f"{day(now.date())} {now.year} {now:%H:%M}"
