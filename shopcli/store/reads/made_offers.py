"""The offers that were made: a list of them, and one whole as it was written down."""

import json
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from shopcli.errors import NotFound
from shopcli.shop.amounts import from_minor
from shopcli.shop.kept_json import from_json
from shopcli.shop.offer_paper import offer_number
from shopcli.shop.offer_view import OfferPaper, OfferReply
from shopcli.store.shop import Shop

OFFERS = """
SELECT o.id, o.number, o.made_at, p.name, o.vehicle_id, v.registration, k.name, k.phone, o.card_id,
       COALESCE(c.number, ''), o.templates, o.valid_until, o.usual_min, o.most_min, o.gross_minor, o.most_minor,
       COALESCE(a.answer, ''), COALESCE(a.said_by, ''), COALESCE(a.how, ''), a.amount_minor, COALESCE(a.reason, ''),
       a.at, COALESCE(n.number, '')
FROM offer o JOIN person p ON p.id = o.made_by JOIN vehicle v ON v.id = o.vehicle_id
JOIN customer k ON k.id = o.customer_id LEFT JOIN card c ON c.id = o.card_id
LEFT JOIN offer_answer a ON a.offer_id = o.id LEFT JOIN card n ON n.offer_id = o.id"""
LONGEST = 9  # figures of a number
OF = {"vehicle": "o.vehicle_id = ?", "card": "(o.card_id = ? OR n.id = ?)"}


@dataclass(frozen=True, slots=True)
class OfferView:
    """An offer in a list. `answer` is empty while nobody answered; `opened` is the card opened from it."""

    id: int
    number: str
    made: date
    made_by: str
    vehicle_id: int
    registration: str
    customer: str
    phone: str
    card_id: int | None
    card: str
    templates: tuple[str, ...]
    valid_until: date
    usual_min: int
    most_min: int
    usual: Decimal
    most: Decimal
    answer: str
    said_by: str
    how: str
    amount: Decimal | None
    reason: str
    answered: date | None
    opened: str

    def state(self, today: date) -> str:
        """Return how it stands: open, run out, accepted or declined."""
        return self.answer or ("run out" if today > self.valid_until else "open")


def made_offers(
    shop: Shop, *, vehicle_id: int | None = None, card_id: int | None = None, limit: int = 200
) -> tuple[OfferView, ...]:
    """Return offers, newest first: all, of a vehicle, or those of a card and the one it was opened from."""
    where = ""
    params: tuple[int, ...] = ()
    if vehicle_id is not None:
        where, params = f" WHERE {OF['vehicle']}", (vehicle_id,)
    elif card_id is not None:
        where, params = f" WHERE {OF['card']}", (card_id, card_id)
    rows = shop.fetch(f"{OFFERS}{where} ORDER BY o.id DESC LIMIT ?", (*params, limit))
    return tuple(_view(shop, row) for row in rows)


def made_offer(shop: Shop, number: str) -> OfferView:
    """Return the offer of that number, like ``OF00012`` or ``12``.

    Raises
    ------
    NotFound
        When there is none.
    """
    figures = "".join(c for c in number if c.isdecimal())
    fits = 0 < len(figures) <= LONGEST
    rows = shop.fetch(f"{OFFERS} WHERE o.number = ?", (int(figures),)) if fits else []
    if not rows:
        raise NotFound(f"there is no offer '{number[:20]}'", hint="See: shopcli offers")
    return _view(shop, rows[0])


def paper_of(shop: Shop, offer_id: int) -> OfferPaper:
    """Return an offer whole, as it was made, with what was answered to it.

    Raises
    ------
    NotFound
        When there is none.
    """
    rows = shop.fetch("SELECT body, number FROM offer WHERE id = ?", (offer_id,))
    if not rows:
        raise NotFound(f"there is no offer {offer_id}")
    view = made_offer(shop, str(rows[0][1]))
    return replace(from_json(OfferPaper, rows[0][0]), reply=_reply(view))


def _reply(view: OfferView) -> OfferReply | None:
    if not view.answer or view.answered is None:
        return None
    return OfferReply(view.answer, view.said_by, view.how, view.answered, view.amount, view.reason)


def _view(shop: Shop, row: tuple[Any, ...]) -> OfferView:
    key, number, made_at, by, vehicle_id, registration, customer, phone, card_id, card = row[:10]
    templates, valid, usual_min, most_min, usual, most = row[10:16]
    answer, said_by, how, amount, reason, at, opened = row[16:]
    return OfferView(
        id=key,
        number=offer_number(number),
        made=shop.local(made_at).date(),
        made_by=by,
        vehicle_id=vehicle_id,
        registration=registration,
        customer=customer,
        phone=phone,
        card_id=card_id,
        card=card,
        templates=tuple(json.loads(templates)),
        valid_until=date.fromisoformat(valid),
        usual_min=usual_min,
        most_min=most_min,
        usual=from_minor(usual),
        most=from_minor(most),
        answer=answer,
        said_by=said_by,
        how=how,
        amount=None if amount is None else from_minor(amount),
        reason=reason,
        answered=None if at is None else shop.local(at).date(),
        opened=opened,
    )
