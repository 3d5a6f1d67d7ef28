"""Money taken and given back. A payment is never changed: a wrong one is answered by its opposite."""

from sqlmodel import Session, select

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor, to_minor
from shopcli.shop.balance import balance, over_due
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.money_commands import Refund, ReversePayment, TakePayment
from shopcli.shop.parts import sane_money
from shopcli.shop.records import Card, Payment

KINDS = ("deposit", "payment")
CHANGE, KEPT = "change", "kept"  # what becomes of what is paid over


def _method(act: Act, text: str) -> str:
    method = clean_line(text, name="method", limit=40)
    if method not in act.settings.payment_methods:
        known = ", ".join(act.settings.payment_methods)
        raise BadInput(f"'{method}' is no way the shop takes money", hint=f"One of: {known}.")
    return method


def take_payment(session: Session, act: Act, cmd: TakePayment) -> Change:
    """Take money on a card; of more than is due it has to be said what becomes of it.

    Of change given back only what was due is taken, and the row says what was given; what is kept stands in the
    customer's favour.

    Raises
    ------
    BadInput
        On another kind or method, or an amount that is not above zero.
    Refused
        A deposit on a closed card, a payment before the invoice, more than is due without a word about the rest.
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
    given = sane_money(cmd.amount_minor, "amount")
    change = _change(session, cmd) if cmd.kind == "payment" else 0
    reason = f"{from_minor(given)} given, {from_minor(change)} change" if change else ""
    row = saved(
        session,
        Payment(
            card_id=cmd.card_id,
            kind=cmd.kind,
            amount_minor=given - change,
            method=_method(act, cmd.method),
            at=act.at,
            taken_by=act.by,
            reason=reason,
        ),
    )
    said = [f"{cmd.kind.capitalize()} of {from_minor(row.amount_minor)} taken."]
    if change:
        said.append(f"{reason}.")
    if cmd.kind == "payment":
        due = balance(fetcher(session), cmd.card_id).due
        said.append(
            f"Left to pay: {due}."
            if due > 0
            else f"{-due} is kept in the customer's favour."
            if due
            else "Paid in full."
        )
    return Change("payment", key_of(row), cmd.card_id, said=tuple(said))


def _change(session: Session, cmd: TakePayment) -> int:
    """Return the change to give back, in minor units; refuse more than is due when nothing is said of it."""
    due = balance(fetcher(session), cmd.card_id).due
    over = to_minor(over_due(due, from_minor(cmd.amount_minor)))
    if not over or cmd.over == KEPT:
        return 0
    if cmd.over != CHANGE:
        said = f"{from_minor(cmd.amount_minor)} is {from_minor(over)} more than the {max(due, from_minor(0))} due"
        raise Refused(said, hint="Say whether it is change given back, or kept in the customer's favour.")
    if over >= cmd.amount_minor:
        raise Refused("nothing is due: all of it would be change", hint="Take nothing, or keep it for them.")
    return over


def refund(session: Session, act: Act, cmd: Refund) -> Change:
    """Give money back, never more than is in the customer's favour.

    Raises
    ------
    BadInput
        When the amount is not above zero, the method unknown or the reason missing.
    Refused
        When it is more than the customer has in hand, or a mechanic gives it.
    """
    card = get(session, Card, cmd.card_id, "card")
    if cmd.amount_minor <= 0:
        raise BadInput("the amount must be above zero")
    amount = from_minor(sane_money(cmd.amount_minor, "amount"))
    in_hand = -balance(fetcher(session), cmd.card_id).due
    if amount > in_hand:
        raise Refused(
            f"{amount} is more than the {max(in_hand, from_minor(0))} in the customer's favour on card {card.number}",
            hint="Write a credit note first, or reverse a payment entered wrongly.",
        )
    row = saved(
        session,
        Payment(
            card_id=cmd.card_id,
            kind="refund",
            amount_minor=-cmd.amount_minor,
            method=_method(act, cmd.method),
            at=act.at,
            taken_by=act.by,
            reason=reason_given(cmd.reason, "money given back"),
        ),
    )
    return Change("payment", key_of(row), cmd.card_id, said=(f"{amount} given back by {row.method}.",))


def reverse_payment(session: Session, act: Act, cmd: ReversePayment) -> Change:
    """Answer a payment entered wrongly by its opposite, once.

    Raises
    ------
    Refused
        When it was reversed already, is itself a reversal, or a mechanic asks.
    """
    wrong = get(session, Payment, cmd.payment_id, "payment")
    if wrong.reverses is not None:
        raise Refused("a reversal is not reversed", hint="Enter the payment again as it was.")
    if session.exec(select(Payment).where(Payment.reverses == cmd.payment_id)).first():
        raise Refused("that payment was reversed already")
    row = saved(
        session,
        Payment(
            card_id=wrong.card_id,
            kind="reversal",
            amount_minor=-wrong.amount_minor,
            method=wrong.method,
            at=act.at,
            taken_by=act.by,
            reason=reason_given(cmd.reason, "a reversal"),
            reverses=cmd.payment_id,
        ),
    )
    said = f"{wrong.kind.capitalize()} of {from_minor(wrong.amount_minor)} reversed."
    return Change("payment", key_of(row), wrong.card_id, said=(said,))
