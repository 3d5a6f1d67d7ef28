"""What the bench reads: a card with its tasks in the order of work, every running clock, the tools of the shop.

The order is made in the reading thread. Until it is there a card shows as it is listed, with no task chosen but
one that somebody was at already.
"""

from dataclasses import dataclass

from shopcli.shop.ordered import Order, StepView
from shopcli.shop.views import CardView, ClockView
from shopcli.store.reads import bench, orders, people
from shopcli.store.reads.lately import newest_act
from shopcli.store.reads.tools import tools
from shopcli.store.shop import Shop
from shopcli.worklists.tools import OwnedTool


@dataclass(frozen=True, slots=True)
class Seen:
    """A card as it was read at a second; `order` is None while it is still being made."""

    view: CardView
    clocks: tuple[ClockView, ...]
    at: int
    tools: tuple[OwnedTool, ...] = ()
    order: Order | None = None
    newest: int = 0  # the last act that was done before it was read

    def step(self, task_id: int | None) -> StepView | None:
        """Return the place of a task in the order of work."""
        return self.order.view.step(task_id) if self.order else None


def read_at_once(shop: Shop, card_id: int, order: Order | None) -> Seen:
    """Read a card and put it into an order that is known; without one it stands as listed."""
    newest = newest_act(shop)
    view = bench.card(shop, card_id)
    shown = orders.in_order(view, order) if order else view
    return Seen(shown, people.clocks_and_breaks(shop), shop.at(), tools(shop), order, newest)


def read_card(shop: Shop, card_id: int, before: Order | None) -> Seen:
    """Read a card in the order of work, made anew where something has changed since `before`."""
    return read_at_once(shop, card_id, orders.order(shop, card_id, before=before))


def read_if_changed(shop: Shop, seen: Seen) -> Seen:
    """Read a card anew where anything was done since it was read; else what was read is handed back."""
    if seen.order is not None and newest_act(shop) == seen.newest:
        return seen
    return read_card(shop, seen.view.id, seen.order)
