"""Money taken: deposits while the card is open, payments after the invoice."""

from sqlmodel import Session

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.money_commands import TakePayment
from shopcli.shop.parts import sane_money
from shopcli.shop.records import Card, Payment

KINDS = ("deposit", "payment")


def take_payment(session: Session, act: Act, cmd: TakePayment) -> Change:
    """Take money on a card.

    Raises
    ------
    Refused
        A deposit on a closed card, a payment before the invoice.
    """
    card = get(session, Card, cmd.card_id, "card")
    if cmd.kind not in KINDS:
        raise BadInput(f"'{cmd.kind}' is not a kind of payment", hint="Write deposit or payment.")
    if cmd.amount_minor <= 0:
        raise BadInput("the amount must be above zero")
    if cmd.kind == "deposit" and card.state in {"closed", "void"}:
        raise Refused(f"card {card.number} is {card.state}; a deposit comes before", hint="Take a payment.")
    if cmd.kind == "payment" and card.state != "closed":
        raise Refused(
            f"card {card.number} has no invoice yet", hint="Take a deposit, or close the card first."
        )
    row = saved(
        session,
        Payment(
            card_id=cmd.card_id,
            kind=cmd.kind,
            amount_minor=sane_money(cmd.amount_minor, "amount"),
            method=clean_line(cmd.method, name="method", limit=40),
            at=act.at,
            taken_by=act.by,
        ),
    )
    said = f"{cmd.kind.capitalize()} of {from_minor(cmd.amount_minor)} taken."
    return Change("payment", key_of(row), cmd.card_id, said=(said,))
