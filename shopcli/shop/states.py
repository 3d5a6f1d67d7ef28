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

S = TypeVar("S", CardState, TaskState, PartState, PurchaseState)


def move(what: str, moves: dict[S, frozenset[S]], now: S, then: S) -> S:
    """Return `then` when the move is allowed.

    Raises
    ------
    Refused
        When it is not; the message says from where and what would be allowed.
    """
    if then not in moves[now]:
        ways = ", ".join(sorted(moves[now])) or "nothing: that is final"
        raise Refused(f"{what} is {now}; it cannot become {then}", hint=f"Allowed from here: {ways}.")
    return then
