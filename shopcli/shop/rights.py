"""Who may do what: one table by the name of the command, asked before any rule. What nobody is named for, all may.

Roles of one person add up ("owner, mechanic"); in a small shop one has all of them. Screens ask the same table only
to spare somebody a refusal.
"""

from collections.abc import Mapping
from typing import NamedTuple

from shopcli.errors import BadInput
from shopcli.shop.states import Role

COUNTER = frozenset({Role.DESK, Role.OWNER})
OWNERS = frozenset({Role.OWNER})
ORDER = (Role.OWNER, Role.DESK, Role.MECHANIC)


class Right(NamedTuple):
    """Who may do something, and what it is in words."""

    roles: frozenset[Role]
    what: str


RIGHTS: Mapping[str, Right] = {
    "CreditInvoice": Right(COUNTER, "A credit note"),
    "GiveDiscount": Right(COUNTER, "A discount"),
    "DropDiscount": Right(COUNTER, "A discount"),
    "Refund": Right(COUNTER, "Giving money back"),
    "ReversePayment": Right(COUNTER, "Reversing a payment"),
    "SetReverseCharge": Right(COUNTER, "Billing without tax"),
    "SetOwnTime": Right(OWNERS, "the expected time of a job"),
    "NoteAbsence": Right(OWNERS, "who was away"),
    "WithdrawAbsence": Right(OWNERS, "who was away"),
    "AddPerson": Right(OWNERS, "taking somebody on"),
    "ChangePerson": Right(OWNERS, "somebody's name and roles"),
    "PersonLeaves": Right(OWNERS, "who works here"),
    "EraseCustomer": Right(OWNERS, "erasing a customer"),
    "PersonComesBack": Right(OWNERS, "who works here"),
}

# Everybody may do these. They are named, so that a new act is thought about; some see in their rule whose it is.
ALL_MAY = frozenset(
    """
    AcceptOffer AddClock AddCustomer AddFinding AddOutwork AddPart AddPhoto AddSupplier AddTemplates AddToBill AddToOrder
    AddTool AddVehicle CancelOrder ChangeCard ChangeCustomer ChangeOrderLine ChangeOutwork ChangePart ChangeSheet
    ChangeSupplier ChangeTool ChangeVehicleFacts ClearPin ClockOff ClockOn CloseCard CorrectBreak CorrectClock
    CorrectStock CountStock CreditCame DeclineOffer DraftOrder DropPlanned EndBreak EnterOnSheet EnterSpec FinishTask
    FitInstead GiveBack GoOnBreak GoodsIn HandOver LeaveOut LiftTag MakeOffer MakeSheet MoveCard MovePart NotComing
    NoteCalibration NoteCall NoteOnTask OldUnitBack OpenCard OpenFromOffer OrderShort OutworkBack PartArrived PartToTask
    PinTask PricePart PutPart RemovePhoto ReopenTask RetireTool SecondCheck SendBack SendOldUnit SendOrder SendPlanned
    SetHands SetPin SetUnits SettleFinding SettleOwed SignIn SplitClock StrikeReading TakeBack TakeOffBill TakeOn
    TakePayment TakeReading Waive WithdrawNumber WorkedUntil
    """.split()  # noqa: SIM905 - a list of names is read more easily as words
)


def roles_of(text: str) -> frozenset[Role]:
    """Return the roles somebody has; a word that is none counts for nothing.

    Examples
    --------
    >>> sorted(roles_of("owner, mechanic")), roles_of("")
    ([<Role.MECHANIC: 'mechanic'>, <Role.OWNER: 'owner'>], frozenset())
    """
    known = {role.value: role for role in Role}
    return frozenset(known[word] for word in text.replace(",", " ").split() if word in known)


def roles_text(text: str) -> str:
    """Return roles as the records keep them, however they were typed.

    Raises
    ------
    BadInput
        When one of them is none, or there is none at all.

    Examples
    --------
    >>> roles_text("Mechanic owner"), roles_text("desk")
    ('owner, mechanic', 'desk')
    """
    words = text.casefold().replace(",", " ").replace("+", " ").split()
    wrong = next((word for word in words if word not in set(Role)), None)
    if wrong is not None or not words:
        raise BadInput(
            f"there is no role '{wrong or ''}'", hint="Write one of: " + ", ".join(Role) + "; or several."
        )
    return ", ".join(role for role in ORDER if role in words)


def is_owner(text: str) -> bool:
    """Return whether the owner is among somebody's roles.

    Examples
    --------
    >>> is_owner("owner, mechanic"), is_owner("desk")
    (True, False)
    """
    return Role.OWNER in roles_of(text)


def paid_by_the_hour(text: str) -> bool:
    """Return whether somebody's hours are hours the shop pays: a mechanic's, but not those of an owner at the bench.

    Examples
    --------
    >>> paid_by_the_hour("mechanic"), paid_by_the_hour("desk, mechanic"), paid_by_the_hour("owner, mechanic")
    (True, True, False)
    """
    return Role.MECHANIC in roles_of(text) and not is_owner(text)


def may(text: str, act: str) -> bool:
    """Return whether somebody of these roles may do an act of that name; what the table does not know nobody may.

    Examples
    --------
    >>> may("desk", "Refund"), may("mechanic", "Refund"), may("mechanic", "ClockOn"), may("owner", "Whatever")
    (True, False, True, False)
    """
    right = RIGHTS.get(act)
    return act in ALL_MAY if right is None else bool(right.roles & roles_of(text))
