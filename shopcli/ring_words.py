"""Whom to ring and why, in words: for the screen and the command line alike."""

from datetime import date

from shopcli.columns import shown
from shopcli.present import clock_time, day, money
from shopcli.price_words import a_day
from shopcli.shop.call_views import AUTHORITY, OFFER, OWED, PARTS, PROMISE, READY, UNPAID, CallView, RingView

NAMES = {
    AUTHORITY: "authority",
    PROMISE: "promise",
    READY: "ready",
    PARTS: "parts here",
    OFFER: "offer",
    OWED: "check due",
    UNPAID: "unpaid",
}
LEVELS = {
    "passed": "{0} is spent, {1} was allowed",
    "will pass": "heading for about {0}, {1} was allowed",
    "may pass": "may come to {0}, {1} was allowed",
}
SAID_MOST = 200


def why_words(row: RingView, today: date, currency: str) -> str:
    """Say in a line why somebody is rung.

    Examples
    --------
    >>> from decimal import Decimal
    >>> ben = ("unpaid:4", 2, "Ben", "", 4, "J00004", "BRW 16")
    >>> why_words(RingView("unpaid", *ben, text="7", amount=Decimal(20), on=date(2026, 11, 3)), date(2026, 11, 25), "GBP")
    'invoice 7: £20.00 was due Tue 3 Nov, 22 days past'
    """
    said = _SAID[row.kind](row, today, currency)
    return shown(said)


def _authority(row: RingView, _today: date, currency: str) -> str:
    sums = [money(s, currency) if s is not None else "" for s in (row.amount, row.limit)]
    return LEVELS[row.text].format(*sums)


def _promise(row: RingView, today: date, _currency: str) -> str:
    return f"promised {a_day(row.on, today)}, by the queue sure by {a_day(row.until, today)}"


def _ready(row: RingView, today: date, _currency: str) -> str:
    since = f" since {a_day(row.on, today)}" if row.on else ""
    return f"ready{since}, not fetched: {row.text}"


def _parts(row: RingView, today: date, _currency: str) -> str:
    return f"came {a_day(row.on, today)}: {row.text}"


def _offer(row: RingView, today: date, currency: str) -> str:
    sum_of = money(row.amount, currency) if row.amount is not None else ""
    return f"offer {row.text} of {sum_of} waits for an answer, holds until {a_day(row.until, today)}"


def _owed(row: RingView, today: date, _currency: str) -> str:
    return f"{row.text}, due {a_day(row.on, today)} (card {row.card})"


def _unpaid(row: RingView, today: date, currency: str) -> str:
    past = (today - row.on).days if row.on else 0
    sum_of = money(row.amount, currency) if row.amount is not None else ""
    days = "1 day" if past == 1 else f"{past} days"
    return f"invoice {row.text}: {sum_of} was due {a_day(row.on, today)}, {days} past"


_SAID = {
    AUTHORITY: _authority,
    PROMISE: _promise,
    READY: _ready,
    PARTS: _parts,
    OFFER: _offer,
    OWED: _owed,
    UNPAID: _unpaid,
}


def call_words(call: CallView) -> str:
    """Say who was reached when, what was said, and when to ring again."""
    at = f"{day(call.at.date())} {clock_time(call.at, call.at.tzinfo)}" if call.at.tzinfo else ""
    who = (
        f"{call.reached}: {call.said}"
        if call.reached
        else f"nobody reached{f': {call.said}' if call.said else ''}"
    )
    again = f"; again {day(call.again)}" if call.again else ""
    return shown(f"{at}, {who[:SAID_MOST]}{again} ({call.by})")
