"""What the desk should know ahead: cards heading past their authority, and promises at risk. For a reading thread."""

from collections.abc import Mapping
from dataclasses import dataclass

from shopcli.shop.authority import AuthorityView, authorities
from shopcli.shop.past_times import estimator
from shopcli.shop.price_views import Slip
from shopcli.shop.promise_ahead import Queue, late
from shopcli.shop.queue_now import cards_left
from shopcli.store.reads.promises import people_at_work
from shopcli.store.shop import Shop


@dataclass(frozen=True, slots=True)
class Ahead:
    """By card: how it stands to its authority, and a promise the queue will not keep."""

    authorities: Mapping[int, AuthorityView]
    late: Mapping[int, Slip]


def ahead(shop: Shop) -> Ahead:
    """Return what is coming, for all open cards at once."""
    at = shop.at()
    there = estimator(shop.fetch, at)
    queue = Queue(cards_left(shop.fetch, at), there, shop.settings, at, people_at_work(shop))
    return Ahead(
        {view.card_id: view for view in authorities(shop.fetch, shop.settings, there, at)},
        {slip.card_id: slip for slip in late(queue.cards, queue.played(queue.cards))},
    )


def authority_of(shop: Shop, card_id: int) -> AuthorityView | None:
    """Return how a card stands to its authority; None where none is written, or it is ready."""
    at = shop.at()
    found = authorities(shop.fetch, shop.settings, estimator(shop.fetch, at), at)
    return next((view for view in found if view.card_id == card_id), None)
