"""The hand-over: a car leaves the shop with whoever fetched it, when its card is closed."""

from sqlmodel import Session

from shopcli.cleantext import clean_line
from shopcli.errors import Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get
from shopcli.shop.counter_commands import HandOver
from shopcli.shop.records import Card, Customer, Vehicle
from shopcli.shop.states import CardState


def hand_over(session: Session, act: Act, cmd: HandOver) -> Change:
    """Note that a car was fetched, when and by whom; the customer where nobody else is named.

    Raises
    ------
    Refused
        While its card is not closed, or when it was handed over before.
    """
    card = get(session, Card, cmd.card_id, "card")
    vehicle = get(session, Vehicle, card.vehicle_id, "vehicle")
    if card.state != CardState.CLOSED:
        raise Refused(
            f"card {card.number} is {card.state}; the car is not ready to go", hint="Close the card first."
        )
    if card.handed_at is not None:
        raise Refused(f"{vehicle.registration} was handed over to {card.handed_to or 'the customer'} before")
    card.handed_to = (
        clean_line(cmd.to, limit=120) or get(session, Customer, card.customer_id, "customer").name
    )
    card.handed_at, card.handed_by = act.at, act.by
    session.add(card)
    return Change(
        "card",
        cmd.card_id,
        cmd.card_id,
        {"handed_to": ""},
        {"handed_to": card.handed_to},
        (f"{vehicle.registration} handed over to {card.handed_to}.",),
    )
