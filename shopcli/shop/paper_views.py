"""What a receipt, a statement and the story of a vehicle say: finished values, made by the read side, set by the papers."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.bill import Party
from shopcli.shop.views import FindingView, ReadingLine


@dataclass(frozen=True, slots=True)
class ReceiptView:
    """One payment, as whoever made it gets it in writing; money given back has a negative amount."""

    number: str
    on: date
    currency: str
    seller: Party
    payer: Party
    kind: str  # deposit, payment, refund
    method: str
    amount: Decimal
    towards: str  # "invoice INV-000123", "card J00012"
    vehicle: str = ""
    total: Decimal | None = None  # of the invoice it goes towards, with VAT
    paid_before: Decimal | None = None
    left: Decimal | None = None  # still due after it; below zero is in the customer's favour
    taken_by: str = ""
    note: str = ""
    credited: Decimal = Decimal("0.00")  # on that invoice up to then


@dataclass(frozen=True, slots=True)
class StatementLine:
    """A document or payment on a customer's account; exactly one of `charged` and `credited` is not zero."""

    on: date
    document: str  # "INV-000123", "CN-000004", "payment, card"
    what: str
    charged: Decimal
    credited: Decimal
    balance: Decimal  # after it


@dataclass(frozen=True, slots=True)
class AgeBand:
    """What is open by its age."""

    words: str  # "0 to 30 days"
    amount: Decimal


@dataclass(frozen=True, slots=True)
class StatementView:
    """A customer's account over a while: `opening`, plus what was charged, less what was credited, is `closing`."""

    seller: Party
    buyer: Party
    currency: str
    made: date
    first: date
    last: date
    opening: Decimal
    lines: tuple[StatementLine, ...]
    closing: Decimal
    ages: tuple[AgeBand, ...]
    iban: str = ""
    bic: str = ""
    account_name: str = ""
    terms: str = ""


@dataclass(frozen=True, slots=True)
class HistoryReading:
    """A reading taken at a visit."""

    on: date
    card: str
    line: ReadingLine


@dataclass(frozen=True, slots=True)
class HistoryVisit:
    """A card of the vehicle: what was asked, done, fitted."""

    card: str
    opened: date
    closed: date | None
    state: str
    odometer: str
    title: str
    words: str
    work: tuple[str, ...]
    parts: tuple[str, ...]
    invoice: str = ""


@dataclass(frozen=True, slots=True)
class HistoryView:
    """The story of a vehicle, newest visit first, readings together by what was read."""

    seller: Party
    made: date
    registration: str
    vehicle: str
    about: tuple[tuple[str, str], ...]  # chassis number, engine and the like
    visits: tuple[HistoryVisit, ...]
    readings: tuple[HistoryReading, ...]
    findings: tuple[FindingView, ...]
