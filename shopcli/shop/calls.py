"""Calls: who was reached about what, what was said, and when to ring again. A note is never changed."""

from datetime import date

from sqlmodel import Session

from shopcli.cleantext import clean_line, clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.counter_commands import NoteCall
from shopcli.shop.parts import iso_date
from shopcli.shop.records import CallNote, Card, Customer


def note_call(session: Session, act: Act, cmd: NoteCall) -> Change:
    """Note a call.

    Raises
    ------
    BadInput
        When somebody was reached and nothing was said, or nobody was and there is no day to ring again.
    Refused
        When the card is another customer's.
    """
    customer = get(session, Customer, cmd.customer_id, "customer")
    card = get(session, Card, cmd.card_id, "card") if cmd.card_id is not None else None
    if card is not None and card.customer_id != cmd.customer_id:
        raise Refused(f"card {card.number} is not of {customer.name}")
    reached = clean_line(cmd.reached, name="name", limit=120)
    said = clean_note(cmd.said, name="what was said", limit=1000)
    again = iso_date(cmd.next_on, "day to ring again")
    if reached and not said:
        raise BadInput("what was said is empty", hint="Write it in a few words.")
    if not reached and not again:
        raise BadInput(
            "nobody was reached, and no day is named to ring again", hint="Say when, like tomorrow."
        )
    if again and date.fromisoformat(again) < act.today():
        raise BadInput("the day to ring again is past", hint="Today counts.")
    row = saved(
        session,
        CallNote(
            customer_id=cmd.customer_id,
            card_id=cmd.card_id,
            about=required_line(cmd.about, name="reason of the call", limit=80),
            reached=reached,
            said=said,
            next_on=again,
            at=act.at,
            noted_by=act.by,
        ),
    )
    who = f"{reached} reached" if reached else "nobody reached"
    return Change("call", key_of(row), cmd.card_id, said=(f"Call to {customer.name} noted: {who}.",))
