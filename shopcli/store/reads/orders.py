"""The order of work as it is looked at, and a card with its tasks standing in it."""

from dataclasses import replace

from shopcli.shop.order_of_work import order_of_work
from shopcli.shop.ordered import Order
from shopcli.shop.views import CardView, TaskView
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


def next_for(view: CardView, order: Order | None, who: str, without: int | None = None) -> TaskView | None:
    """Return what somebody does next on a card in its order.

    That is the first open task that waits for no other and nothing bars, that nobody else is at or was asked for;
    where there is none such, the first that comes near it. `without` is a task that has been settled since.
    """

    def free(task: TaskView) -> bool:
        step = order.view.step(task.id) if order else None
        asked_of = step.who if step is not None and f"by {step.who}" in step.wish else who
        return not set(task.running) - {who} and asked_of == who

    still = [t for t in view.tasks if t.state == "open" and t.id != without]
    ahead = {t.task.key for t in still}
    mine = [t for t in still if free(t)]
    ready = [t for t in mine if not t.barred_by and not ahead & set(t.task.after)]
    return next(iter([*ready, *(t for t in mine if not t.barred_by), *mine, *still]), None)
