"""What the desk should know ahead: cards heading past their authority, and promises at risk. For a reading thread."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from shopcli.errors import NotFound
from shopcli.shop.authority import AuthorityView, authorities
from shopcli.shop.past_times import estimator
from shopcli.shop.price_views import PromiseView, Slip
from shopcli.shop.promise_ahead import Queue, late
from shopcli.shop.queue_now import cards_left
from shopcli.store.reads.bench import card
from shopcli.store.reads.made_offers import OfferView, made_offers
from shopcli.store.reads.promises import people_at_work, promise_of
from shopcli.store.shop import Shop

TEMPLATES = "SELECT template FROM card_template WHERE card_id = ? ORDER BY id"


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
    """Return how an open card stands to its authority, and where it is heading; None when it is ready or over."""
    at = shop.at()
    found = authorities(shop.fetch, shop.settings, estimator(shop.fetch, at), at, card_id)
    return next(iter(found), None)


@dataclass(frozen=True, slots=True)
class CardAhead:
    """What is to come of one card: what it will cost, when it will be ready, what was offered for it."""

    id: int
    version: int
    number: str
    registration: str
    vehicle_id: int
    vehicle: str
    customer: str
    phone: str
    state: str
    promised: date | None
    templates: tuple[str, ...]
    money: AuthorityView | None
    promise: PromiseView | None
    offers: tuple[OfferView, ...]


def card_ahead(shop: Shop, card_id: int, wanted: date | None = None) -> CardAhead:
    """Return what is to come of a card; `wanted` is a date to be looked at instead of its promise.

    Raises
    ------
    NotFound
        When there is no such card.
    """
    view = card(shop, card_id)
    rows = shop.fetch(TEMPLATES, (card_id,))
    try:
        ready = promise_of(shop, card_id, wanted)
    except NotFound:
        ready = None
    return CardAhead(
        id=card_id,
        version=view.version,
        number=view.number,
        registration=view.registration,
        vehicle_id=view.vehicle_id,
        vehicle=view.vehicle,
        customer=view.customer,
        phone=view.phone,
        state=view.state,
        promised=view.promised,
        templates=tuple(dict.fromkeys(name for (name,) in rows)),
        money=authority_of(shop, card_id),
        promise=ready,
        offers=made_offers(shop, card_id=card_id),
    )
