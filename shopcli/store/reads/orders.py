"""The order of work as it is looked at, and a card with its tasks standing in it."""

from dataclasses import replace

from shopcli.shop.order_of_work import order_of_work
from shopcli.shop.ordered import Order
from shopcli.shop.views import CardView
from shopcli.store.shop import Shop


def order(shop: Shop, card_id: int, *, hands: int | None = None, before: Order | None = None) -> Order:
    """Return the order of work of a card; `before` is handed back while nothing that matters has changed.

    Raises
    ------
    NotFound
        When there is no such card.
    """
    usual, tags = shop.settings.hands, shop.tag_kinds
    return order_of_work(
        shop.fetch, card_id, shop.at(), usual_hands=usual, tags=tags, hands=hands, before=before
    )


def in_order(view: CardView, order: Order) -> CardView:
    """Return a card with its tasks in the order of work; what the order does not know yet comes last, as listed."""
    place = {task_id: index for index, task_id in enumerate(order.sequence)}
    last = len(place)
    return replace(view, tasks=tuple(sorted(view.tasks, key=lambda t: (place.get(t.id, last), t.position))))
