"""What the screens, the papers and the command line get to see: frozen values, no formatting, no session.

The read side makes them from SQL rows; nothing here imports the database or the screens.
"""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shopcli.shop.known import Carried as Carried
from shopcli.shop.known import CustomerView as CustomerView
from shopcli.shop.known import FindingView as FindingView
from shopcli.shop.known import OwedView as OwedView
from shopcli.shop.known import VehicleView as VehicleView
from shopcli.shop.listed import CardRow as CardRow
from shopcli.shop.listed import ClockView as ClockView
from shopcli.shop.listed import PersonView as PersonView
from shopcli.shop.states import FindingState, Severity
from shopcli.worklists.model import Spec, Task

OUTSIDE = frozenset({"low", "high"})  # how a reading stands that is out of its limits


@dataclass(frozen=True, slots=True)
class ReadingView:
    """A reading as taken."""

    id: int
    task_id: int
    slot: str
    name: str
    label: str
    phase: str
    typed: str
    value: float
    unit: str
    quantity: str
    standing: str
    verdict: str
    limits: str
    provenance: str
    tool: str
    person: str
    at: datetime
    tool_note: str = ""


@dataclass(frozen=True, slots=True)
class TaskView:
    """A task of a card with everything the bench shows of it; `newer` numbers were entered since it was expanded."""

    id: int
    position: int
    state: str
    task: Task
    readings: tuple[ReadingView, ...]
    clocked_seconds: int
    running: tuple[str, ...]
    done_by: str
    done_at: datetime | None
    left_out_for: str
    second_by: str
    note: str
    barred_by: tuple[str, ...]
    version: int
    newer: tuple[Spec, ...] = ()

    @property
    def left_out_of_limits(self) -> tuple[ReadingView, ...]:
        """The readings as left that are low or high, as the closing check has them too."""
        return tuple(r for r in self.readings if r.phase == "as left" and r.standing in OUTSIDE)


@dataclass(frozen=True, slots=True)
class TagView:
    """A tag hanging on the vehicle."""

    id: int
    name: str
    says: str
    bars: tuple[str, ...]
    hung_by: str
    hung_at: datetime
    card: str
    task: str


@dataclass(frozen=True, slots=True)
class PartLineView:
    """A part on a card. `here` says that what it waits for is on the shelf, or came with the car (`parts_here`)."""

    id: int
    task_id: int | None
    part_id: int | None
    number: str
    description: str
    qty: Decimal
    unit: str
    price: Decimal
    state: str
    customers_own: bool
    optional: bool
    in_stock: Decimal | None
    bin: str
    serial: str = ""
    wants_serial: bool = False
    surcharge: Decimal = Decimal(0)
    old_unit_back: bool = False
    instead_of: str = ""
    reason: str = ""
    here: bool = False

    @property
    def short(self) -> bool:
        """Whether it is wanted and the shelf does not hold it."""
        return self.state == "wanted" and not self.here


@dataclass(frozen=True, slots=True)
class CardView:
    """One card, whole."""

    id: int
    number: str
    state: str
    held_for: str
    title: str
    words: str
    left_with: str
    customer_id: int
    customer: str
    phone: str
    vehicle_id: int
    registration: str
    vehicle: str
    distance_unit: str
    odometer: int | None
    authority: Decimal | None
    authority_by: str
    promised: date | None
    opened: datetime
    closed: datetime | None
    expected_minutes: int
    version: int
    templates: tuple[str, ...]
    tasks: tuple[TaskView, ...]
    parts: tuple[PartLineView, ...]
    tags: tuple[TagView, ...]
    owed: tuple[OwedView, ...]
    findings: tuple[FindingView, ...]
    car_keys: str = ""
    fuel: str = ""
    damage: str = ""
    authority_how: str = ""
    authority_at: datetime | None = None
    handed: datetime | None = None
    handed_to: str = ""

    @property
    def clocked_seconds(self) -> int:
        """Time on the whole card, running clocks included."""
        return sum(t.clocked_seconds for t in self.tasks)

    @property
    def stops(self) -> tuple[FindingView, ...]:
        """What was seen for which the car is not to be driven before it is mended."""
        return tuple(f for f in self.findings if (f.severity, f.state) == (Severity.STOP, FindingState.OPEN))


@dataclass(frozen=True, slots=True)
class Hindrance:
    """One reason a card cannot close: what, why, where it is mended, whether it may be waived."""

    key: str
    what: str
    why: str
    where: str
    where_id: int
    waivable: bool
    mend: str


# The summary ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PartyView:
    """A name and address on a paper."""

    name: str
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    vat_number: str = ""


@dataclass(frozen=True, slots=True)
class WorkDone:
    """A task as the customer reads it: title, done or left out with the reason, who checked it."""

    title: str
    system: str
    outcome: str
    reason: str = ""
    second_by: str = ""


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """A reading found and left, with the limits it was judged by, all as text in the unit it was typed in."""

    title: str
    label: str
    found: str
    left: str
    limits: str
    verdict: str
    provenance: str


@dataclass(frozen=True, slots=True)
class PriceLine:
    """A line of the bill. `qty` times `price`, less `allowance`, is `net` before rounding; `unit` is ``h``, ``min`` (priced by the hour), ``pc``, ``L`` …."""

    id: str
    kind: str
    description: str
    qty: Decimal
    unit: str
    price: Decimal
    net: Decimal
    vat: str
    percent: Decimal
    category: str
    allowance: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class VatGroupView:
    """VAT of one rate."""

    vat: str
    category: str
    percent: Decimal
    basis: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True)
class TotalsView:
    """The totals, named as EN 16931 names them in the comments of the calculator."""

    line_net: Decimal
    without_vat: Decimal
    vat: Decimal
    with_vat: Decimal
    paid: Decimal
    due: Decimal
    groups: tuple[VatGroupView, ...]
    rounding: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class PaymentView:
    """Money taken."""

    kind: str
    amount: Decimal
    method: str
    on: date


@dataclass(frozen=True, slots=True)
class SummaryView:
    """Everything the invoice-ready summary shows."""

    shop: PartyView
    customer: PartyView
    card: str
    state: str
    invoice_number: str
    registration: str
    vehicle: str
    odometer: str
    opened: date
    closed: date | None
    title: str
    words: str
    authority: str
    currency: str
    done: tuple[WorkDone, ...]
    readings: tuple[ReadingLine, ...]
    labour_unit_minutes: int
    lines: tuple[PriceLine, ...]
    totals: TotalsView
    payments: tuple[PaymentView, ...]
    findings: tuple[FindingView, ...]
    owed: tuple[OwedView, ...]
    waived: tuple[str, ...]
    tax_word: str = "VAT"
