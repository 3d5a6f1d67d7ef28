"""Everything that may be asked of the shop, as plain frozen data.

A command is light (no database library is imported to build one), is written into the journal as it is,
and names its rule; `shopcli.store.shop.Shop.do` finds the rule when the first act is done.
"""

from dataclasses import dataclass, field
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Command:
    """Base: `rule` is ``module:function`` below `shopcli.shop`; `knows` says that it needs templates, sheets or tags."""

    rule: ClassVar[str] = ""
    knows: ClassVar[bool] = False


# People ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class AddPerson(Command):
    """Take somebody on. `units`: ``metric`` or ``imperial``, what their tools speak."""

    rule: ClassVar[str] = "people:add_person"
    name: str
    role: str = "mechanic"
    units: str = "metric"


@dataclass(frozen=True, slots=True)
class SetUnits(Command):
    """Change the units somebody reads in."""

    rule: ClassVar[str] = "people:set_units"
    person_id: int
    units: str


@dataclass(frozen=True, slots=True)
class AddCustomer(Command):
    """Write down a customer."""

    rule: ClassVar[str] = "customers:add_customer"
    name: str
    phone: str = ""
    email: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class ChangeCustomer(Command):
    """Change a customer; `version` is the one that was on the screen."""

    rule: ClassVar[str] = "customers:change_customer"
    customer_id: int
    version: int
    name: str
    phone: str = ""
    email: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class AddVehicle(Command):
    """Write down a vehicle. `sheet` names its nearest spec sheet; `facts` are overrides as (name, text)."""

    rule: ClassVar[str] = "customers:add_vehicle"
    knows: ClassVar[bool] = True
    customer_id: int
    registration: str
    make: str
    model: str = ""
    year: int | None = None
    sheet: str = ""
    distance_unit: str = "mi"
    chassis_number: str = ""
    engine_number: str = ""
    facts: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class EnterSpec(Command):
    """Give a vehicle a number of its own, or confirm one: always with its provenance.

    `low`, `nominal`, `high` are typed texts with a unit, `also` a second print of the same limits; `unit` is that
    of bare figures. `confirm` takes the number the sheets have now. A number no sheet knows yet brings its `label`
    and `quantity`. `who` and `on` are told only where a file brings an older entry along.
    """

    rule: ClassVar[str] = "specs:enter_spec"
    knows: ClassVar[bool] = True
    vehicle_id: int
    name: str
    low: str = ""
    nominal: str = ""
    high: str = ""
    state: str = ""
    kind: str = "handbook"
    document: str = ""
    page: str = ""
    confirm: bool = False
    also: str = ""
    note: str = ""
    why: str = ""
    label: str = ""
    quantity: str = ""
    unit: str = ""
    who: str = ""
    on: str = ""


# Cards ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class OpenCard(Command):
    """Open a card for a vehicle and expand templates for it.

    `take` names what earlier visits left and this one takes on, like ``finding:3`` or ``owed:5``.
    """

    rule: ClassVar[str] = "cards:open_card"
    knows: ClassVar[bool] = True
    vehicle_id: int
    templates: tuple[str, ...] = ()
    words: str = ""
    title: str = ""
    odometer: int | None = None
    left_with: str = ""
    authority_minor: int | None = None
    authority_by: str = ""
    promised: str = ""
    number: str = ""
    take: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TakeOn(Command):
    """Take on an open card what earlier visits left, like ``finding:3`` or ``owed:5``."""

    rule: ClassVar[str] = "taking_on:take_on"
    knows: ClassVar[bool] = True
    card_id: int
    take: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AddTemplates(Command):
    """Expand further templates onto an open card."""

    rule: ClassVar[str] = "cards:add_templates"
    knows: ClassVar[bool] = True
    card_id: int
    templates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChangeCard(Command):
    """Change what the desk wrote on a card; fields left None stay."""

    rule: ClassVar[str] = "cards:change_card"
    card_id: int
    version: int
    words: str | None = None
    title: str | None = None
    odometer: int | None = None
    left_with: str | None = None
    authority_minor: int | None = None
    authority_by: str | None = None
    promised: str | None = None


@dataclass(frozen=True, slots=True)
class MoveCard(Command):
    """Move a card to another state: take in hand, hold (with a reason), check, void."""

    rule: ClassVar[str] = "cards:move_card"
    card_id: int
    state: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class CloseCard(Command):
    """Close a checked card: refused while anything hinders; issues the invoice in the same transaction."""

    rule: ClassVar[str] = "closing:close_card"
    card_id: int


@dataclass(frozen=True, slots=True)
class Waive(Command):
    """Set a hindrance aside by name, with a reason. `hindrance` is its key from the closing check."""

    rule: ClassVar[str] = "closing:waive"
    card_id: int
    hindrance: str
    reason: str


# At the bench ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TakeReading(Command):
    """Record a reading as typed, judged by the limits frozen into the task."""

    rule: ClassVar[str] = "readings:take_reading"
    task_id: int
    slot: str
    typed: str
    tool: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class StrikeReading(Command):
    """Strike a reading that was wrong; it stays in the journal."""

    rule: ClassVar[str] = "readings:strike_reading"
    reading_id: int


@dataclass(frozen=True, slots=True)
class FinishTask(Command):
    """Say a task is done: hangs and lifts its tags, writes what it owes, redeems what was owed to it."""

    rule: ClassVar[str] = "tasks:finish_task"
    knows: ClassVar[bool] = True
    task_id: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class LeaveOut(Command):
    """Leave a task out, with a reason."""

    rule: ClassVar[str] = "tasks:leave_out"
    task_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class ReopenTask(Command):
    """Take back done or left out; tags and owed checks of the task are taken back with it."""

    rule: ClassVar[str] = "tasks:reopen_task"
    task_id: int
    reason: str = ""


@dataclass(frozen=True, slots=True)
class SecondCheck(Command):
    """A second person signs a task that wants a second pair of eyes."""

    rule: ClassVar[str] = "tasks:second_check"
    task_id: int


@dataclass(frozen=True, slots=True)
class NoteOnTask(Command):
    """Write a note on a task."""

    rule: ClassVar[str] = "tasks:note_on_task"
    task_id: int
    note: str


@dataclass(frozen=True, slots=True)
class ClockOn(Command):
    """Clock the acting person on a task; a clock running elsewhere stops at the same second."""

    rule: ClassVar[str] = "clock:clock_on"
    task_id: int


@dataclass(frozen=True, slots=True)
class ClockOff(Command):
    """Stop the acting person's clock."""

    rule: ClassVar[str] = "clock:clock_off"


@dataclass(frozen=True, slots=True)
class CorrectClock(Command):
    """Correct an entry, with a reason; times in seconds UTC. Without an end a running clock runs on."""

    rule: ClassVar[str] = "corrections:correct_clock"
    entry_id: int
    started_at: int
    ended_at: int | None
    reason: str
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class LiftTag(Command):
    """Lift a tag by hand, with a reason (a task normally lifts it)."""

    rule: ClassVar[str] = "tags:lift_tag"
    tag_id: int
    reason: str


@dataclass(frozen=True, slots=True)
class SettleOwed(Command):
    """Say a promised check was done (``done``) or waive it (``waived``), with a reason."""

    rule: ClassVar[str] = "owed:settle_owed"
    owed_id: int
    state: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class AddFinding(Command):
    """Write down a fault seen and not mended. `wanted` names the job template that would mend it."""

    rule: ClassVar[str] = "findings:add_finding"
    knows: ClassVar[bool] = True
    card_id: int
    place: str
    what: str
    severity: str
    takes: str = ""
    task_id: int | None = None
    wanted: str = ""
    photo: str = ""


@dataclass(frozen=True, slots=True)
class SettleFinding(Command):
    """Say a finding was done, or declined by the customer; `said_by` when somebody else spoke for the owner."""

    rule: ClassVar[str] = "findings:settle_finding"
    finding_id: int
    state: str
    reason: str = ""
    said_by: str = ""


# The order of work ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PinTask(Command):
    """Wish for a place of a task in the order of work, or for who does it; a newer wish of the kind takes its place.

    `kind` is ``next``, ``place`` (the n-th of what is not begun: `place`), ``last``, ``after`` (`other_id`) or ``by``
    (`person_id`).
    """

    rule: ClassVar[str] = "wishes:pin_task"
    knows: ClassVar[bool] = True
    task_id: int
    kind: str
    place: int = 0
    other_id: int | None = None
    person_id: int | None = None


@dataclass(frozen=True, slots=True)
class GiveBack(Command):
    """Give back every wish for a task, or without one every wish on the card."""

    rule: ClassVar[str] = "wishes:give_back"
    card_id: int
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class SetHands(Command):
    """Say how many people work on a card; None goes back to what the shop usually has."""

    rule: ClassVar[str] = "wishes:set_hands"
    card_id: int
    hands: int | None = None


# Parts and money ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class AddPart(Command):
    """Write down a part the shop keeps."""

    rule: ClassVar[str] = "parts:add_part"
    number: str
    name: str
    cost_minor: int
    price_minor: int | None = None
    stock_milli: int = 0
    reorder_milli: int = 0
    surcharge_minor: int = 0
    bin: str = ""
    supplier: str = ""
    vat: str = "standard"
    unit: str = "pc"
    wants_serial: bool = False


@dataclass(frozen=True, slots=True)
class ChangePart(Command):
    """Change what is known of a stocked part, or count it; fields left None stay."""

    rule: ClassVar[str] = "parts:change_part"
    part_id: int
    version: int
    name: str | None = None
    bin: str | None = None
    supplier: str | None = None
    cost_minor: int | None = None
    price_minor: int | None = None
    stock_milli: int | None = None
    reorder_milli: int | None = None
    surcharge_minor: int | None = None
    wants_serial: bool | None = None


@dataclass(frozen=True, slots=True)
class PutPart(Command):
    """Put a part on a card: from stock (`part_id`) or described, bought in, or the customer's own."""

    rule: ClassVar[str] = "parts:put_part"
    card_id: int
    part_id: int | None = None
    description: str = ""
    qty_milli: int = 1000
    cost_minor: int = 0
    price_minor: int | None = None
    task_id: int | None = None
    customers_own: bool = False
    unit: str = "pc"


@dataclass(frozen=True, slots=True)
class MovePart(Command):
    """Move a part on a card: order it, fit it (takes it from stock), return it, do without."""

    rule: ClassVar[str] = "parts:move_part"
    card_part_id: int
    state: str
    task_id: int | None = None
    serial: str = ""


@dataclass(frozen=True, slots=True)
class PartToTask(Command):
    """Give a task a part by its number, as a scanner reads it: one waited for is given to it, else it is put on."""

    rule: ClassVar[str] = "fitting:part_to_task"
    card_id: int
    number: str
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class FitInstead(Command):
    """Fit another part in place of one of the card, with the reason: from stock (`part_id`) or described."""

    rule: ClassVar[str] = "fitting:fit_instead"
    card_part_id: int
    reason: str
    part_id: int | None = None
    description: str = ""
    cost_minor: int = 0
    price_minor: int | None = None
    task_id: int | None = None
    serial: str = ""


@dataclass(frozen=True, slots=True)
class OrderShort(Command):
    """Put every part of a card that is wanted and not on the shelf on the order list; with `task_id` those of one task."""

    rule: ClassVar[str] = "fitting:order_short"
    card_id: int
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class PartArrived(Command):
    """A part on order is here: it is wanted again, and a stocked one is on the shelf."""

    rule: ClassVar[str] = "fitting:part_arrived"
    card_part_id: int


@dataclass(frozen=True, slots=True)
class OldUnitBack(Command):
    """The old unit of an exchange went back: its surcharge is no longer owed. `back` False takes that back."""

    rule: ClassVar[str] = "fitting:old_unit_back"
    card_part_id: int
    back: bool = True


@dataclass(frozen=True, slots=True)
class PricePart(Command):
    """Give a part on a card its price, where stock did not know one."""

    rule: ClassVar[str] = "parts:price_part"
    card_part_id: int
    price_minor: int
    cost_minor: int | None = None


@dataclass(frozen=True, slots=True)
class AddOutwork(Command):
    """Send work out."""

    rule: ClassVar[str] = "parts:add_outwork"
    card_id: int
    what: str
    who: str
    cost_minor: int = 0
    price_minor: int = 0
    sent: str = ""
    due: str = ""


@dataclass(frozen=True, slots=True)
class OutworkBack(Command):
    """Outwork came back, perhaps at another price."""

    rule: ClassVar[str] = "parts:outwork_back"
    outwork_id: int
    back: str
    cost_minor: int | None = None
    price_minor: int | None = None


@dataclass(frozen=True, slots=True)
class TakePayment(Command):
    """Take money: ``deposit`` while the card is open, ``payment`` after."""

    rule: ClassVar[str] = "payments:take_payment"
    card_id: int
    amount_minor: int
    kind: str = "deposit"
    method: str = "cash"
    extra: tuple[str, ...] = field(default=())


# Tools ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class AddTool(Command):
    """Write a measuring tool into the register.

    `span` and `graduation` are typed as printed on it (``20 to 100 Nm``, ``0.5``), `blades` those of a feeler set
    (``2 3 4 thou; 0.05 mm``); `calibrated` is an ISO date, `cycles` those pulled since.
    """

    rule: ClassVar[str] = "tools:add_tool"
    name: str
    kind: str
    span: str = ""
    graduation: str = ""
    blades: str = ""
    calibrated: str = ""
    certificate: str = ""
    cycles: int = 0
    note: str = ""


@dataclass(frozen=True, slots=True)
class ChangeTool(Command):
    """Change what the register says of a tool; fields left None stay."""

    rule: ClassVar[str] = "tools:change_tool"
    tool_id: int
    version: int
    name: str | None = None
    span: str | None = None
    graduation: str | None = None
    blades: str | None = None
    cycles: int | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class NoteCalibration(Command):
    """Note that a tool was calibrated: on which day, and the certificate; its cycles begin anew."""

    rule: ClassVar[str] = "tools:note_calibration"
    tool_id: int
    on: str
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class RetireTool(Command):
    """Take a tool out of use, with a reason; readings taken with it keep its name."""

    rule: ClassVar[str] = "tools:retire_tool"
    tool_id: int
    reason: str


# Photos ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class AddPhoto(Command):
    """Note a photo that was copied into the shop's own folder under `file`: of a card, its task or a finding."""

    rule: ClassVar[str] = "photos:add_photo"
    card_id: int
    file: str
    kind: str
    size: int
    caption: str = ""
    task_id: int | None = None
    finding_id: int | None = None


@dataclass(frozen=True, slots=True)
class RemovePhoto(Command):
    """Take a photo off a card; the file stays in the shop's folder."""

    rule: ClassVar[str] = "photos:remove_photo"
    photo_id: int
    reason: str
