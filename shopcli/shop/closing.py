"""The closing check: every reason a card cannot close, each with where it is mended. An empty list may close."""

from decimal import Decimal

from sqlmodel import Session, select

from shopcli.errors import NotFound, Refused
from shopcli.present import money
from shopcli.shop.act import Act, Change
from shopcli.shop.bill_numbers import bill_number
from shopcli.shop.card_commands import CloseCard, Waive
from shopcli.shop.common import get, key_of, open_for_work, reason_given
from shopcli.shop.doubts import doubts
from shopcli.shop.fetch import fetcher
from shopcli.shop.hindrances import hindrances
from shopcli.shop.invoices import issue
from shopcli.shop.records import Card, Owed, Waiver
from shopcli.shop.states import CARD_MOVES, CardState, OwedState, move


def see_nothing_hinders(session: Session, act: Act, card: Card) -> None:
    """Refuse while anything hinders the hand-over.

    Raises
    ------
    Refused
        With every hindrance in the message and the first remedy in the hint.
    """
    found = hindrances(fetcher(session), key_of(card), act.settings, act.at)
    if found:
        listed = "; ".join(f"{h.what} ({h.why})" if h.why else h.what for h in found)
        raise Refused(f"card {card.number} cannot close: {listed}", hint=found[0].mend)


def waive(session: Session, act: Act, cmd: Waive) -> Change:
    """Set a hindrance aside, by name and with a reason.

    Raises
    ------
    NotFound
        When there is no such hindrance now.
    Refused
        When it is one nobody may set aside.
    """
    card = open_for_work(session, cmd.card_id)
    found = hindrances(fetcher(session), cmd.card_id, act.settings, act.at)
    match = next((h for h in found if h.key == cmd.hindrance), None)
    if match is None:
        raise NotFound(f"nothing called '{cmd.hindrance}' hinders card {card.number}")
    if not match.waivable:
        raise Refused(f"'{match.what}' cannot be waived", hint=match.mend)
    reason = reason_given(cmd.reason, "a waiver")
    if cmd.hindrance.startswith("owed:"):
        row = session.exec(select(Owed).where(Owed.id == match.where_id)).one()
        row.state, row.settled_by, row.settled_at, row.settled_for = OwedState.WAIVED, act.by, act.at, reason
        session.add(row)
    session.add(
        Waiver(card_id=cmd.card_id, hindrance=cmd.hindrance, reason=reason, waived_by=act.by, at=act.at)
    )
    return Change("card", cmd.card_id, cmd.card_id, said=(f"Waived: {match.what}.",))


def close_card(session: Session, act: Act, cmd: CloseCard) -> Change:
    """Close a card and issue its invoice, in one transaction.

    Raises
    ------
    Refused
        While anything hinders, or when the card is held, void or closed already.
    """
    card = get(session, Card, cmd.card_id, "card")
    state = CardState(card.state)
    see_nothing_hinders(session, act, card)
    if state is not CardState.CHECKED:
        move(f"card {card.number}", CARD_MOVES, state, CardState.CHECKED)
        card.checked_at, card.checked_by = act.at, act.by
        state = CardState.CHECKED
    card.state = move(f"card {card.number}", CARD_MOVES, state, CardState.CLOSED)
    year, week, _day = act.today().isocalendar()
    card.closed_at, card.closed_by, card.closed_week = act.at, act.by, f"{year}-W{week:02d}"
    session.add(card)
    invoice = issue(session, act, card)
    due = Decimal(invoice.due_minor) / 100
    number = bill_number(act.settings.invoice_prefix, invoice.number)
    said = f"Card {card.number} closed; invoice {number}, due {_sum(act, due)}."
    return Change(
        "card",
        cmd.card_id,
        cmd.card_id,
        {"state": "checked"},
        {"invoice": invoice.number},
        (said, *_doubts(act)),
    )


def _sum(act: Act, due: Decimal) -> str:
    return money(due, act.settings.currency, plain=act.settings.ascii_only)


def _doubts(act: Act) -> tuple[str, ...]:
    return doubts(vat_number=act.settings.vat_number, iban=act.settings.iban)
