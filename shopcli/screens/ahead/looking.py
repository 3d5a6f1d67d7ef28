"""What the screens that look ahead read, each in one question, in a reading thread; the heavy parts are loaded there."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopcli.store.shop import Shop

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shopcli.store.reads.ahead import CardAhead
    from shopcli.store.reads.made_offers import OfferView
    from shopcli.where_words import Block

# Of a remark in the desk's list: how loud.
LOUD = {"bad": "bold $text-error", "open": "$text-warning"}


@dataclass(frozen=True, slots=True)
class Before:
    """Jobs that are only asked about: of a vehicle that is written down, or known by its sheet alone."""

    templates: tuple[str, ...]
    vehicle_id: int | None = None
    sheet: str = ""
    customer_id: int | None = None


@dataclass(frozen=True, slots=True)
class Seen:
    """What a screen shows: a heading, blocks, and of a card what stands behind them."""

    heading: str
    blocks: "tuple[Block, ...]"
    card: "CardAhead | None" = None


def look_at_card(shop: Shop, card_id: int, wanted: date | None) -> Seen:
    """Return what is to come of a card."""
    from shopcli.price_words import card_blocks
    from shopcli.store.reads.ahead import card_ahead

    seen = card_ahead(shop, card_id, wanted)
    blocks = card_blocks(seen, today(shop), shop.settings.currency)
    return Seen(f"{seen.number}  {seen.registration}  {seen.customer}  {seen.phone}".rstrip(), blocks, seen)


def look_before(shop: Shop, asked: Before, wanted: date | None) -> Seen:
    """Return what jobs would cost and when they could be ready."""
    from shopcli.price_words import price_blocks, promise_blocks
    from shopcli.store.reads.prices import price_for
    from shopcli.store.reads.promises import promise_for

    price = price_for(
        shop, asked.templates, asked.vehicle_id, sheet=asked.sheet, customer_id=asked.customer_id
    )
    ready = promise_for(shop, asked.templates, asked.vehicle_id, sheet=asked.sheet, wanted=wanted)
    count = len(asked.templates)
    return Seen(
        f"{count} {'job' if count == 1 else 'jobs'} asked about",
        (*price_blocks(price), *promise_blocks(ready)),
    )


def look_at_offers(shop: Shop) -> "tuple[tuple[OfferView, ...], date]":
    """Return the offers, newest first, and the day it is."""
    from shopcli.store.reads.made_offers import made_offers

    return made_offers(shop), today(shop)


def look_at_risks(shop: Shop) -> "dict[int, Sequence[tuple[str, str]]]":
    """Return by card what the desk should know ahead, each remark with its style."""
    from shopcli.price_words import LOUD as LEVELS
    from shopcli.price_words import a_day, authority_words
    from shopcli.store.reads.ahead import ahead

    coming, now = ahead(shop), today(shop)
    found: dict[int, list[tuple[str, str]]] = {}
    for card_id, view in coming.authorities.items():
        if words := authority_words(view, shop.settings.currency):
            found[card_id] = [(words, LOUD[LEVELS[view.level]])]
    for card_id, slip in coming.late.items():
        words = f"by the queue sure by {a_day(slip.after, now)}"
        found.setdefault(card_id, []).append((words, LOUD["open"]))
    return dict(found)


def today(shop: Shop) -> date:
    """Return the date in the shop's zone."""
    return shop.local(shop.at()).date()
