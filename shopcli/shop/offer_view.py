"""What an offer says, whole: who, which car, what it would take, up to when it holds, and what a name under it allows."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.bill import BillAllowance, BillGroup, BillLine, Party

UPTO = "{up to}"


@dataclass(frozen=True, slots=True)
class OfferJob:
    """A job on offer with the hours it takes: as likely less as more, and in four cases of five no more than."""

    title: str
    hours: Decimal  # [h]
    hours_80: Decimal  # [h]


@dataclass(frozen=True, slots=True)
class OfferReply:
    """What was answered to an offer: ``accepted`` or ``declined``, by whom, how it came, up to what sum with tax."""

    answer: str
    said_by: str
    how: str
    on: date
    upto: Decimal | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class OfferPaper:
    """An offer as it was made.

    `hours` is the middle of what is expected and `hours_80` what four cases of five stay within; the lines are
    priced by the former and `with_vat_80` is the total at the latter, None where no range is offered.
    """

    number: str
    made: date
    valid_until: date | None
    currency: str
    seller: Party
    buyer: Party
    card: str
    vehicle: str  # "ABC 123, Marque Model 1964"
    odometer: str
    words: str  # the customer's own
    jobs: tuple[OfferJob, ...]
    hours: Decimal
    hours_80: Decimal
    lines: tuple[BillLine, ...]  # labour, parts, outwork, sundries
    allowances: tuple[BillAllowance, ...]
    groups: tuple[BillGroup, ...]
    line_net: Decimal
    without_vat: Decimal
    tax: Decimal
    with_vat: Decimal
    with_vat_80: Decimal | None = None
    ready: str = ""  # when it would be done, in words
    authority: str = ""  # what has been allowed already, by whom and how
    allows: tuple[
        str, ...
    ] = ()  # what signing it allows, sentence by sentence; `UPTO` stands for `with_vat_80`
    notes: tuple[str, ...] = ()
    terms: str = ""
    reply: OfferReply | None = None
    tax_word: str = "VAT"
