"""Which acts are taken back and how: one table by the name of the act. What is final says so, and what to do instead.

The rows an act touched are brought back as the journal kept them; here stands only what rows cannot tell.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Inverse:
    """How an act is taken back. `short` is what it was in a word or two.

    `seen_by` names the question in `shopcli.shop.builds_on` that finds what was built on it though no row of it
    was touched again.
    """

    short: str
    seen_by: str = ""


@dataclass(frozen=True, slots=True)
class Final:
    """An act that is not taken back: why, and what is done instead."""

    short: str
    why: str
    instead: str


INVERSES: Mapping[str, Inverse] = {
    "TakeReading": Inverse("reading", "reading_in_a_settled_task"),
    "StrikeReading": Inverse("reading struck", "reading_in_a_settled_task"),
    "FinishTask": Inverse("done", "tasks_done_after_it"),
    "LeaveOut": Inverse("left out", "tasks_done_after_it"),
    "ReopenTask": Inverse("task taken back"),
    "SecondCheck": Inverse("second check"),
    "NoteOnTask": Inverse("note"),
    "ClockOn": Inverse("clock on"),
    "ClockOff": Inverse("clock off"),
    "GoOnBreak": Inverse("break"),
    "EndBreak": Inverse("end of a break"),
    "CorrectClock": Inverse("time corrected"),
    "CorrectBreak": Inverse("break corrected"),
    "SplitClock": Inverse("time split"),
    "AddClock": Inverse("time added"),
    "WorkedUntil": Inverse("clock settled"),
    "LiftTag": Inverse("tag lifted", "tasks_done_after_it"),
    "SettleOwed": Inverse("owed check settled"),
    "AddFinding": Inverse("finding"),
    "SettleFinding": Inverse("finding settled"),
    "SetOwnTime": Inverse("expected time"),
    "NoteAbsence": Inverse("absence"),
    "WithdrawAbsence": Inverse("absence withdrawn"),
    "EnterSpec": Inverse("number", "readings_judged_by_it"),
    "AddToBill": Inverse("put on the bill"),
    "TakeOffBill": Inverse("taken off the bill"),
    "GiveDiscount": Inverse("discount"),
    "DropDiscount": Inverse("discount taken back"),
    "PutPart": Inverse("part put on the card"),
    "MovePart": Inverse("part"),
    "PricePart": Inverse("price"),
    "PartToTask": Inverse("part to the task"),
    "FitInstead": Inverse("part fitted instead"),
    "OrderShort": Inverse("short parts ordered"),
    "PartArrived": Inverse("part arrived"),
    "OldUnitBack": Inverse("old unit"),
    "AddPhoto": Inverse("photo"),
    "RemovePhoto": Inverse("photo taken off"),
    "AddOutwork": Inverse("work sent out"),
    "OutworkBack": Inverse("outwork back"),
    "ChangeOutwork": Inverse("outwork changed"),
    "SendPlanned": Inverse("planned work sent out"),
    "SetReverseCharge": Inverse("reverse charge"),
    "DropPlanned": Inverse("planned work done without"),
    "CountStock": Inverse("count"),
    "CorrectStock": Inverse("stock corrected"),
    "DraftOrder": Inverse("order drafted", "put_on_the_order_since"),
    "AddToOrder": Inverse("put on an order", "put_on_the_order_since"),
    "ChangeOrderLine": Inverse("order changed"),
    "SendOrder": Inverse("order sent"),
    "CancelOrder": Inverse("order given up"),
    "GoodsIn": Inverse("goods in"),
    "NotComing": Inverse("not coming"),
    "SendBack": Inverse("sent back"),
    "SendOldUnit": Inverse("old unit sent"),
    "CreditCame": Inverse("credit"),
    "AddTemplates": Inverse("job added", "shared_task_worked_on"),
    "TakeOn": Inverse("taken on", "shared_task_worked_on"),
    "PinTask": Inverse("wish"),
    "GiveBack": Inverse("wish given back"),
    "SetHands": Inverse("hands"),
    "ChangeCard": Inverse("card changed"),
    "MoveCard": Inverse("card moved"),
    "Waive": Inverse("waiver"),
    "AcceptOffer": Inverse("offer accepted", "card_opened_from_it"),
    "DeclineOffer": Inverse("offer declined"),
    "HandOver": Inverse("car handed over"),
    "NoteCall": Inverse("call"),
}

FINAL: Mapping[str, Final] = {
    "OpenCard": Final(
        "card opened", "an opened card keeps its number", "Void it at the desk while no work is on it."
    ),
    "OpenFromOffer": Final(
        "card opened", "an opened card keeps its number", "Void it at the desk while no work is on it."
    ),
    "MakeOffer": Final(
        "offer made", "an offer keeps its number and its words", "Note it as declined, and make another."
    ),
    "CloseCard": Final(
        "card closed",
        "the card is closed and its invoice issued: both are fixed for good",
        "Open a new card for what is left to do; what was billed wrongly is put right by a credit note.",
    ),
    "TakePayment": Final(
        "money taken",
        "money taken stays in the books",
        "Reverse it at the desk, or give it back.",
    ),
    "Refund": Final("money given back", "money given back stays in the books", "Reverse it at the desk."),
    "ReversePayment": Final("payment reversed", "a reversal stays in the books", "Enter the payment again."),
    "CreditInvoice": Final(
        "credit note", "a credit note is issued: it is fixed for good", "Open a card and bill what is owed."
    ),
    "EraseCustomer": Final(
        "customer erased",
        "what was erased is kept nowhere",
        "Write the customer down anew when they come again.",
    ),
    "TakeBack": Final("taken back", "what was taken back stays so", "Do it again: u, then a."),
}

# What is added to and taken from by many acts is brought back by the difference, whatever was done since.
ADDITIVE = frozenset({("part", "stock_milli"), ("card", "expected_minutes")})


def is_kept(act: str) -> bool:
    """Whether the journal keeps what an act of that name touches."""
    return act in INVERSES


def short(act: str) -> str:
    """Return what an act was in a word or two."""
    known = INVERSES.get(act) or FINAL.get(act)
    return known.short if known else "".join(f" {c.lower()}" if c.isupper() else c for c in act).strip()
