"""What the desk's screens read, each in one question, so that a picture is of one moment."""

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from shopcli.shop.listed import CardRow, ClockView
from shopcli.store.reads.open_cards import open_cards
from shopcli.store.reads.people import clocks_and_breaks
from shopcli.store.shop import Shop

if TYPE_CHECKING:
    from shopcli.shop.handing_view import ClosedRow
    from shopcli.shop.ordered import Order

MOST = 500


class OpenCards(NamedTuple):
    """The open cards that fit a text, `more` when there are others beyond them; and the closed ones it names."""

    text: str
    rows: tuple[CardRow, ...]
    more: bool
    clocks: tuple[ClockView, ...]
    today: date
    at: int
    closed: "tuple[ClosedRow, ...]" = ()

    def clock_of(self, person_id: int) -> ClockView | None:
        """Return the running clock of somebody, or their break."""
        return next((c for c in self.clocks if c.person_id == person_id), None)


def today(shop: Shop) -> date:
    """Return the date in the shop's zone."""
    return shop.local(shop.at()).date()


def look_at_cards(shop: Shop, text: str) -> OpenCards:
    """Return the open cards narrowed by every word of `text`, and the closed ones where something is typed."""
    rows = open_cards(shop, text, limit=MOST + 1)
    clocks, more = clocks_and_breaks(shop), len(rows) > MOST
    return OpenCards(text, rows[:MOST], more, clocks, today(shop), shop.at(), _closed(shop, text))


def _closed(shop: Shop, text: str) -> "tuple[ClosedRow, ...]":
    if not text.strip():
        return ()
    from shopcli.store.reads.closed_cards import closed_cards

    return closed_cards(shop, text)


def look_at_order(shop: Shop, card_id: int, before: "Order | None") -> "tuple[Order, str]":
    """Return the order of work of a card, and in words what is left; the planner is loaded here, not before."""
    from shopcli.orderwords import left_words
    from shopcli.store.reads.orders import order

    made = order(shop, card_id, before=before)
    return made, left_words(made.view)
