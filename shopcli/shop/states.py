"""States and the one table of allowed moves for each; no `if` elsewhere decides what may follow what."""

from enum import StrEnum
from typing import TypeVar

from shopcli.errors import Refused


class CardState(StrEnum):
    """Where a card stands."""

    BOOKED = "booked"
    IN_HAND = "in hand"
    HELD = "held"
    CHECKED = "checked"
    CLOSED = "closed"
    VOID = "void"


class TaskState(StrEnum):
    """Where a task stands."""

    OPEN = "open"
    DONE = "done"
    LEFT_OUT = "left out"


class PartState(StrEnum):
    """Where a part on a card stands."""

    WANTED = "wanted"
    ON_ORDER = "on order"
    FITTED = "fitted"
    RETURNED = "returned"
    NOT_USED = "not used"


class PurchaseState(StrEnum):
    """Where an order to a supplier stands."""

    DRAFTED = "drafted"
    SENT = "sent"
    PART_IN = "part in"
    IN = "in"
    CANCELLED = "cancelled"


class MoveWhy(StrEnum):
    """Why a part came to the shelf or left it."""

    GOODS_IN = "goods in"
    FITTED = "fitted"
    RETURNED = "returned"
    COUNTED = "stock-taking"
    CORRECTED = "correction"


class OwedState(StrEnum):
    """Where a promised check stands."""

    OPEN = "owed"
    DONE = "done"
    WAIVED = "waived"


class FindingState(StrEnum):
    """Where a finding stands."""

    OPEN = "open"
    DONE = "done"
    DECLINED = "declined"


class Severity(StrEnum):
    """How bad a finding is, in words."""

    STOP = "stop"
    SOON = "soon"
    WATCH = "watch"


class Role(StrEnum):
    """What a person may do."""

    MECHANIC = "mechanic"
    DESK = "desk"
    OWNER = "owner"


CARD_MOVES: dict[CardState, frozenset[CardState]] = {
    CardState.BOOKED: frozenset({CardState.IN_HAND, CardState.HELD, CardState.VOID}),
    CardState.IN_HAND: frozenset({CardState.HELD, CardState.CHECKED, CardState.VOID}),
    CardState.HELD: frozenset({CardState.IN_HAND, CardState.BOOKED, CardState.VOID}),
    CardState.CHECKED: frozenset({CardState.CLOSED, CardState.IN_HAND, CardState.HELD}),
    CardState.CLOSED: frozenset(),
    CardState.VOID: frozenset(),
}
TASK_MOVES: dict[TaskState, frozenset[TaskState]] = {
    TaskState.OPEN: frozenset({TaskState.DONE, TaskState.LEFT_OUT}),
    TaskState.DONE: frozenset({TaskState.OPEN}),
    TaskState.LEFT_OUT: frozenset({TaskState.OPEN}),
}
PART_MOVES: dict[PartState, frozenset[PartState]] = {
    PartState.WANTED: frozenset({PartState.ON_ORDER, PartState.FITTED, PartState.NOT_USED}),
    PartState.ON_ORDER: frozenset({PartState.WANTED, PartState.FITTED, PartState.NOT_USED}),
    PartState.FITTED: frozenset({PartState.RETURNED, PartState.WANTED}),
    PartState.RETURNED: frozenset(),
    PartState.NOT_USED: frozenset({PartState.WANTED}),
}
PURCHASE_MOVES: dict[PurchaseState, frozenset[PurchaseState]] = {
    PurchaseState.DRAFTED: frozenset({PurchaseState.SENT, PurchaseState.CANCELLED}),
    PurchaseState.SENT: frozenset({PurchaseState.PART_IN, PurchaseState.IN, PurchaseState.CANCELLED}),
    PurchaseState.PART_IN: frozenset({PurchaseState.IN}),
    PurchaseState.IN: frozenset(),
    PurchaseState.CANCELLED: frozenset(),
}
# Orders from which something is still to come.
UNDER_WAY = (PurchaseState.DRAFTED, PurchaseState.SENT, PurchaseState.PART_IN)

# How something stands, said to whoever wants of it what is not to be had now, and the way on.
STANDS: dict[CardState | TaskState | PartState | PurchaseState, tuple[str, str]] = {
    CardState.BOOKED: ("is booked", "Take it in hand first: its first clock or task done does that."),
    CardState.IN_HAND: ("is in hand", "Go on with it, or hold it with the reason."),
    CardState.HELD: ("is held", "Take it in hand first."),
    CardState.CHECKED: ("is checked", "Close it, or take it in hand again."),
    CardState.CLOSED: (
        "is closed",
        "It stays as it was billed: a credit note puts right what is wrong on it.",
    ),
    CardState.VOID: ("is void", "Open a new card."),
    TaskState.OPEN: ("is open", "Do it, or leave it out with the reason."),
    TaskState.DONE: ("is done", "u at the bench opens it again."),
    TaskState.LEFT_OUT: ("was left out", "u at the bench opens it again."),
    PartState.WANTED: ("is not fitted, only wanted", "Fit it, or say that it is not used."),
    PartState.ON_ORDER: ("is on order", "Take it in when it comes, or fit it if it is here."),
    PartState.FITTED: ("is fitted", "Undo that first, or give it back to the shelf."),
    PartState.RETURNED: ("went back to the shelf", "Put it on the card once more."),
    PartState.NOT_USED: ("is marked as not used", "Undo that first."),
    PurchaseState.DRAFTED: ("is only drafted", "Send it first."),
    PurchaseState.SENT: ("is sent", "Take in what comes, or cancel what does not."),
    PurchaseState.PART_IN: ("is in by half", "Take in the rest, or cancel it line by line."),
    PurchaseState.IN: ("is all in", "Nothing more is to come of it: draft another one."),
    PurchaseState.CANCELLED: ("was cancelled", "Draft another one."),
}

S = TypeVar("S", CardState, TaskState, PartState, PurchaseState)


def move(what: str, moves: dict[S, frozenset[S]], now: S, then: S) -> S:
    """Return `then` where it can come after `now`.

    Raises
    ------
    Refused
        Where it cannot; the message says how it stands, the hint what can be done.
    """
    if then not in moves[now]:
        stands, way = STANDS[now]
        raise Refused(f"{what} is {now} already" if now == then else f"{what} {stands}", hint=way)
    return then
