"""Whom to ring and why, as the desk reads it."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

# Why somebody is rung, what presses most first.
AUTHORITY, PROMISE, READY, PARTS, OFFER, OWED, UNPAID = KINDS = (
    "authority",
    "promise",
    "ready",
    "parts",
    "offer",
    "owed",
    "unpaid",
)


@dataclass(frozen=True, slots=True)
class CallView:
    """A call as it was noted; `reached` is empty when nobody was, `again` is the day to ring again."""

    reached: str
    said: str
    again: date | None
    at: datetime
    by: str


@dataclass(frozen=True, slots=True)
class RingView:
    """Somebody to be rung about one thing.

    `key` names the matter: it changes when the matter does, so that what is settled comes back when it is another.
    `text`, `amount`, `limit` and `on` say what it is, by `kind`. `last` is the last call about it, `before` the last
    one to this customer about anything else. `later` is the day to ring again while that is still to come.
    """

    kind: str
    key: str
    customer_id: int
    customer: str
    phone: str
    card_id: int | None
    card: str
    registration: str
    text: str = ""
    amount: Decimal | None = None
    limit: Decimal | None = None
    on: date | None = None
    until: date | None = None
    last: CallView | None = None
    before: CallView | None = None
    later: date | None = None
