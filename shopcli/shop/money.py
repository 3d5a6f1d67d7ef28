"""The one calculator of money: every paper and every invoice gets its figures here, so none can disagree.

Amounts are `Decimal` and never a binary fraction. Rounding is half-up on the absolute value with the sign
restored, to two decimals, at exactly the places EN 16931-1 names: the line net (BT-131), a document
allowance or charge (BT-92, BT-99) and the VAT of each rate group (BT-117). All else is an exact sum.
The calculator knows currencies of a hundred minor units only.

Source of the rounding rule: EN 16931 validation artefacts, test suite of BR-CO-17 ("rounded half up to two
decimals").
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal, localcontext
from typing import Protocol

from shopcli.shop.amounts import (
    EXACT,
    ZERO,
    BadAmount,
    checked,
    from_minor,
    half_up,
    in_cents,
    rounded,
    to_minor,
)
from shopcli.shop.labour_pricing import labour_hours, labour_quantity, labour_units

__all__ = [
    "Allowance",
    "BadAmount",
    "Charge",
    "Line",
    "Net",
    "Taxed",
    "Totals",
    "VatGroup",
    "from_minor",
    "half_up",
    "labour_hours",
    "labour_quantity",
    "labour_units",
    "markup",
    "to_minor",
    "total",
]

HUNDREDTH = Decimal("0.01")


class Taxed(Protocol):
    """Anything with a net amount and its VAT: a `Line`, a `Net`, or a line of a finished paper."""

    @property
    def net(self) -> Decimal: ...  # noqa: D102
    @property
    def vat(self) -> str: ...  # noqa: D102
    @property
    def percent(self) -> Decimal: ...  # noqa: D102
    @property
    def category(self) -> str: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a bill.

    `price` is that of one `unit`, except that a line in minutes (``min``) is priced by the hour: its base
    quantity (BT-149) is 60. A return is a negative quantity; a negative price is refused (BR-27).
    """

    id: str  # BT-126
    kind: str
    description: str  # BT-153
    qty: Decimal  # BT-129
    unit: str  # BT-130
    price: Decimal  # BT-146
    vat: str
    percent: Decimal  # BT-152
    category: str  # BT-151
    allowance: Decimal = ZERO  # BT-136
    charge: Decimal = ZERO  # BT-141

    def __post_init__(self) -> None:
        for name in ("qty", "price", "percent", "allowance", "charge"):
            checked(getattr(self, name), f"line {self.id}: {name}")
        for name in ("price", "allowance", "charge"):
            if getattr(self, name) < 0:
                raise BadAmount(
                    f"line {self.id}: {name} is below zero",
                    hint="Give a negative quantity for something returned.",
                )
        for name in ("allowance", "charge"):
            in_cents(getattr(self, name), f"line {self.id}: {name}")
        checked(self.net, f"line {self.id}: net")

    @property
    def base_qty(self) -> int:
        """The quantity the price is for, BT-149."""
        return 60 if self.unit == "min" else 1

    @property
    def net(self) -> Decimal:
        """Line net amount, BT-131: quantity times price rounded, less allowances, plus charges.

        Those are whole cents by the standard (BR-DEC-24, BR-DEC-27). Rounding before they are taken off or put on
        gives the same cents as after while the line stays above zero; and of a line wholly given away nothing is
        left, where rounding after might leave a cent to the customer.

        Examples
        --------
        >>> rate = ("standard", Decimal(20), "S")
        >>> Line("1", "labour", "Set the points", Decimal("0.7"), "h", Decimal("62.35"), *rate).net
        Decimal('43.65')
        >>> Line("2", "labour", "Set the points", Decimal(10), "min", Decimal("60.03"), *rate).net
        Decimal('10.01')
        """
        gross = EXACT.divide(EXACT.multiply(self.qty, self.price), Decimal(self.base_qty))
        return EXACT.add(EXACT.subtract(rounded(gross), self.allowance), self.charge)


@dataclass(frozen=True, slots=True)
class Net:
    """A line net as it stands on a paper, to reckon that paper again."""

    net: Decimal  # BT-131
    percent: Decimal
    category: str
    vat: str = ""


@dataclass(frozen=True, slots=True)
class Allowance:
    """Something taken off the whole bill, or, as a charge, put on it; in the VAT group it belongs to."""

    amount: Decimal  # BT-92, BT-99
    percent: Decimal  # BT-96, BT-103
    category: str  # BT-95, BT-102
    vat: str = ""
    reason: str = ""  # BT-97, BT-104

    @property
    def net(self) -> Decimal:
        """The amount, rounded."""
        amount = half_up(self.amount)
        if amount < 0:
            raise BadAmount(f"an allowance or charge of {amount}", hint="Enter it as the other of the two.")
        return amount


Charge = Allowance


@dataclass(frozen=True, slots=True)
class VatGroup:
    """The VAT of one category and rate."""

    vat: str
    category: str  # BT-118
    percent: Decimal  # BT-119
    basis: Decimal  # BT-116
    tax: Decimal  # BT-117


@dataclass(frozen=True, slots=True)
class Totals:
    """The foot of a bill."""

    line_net: Decimal  # BT-106
    allowances: Decimal  # BT-107
    charges: Decimal  # BT-108
    without_vat: Decimal  # BT-109
    vat: Decimal  # BT-110
    with_vat: Decimal  # BT-112
    paid: Decimal  # BT-113
    rounding: Decimal  # BT-114
    due: Decimal  # BT-115
    groups: tuple[VatGroup, ...]


def total(
    lines: Iterable[Taxed],
    *,
    allowances: Iterable[Allowance] = (),
    charges: Iterable[Allowance] = (),
    paid: Decimal = ZERO,
    rounding: Decimal = ZERO,
) -> Totals:
    """Return the totals of a bill.

    Parameters
    ----------
    lines : iterable of Line, Net or any other `Taxed`
        Their nets are taken as they stand and must be whole cents.
    allowances, charges : iterable of Allowance, optional
        At document level.
    paid : Decimal, optional
        Deposit and payments already taken, [currency]
    rounding : Decimal, optional
        Added to the amount due, for tills without small coins, [currency]

    Raises
    ------
    BadAmount
        If a figure cannot be money.

    Examples
    --------
    >>> third = Net(Decimal("0.33"), Decimal(19), "S")
    >>> bill = total([third, third, third])
    >>> bill.vat, bill.due
    (Decimal('0.19'), Decimal('1.18'))
    """
    taxed, off, on = list(lines), list(allowances), list(charges)
    paid, rounding = in_cents(paid, "paid"), in_cents(rounding, "rounding")
    with localcontext(EXACT):
        line_net = _sum(in_cents(line.net, "line net") for line in taxed)
        minus, plus = _sum(a.net for a in off), _sum(c.net for c in on)
        groups = _groups([*((x, 1) for x in taxed), *((x, -1) for x in off), *((x, 1) for x in on)])
        without_vat = line_net - minus + plus
        vat = _sum(g.tax for g in groups)
        with_vat = checked(without_vat + vat, "total")
        due = with_vat - paid + rounding
    return Totals(
        line_net=line_net,
        allowances=minus,
        charges=plus,
        without_vat=without_vat,
        vat=vat,
        with_vat=with_vat,
        paid=paid,
        rounding=rounding,
        due=due,
        groups=groups,
    )


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return checked(sum(amounts, Decimal("0.00")), "total")


def _groups(taxed: Sequence[tuple[Taxed, int]]) -> tuple[VatGroup, ...]:
    bases: dict[tuple[str, Decimal], Decimal] = {}
    names: dict[tuple[str, Decimal], str] = {}
    for item, sign in taxed:
        key = (item.category, _percent(item.percent))
        bases[key] = bases.get(key, Decimal("0.00")) + sign * item.net
        names[key] = names.get(key) or item.vat
    order = sorted(bases, key=lambda k: (-k[1], k[0]))
    return tuple(VatGroup(names[k], k[0], k[1], bases[k], _tax(bases[k], k[1])) for k in order)


def _percent(percent: Decimal) -> Decimal:
    rate = checked(percent, "VAT rate")
    if not 0 <= rate <= 100:  # noqa: PLR2004
        raise BadAmount(f"a VAT rate of {rate} %", hint="Write the rate in percent, 0 to 100.")
    return rate


def _tax(basis: Decimal, percent: Decimal) -> Decimal:
    return rounded(EXACT.multiply(EXACT.multiply(basis, percent), HUNDREDTH))


def markup(cost_minor: int, bands: Sequence[tuple[int, Decimal]]) -> int:
    """Return the selling price of a part bought at `cost_minor`, by the shop's own bands.

    The band with the highest start at or below the cost applies to the whole cost, so a price may step
    down where a lower percentage begins; below the first band there is no markup.

    Parameters
    ----------
    cost_minor : int
        What it cost, [minor units]
    bands : sequence of (int, Decimal)
        Cost from which a band applies, [minor units], and its markup, [%]

    Examples
    --------
    >>> markup(1235, ((0, Decimal(50)), (5000, Decimal(30))))
    1853
    """
    cost = from_minor(cost_minor)
    if cost < 0:
        raise BadAmount(f"a cost of {cost}", hint="A part costs nothing or more.")
    reached = [(start, checked(percent, "markup")) for start, percent in bands if start <= cost_minor]
    percent = max(reached, key=lambda band: band[0])[1] if reached else ZERO
    if percent < 0:
        raise BadAmount(f"a markup of {percent} %", hint="Write 0 or more.")
    return to_minor(rounded(EXACT.multiply(cost, EXACT.add(1, EXACT.multiply(percent, HUNDREDTH)))))
