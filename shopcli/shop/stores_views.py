"""What is seen of the stores: the shelf, what is to be ordered, orders under way, work sent out, exchanges and credits."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class SupplierView:
    """Somebody parts are bought from; `usual_days` 0 is not known."""

    id: int
    name: str
    phone: str
    email: str
    account: str
    note: str
    usual_days: int
    parts: int
    version: int


@dataclass(frozen=True, slots=True)
class StockView:
    """A part as it lies on the shelf: `wanted` by open cards, `coming` with orders, counted last on `counted`."""

    id: int
    number: str
    name: str
    unit: str
    bin: str
    supplier_id: int | None
    supplier: str
    stock: Decimal
    wanted: Decimal
    coming: Decimal
    reorder: Decimal
    pack: Decimal
    cost: Decimal
    price: Decimal
    surcharge: Decimal
    vat: str
    wants_serial: bool
    counted: date | None
    version: int

    @property
    def low(self) -> bool:
        """Whether the shelf is at its reorder point, or cards want more than lies there."""
        return (self.reorder > 0 and self.stock <= self.reorder) or self.stock < self.wanted or self.stock < 0


@dataclass(frozen=True, slots=True)
class MoveView:
    """A movement of a part: a signed quantity, why, for which card or order."""

    at: datetime
    qty: Decimal
    why: str
    card: str
    order: str
    note: str
    person: str


@dataclass(frozen=True, slots=True)
class PriceChangeView:
    """What a part cost and was sold for from a moment on."""

    at: datetime
    cost: Decimal
    price: Decimal
    why: str
    person: str


@dataclass(frozen=True, slots=True)
class PartStoryView:
    """A part with its movements and its prices, the last first; `more` earlier movements are not here."""

    part: StockView
    moves: tuple[MoveView, ...]
    prices: tuple[PriceChangeView, ...]
    more: int


@dataclass(frozen=True, slots=True)
class NeedView:
    """Something to order. `cards` are the cards it is for, as number and registration; without any it is for the shelf."""

    key: str
    supplier_id: int | None
    supplier: str
    number: str
    name: str
    qty: Decimal
    unit: str
    cost: Decimal
    stock: Decimal
    reorder: Decimal
    coming: Decimal
    cards: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OrderLineView:
    """A line of an order: how many are ordered, how many came, how many are still to come, and for which cards."""

    id: int
    number: str
    name: str
    unit: str
    qty: Decimal
    came: Decimal
    rest: Decimal
    cost: Decimal
    due: date | None
    late: bool
    closed_for: str
    bin: str
    cards: tuple[str, ...]
    version: int


@dataclass(frozen=True, slots=True)
class PurchaseView:
    """An order to a supplier, whole: everything its paper says. `worth` is what it costs without VAT, as expected."""

    id: int
    number: str
    supplier: SupplierView
    state: str
    note: str
    made: datetime
    made_by: str
    sent: datetime | None
    cancelled_for: str
    lines: tuple[OrderLineView, ...]
    worth: Decimal

    @property
    def due(self) -> date | None:
        """The last day something of it is due; None where a line has no day."""
        days = [line.due for line in self.lines if line.rest]
        return max((d for d in days if d), default=None) if all(days) else None

    @property
    def late(self) -> bool:
        """Whether something of it should have been here."""
        return any(line.late for line in self.lines)


@dataclass(frozen=True, slots=True)
class OutworkView:
    """Work sent out. `ring` is whom to ring, `days_over` how long it is overdue, 0 when it is not."""

    id: int
    card_id: int
    card: str
    registration: str
    customer: str
    what: str
    who: str
    ring: str
    sent: date | None
    due: date | None
    back: date | None
    cost: Decimal
    price: Decimal
    days_over: int
    version: int


@dataclass(frozen=True, slots=True)
class ExchangeView:
    """The old unit of an exchange, or a part sent back: who owes what. `stands` is one of `STANDS`.

    `credit` is what the customer owes, or what the supplier is to give.
    """

    key: str
    card_part_id: int | None
    sent_back_id: int | None
    what: str
    qty: Decimal
    unit: str
    stands: str
    credit: Decimal
    credited: Decimal | None
    card_id: int | None
    card: str
    card_state: str
    registration: str
    customer: str
    phone: str
    supplier: str
    reason: str
    since: date | None


CUSTOMER_OWES, HERE, SENT, CREDITED = "customer owes", "here", "credit to come", "credited"
STANDS = (CUSTOMER_OWES, HERE, SENT, CREDITED)


@dataclass(frozen=True, slots=True)
class ArrivedView:
    """A card whose parts came in and are not fitted yet; `all_here` when nothing more is on order for it."""

    card_id: int
    card: str
    registration: str
    customer: str
    phone: str
    state: str
    parts: tuple[str, ...]
    all_here: bool
    last: datetime


@dataclass(frozen=True, slots=True)
class StoresCounts:
    """How many things stand on each page of the stores, and how many of them are late."""

    to_order: int
    orders: int
    orders_late: int
    outwork: int
    outwork_late: int
    exchanges: int
