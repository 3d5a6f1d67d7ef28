"""What a bill says, whole: the one finished thing every paper, every e-invoice and the ledger are made from.

It is put together once, in the transaction that issues it, written into the invoice's body and read back from
there for good. Nothing here reckons: figures come from `money.total`. The comments name the business terms of
EN 16931-1, so that a writer of a syntax finds each where it belongs. A US-style sales tax bill is the same
thing with `tax_word` "Sales tax".
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class Party:
    """Who sells or who buys: seller BG-4, buyer BG-7."""

    name: str  # BT-27, BT-44
    address: tuple[str, ...] = ()  # BT-35, BT-36, BT-162; BT-50, BT-51, BT-163: line by line, as written
    city: str = ""  # BT-37, BT-52
    post_code: str = ""  # BT-38, BT-53
    country: str = ""  # BT-40, BT-55, ISO 3166-1 alpha-2
    vat_number: str = ""  # BT-31, BT-48, with its country prefix
    tax_number: str = ""  # BT-32: a registration that is not a VAT number
    phone: str = ""  # BT-42, BT-57
    email: str = ""  # BT-43, BT-58

    @property
    def where(self) -> tuple[str, ...]:
        """The address as written, with the town and post code below where its lines do not say them already.

        Examples
        --------
        >>> Party("A", ("1 Mill Street", "Marling"), "Marling", "XX1 1XX").where
        ('1 Mill Street', 'Marling', 'XX1 1XX')
        """
        lines = [line for line in self.address if line.strip()]
        said = " ".join(lines).casefold()
        missing = [text for text in (self.city, self.post_code) if text and text.casefold() not in said]
        return (*lines, *missing)


@dataclass(frozen=True, slots=True)
class BillLine:
    """One line; amounts are positive on a credit note too, a return has a negative quantity."""

    id: str  # BT-126
    kind: str  # labour, part, surcharge, outwork, sundry, fee
    description: str  # BT-153
    qty: Decimal  # BT-129
    unit: str  # BT-130 in the shop's word: h, min, pc, l, m, kg
    price: Decimal  # BT-146
    base_qty: int  # BT-149
    net: Decimal  # BT-131
    vat: str  # the shop's name of the rate
    percent: Decimal  # BT-152
    category: str  # BT-151
    allowance: Decimal = ZERO  # BT-136
    allowance_percent: Decimal | None = None  # BT-138
    allowance_reason: str = ""  # BT-139
    charge: Decimal = ZERO  # BT-141
    charge_reason: str = ""  # BT-144
    note: str = ""  # BT-127: a serial number, "customer's own"


@dataclass(frozen=True, slots=True)
class BillAllowance:
    """Something taken off the whole bill (BG-20) or, when `charge`, put on it (BG-21), within one VAT group."""

    charge: bool
    amount: Decimal  # BT-92, BT-99
    vat: str
    percent: Decimal  # BT-96, BT-103
    category: str  # BT-95, BT-102
    reason: str  # BT-97, BT-104
    base: Decimal | None = None  # BT-93, BT-100
    rate: Decimal | None = None  # BT-94, BT-101


@dataclass(frozen=True, slots=True)
class BillGroup:
    """The VAT of one category and rate, BG-23."""

    vat: str
    category: str  # BT-118
    percent: Decimal  # BT-119
    basis: Decimal  # BT-116
    tax: Decimal  # BT-117
    reason: str = ""  # BT-120: why exempt, reverse charged or out of scope; empty for S and Z


@dataclass(frozen=True, slots=True)
class BillPayment:
    """Money taken against the bill before it was issued."""

    kind: str  # deposit, payment
    amount: Decimal
    method: str
    on: date


@dataclass(frozen=True, slots=True)
class Bill:
    """An invoice (380) or a credit note (381) as issued."""

    kind: str  # "invoice" or "credit note", BT-3
    number: str  # BT-1, as printed
    issued: date  # BT-2
    due_by: date | None  # BT-9
    supplied: date | None  # BT-72, the day the work was finished
    currency: str  # BT-5
    seller: Party
    buyer: Party
    card: str  # BT-13 is the customer's own; this is our card number, given as BT-18 or a note
    vehicle: str  # "ABC 123, Marque Model 1964"
    odometer: str
    order: str  # BT-13: the customer's order or the accepted offer
    lines: tuple[BillLine, ...]
    allowances: tuple[BillAllowance, ...]
    groups: tuple[BillGroup, ...]
    payments: tuple[BillPayment, ...]
    line_net: Decimal  # BT-106
    allowance_sum: Decimal  # BT-107
    charge_sum: Decimal  # BT-108
    without_vat: Decimal  # BT-109
    tax: Decimal  # BT-110
    with_vat: Decimal  # BT-112
    paid: Decimal  # BT-113
    rounding: Decimal  # BT-114
    due: Decimal  # BT-115
    corrects: str = ""  # BT-25: the number of the invoice a credit note answers
    corrects_issued: date | None = None  # BT-26
    why: str = ""  # BT-22: why a credit note was written
    notes: tuple[str, ...] = ()  # BT-22
    terms: str = ""  # BT-20
    iban: str = ""  # BT-84
    bic: str = ""  # BT-86
    account_name: str = ""  # BT-85
    tax_word: str = "VAT"
    rounding_rule: str = ""
