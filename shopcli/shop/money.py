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
from decimal import ROUND_HALF_UP, Context, Decimal, DivisionByZero, InvalidOperation, Overflow
from typing import Protocol

from shopcli.errors import BadInput
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

ZERO = Decimal(0)
_CENT = Decimal("0.01")
# A thousand million of any currency is a typing mistake in a small shop; so is a price with 13 decimals.
LARGEST = Decimal(1_000_000_000)
MOST_PLACES = 12
# Wide enough for quantity x price at those limits to be exact, whatever context the caller has set.
_EXACT = Context(prec=60, rounding=ROUND_HALF_UP, traps=[InvalidOperation, DivisionByZero, Overflow])


class BadAmount(BadInput):
    """A figure that cannot be money, a quantity or a rate."""

    title = "Not an amount"


def checked(value: Decimal | int, name: str = "amount") -> Decimal:
    """Return `value` as a Decimal fit to be reckoned with.

    Raises
    ------
    BadAmount
        If it is a binary fraction, no number at all, infinite, 1,000,000,000 or more, or has more than 12 decimals.

    Examples
    --------
    >>> checked(Decimal("12.50"))
    Decimal('12.50')
    """
    if isinstance(value, bool) or not isinstance(value, Decimal | int):
        raise BadAmount(f"{name} is {value!r}; a decimal figure is wanted", hint="Write it like 12.50.")
    number = Decimal(value)
    if not number.is_finite():
        raise BadAmount(f"{name} is {number}; a figure is wanted", hint="Write it like 12.50.")
    if number.adjusted() > LARGEST.adjusted() or abs(number) >= LARGEST:
        raise BadAmount(
            f"{name} is {number:.3e}; that is beyond {LARGEST:,}", hint="Check the decimal point."
        )
    if _places(number) > MOST_PLACES:
        raise BadAmount(
            f"{name} has more than {MOST_PLACES} decimals", hint="Round it as the paper shows it."
        )
    return number


def _places(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    return -exponent if isinstance(exponent, int) else 0


def half_up(d: Decimal | int, places: int = 2) -> Decimal:
    """Return `d` rounded half-up on its absolute value, sign restored; never a negative zero.

    Examples
    --------
    >>> half_up(Decimal("2.675")), half_up(Decimal("-2.675")), half_up(Decimal("0.125")), half_up(Decimal("-0.004"))
    (Decimal('2.68'), Decimal('-2.68'), Decimal('0.13'), Decimal('0.00'))
    """
    if not isinstance(places, int) or not 0 <= places <= MOST_PLACES:
        raise BadAmount(f"{places} decimals to round to; 0 to {MOST_PLACES} is wanted")
    return _round(checked(d), places)


def _round(number: Decimal, places: int = 2) -> Decimal:
    rounded = number.quantize(Decimal(1).scaleb(-places), context=_EXACT)
    return rounded if rounded else abs(rounded)


def in_cents(value: Decimal | int, name: str) -> Decimal:
    """Return an amount that already is whole minor units, with two decimals.

    Raises
    ------
    BadAmount
        If there is more behind the point than two decimals can hold; it is not for us to round it.
    """
    number = checked(value, name)
    cents = _round(number)
    if cents != number:
        raise BadAmount(f"{name} is {number}; whole cents are wanted", hint="Round it where it arises.")
    return cents


def to_minor(d: Decimal | int) -> int:
    """Return an amount in whole minor units; refuses one that is not whole.

    Examples
    --------
    >>> to_minor(Decimal("12.5"))
    1250
    """
    return int(in_cents(d, "amount").scaleb(2, context=_EXACT))


def from_minor(minor: int) -> Decimal:
    """Return minor units as an amount with two decimals.

    Examples
    --------
    >>> from_minor(-5)
    Decimal('-0.05')
    """
    if isinstance(minor, bool) or not isinstance(minor, int):
        raise BadAmount(f"{minor!r} minor units; a whole number is wanted")
    return checked(Decimal(minor).scaleb(-2, context=_EXACT)) + Decimal("0.00")


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
        checked(self.net, f"line {self.id}: net")

    @property
    def base_qty(self) -> int:
        """The quantity the price is for, BT-149."""
        return 60 if self.unit == "min" else 1

    @property
    def net(self) -> Decimal:
        """Line net amount, rounded, BT-131.

        Examples
        --------
        >>> rate = Decimal(20)
        >>> Line("1", "labour", "Set the points", Decimal("0.7"), "h", Decimal("62.35"), "standard", rate, "S").net
        Decimal('43.65')
        >>> Line("2", "labour", "Set the points", Decimal(10), "min", Decimal("60.03"), "standard", rate, "S").net
        Decimal('10.01')
        """
        gross = _EXACT.divide(_EXACT.multiply(self.qty, self.price), Decimal(self.base_qty))
        return _round(_EXACT.add(_EXACT.subtract(gross, self.allowance), self.charge))


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
    line_net = _sum(in_cents(line.net, "line net") for line in taxed)
    minus, plus = _sum(a.net for a in off), _sum(c.net for c in on)
    groups = _groups([*((x, 1) for x in taxed), *((x, -1) for x in off), *((x, 1) for x in on)])
    without_vat = line_net - minus + plus
    vat = _sum(g.tax for g in groups)
    paid, rounding = in_cents(paid, "paid"), in_cents(rounding, "rounding")
    with_vat = checked(without_vat + vat, "total")
    return Totals(
        line_net=line_net,
        allowances=minus,
        charges=plus,
        without_vat=without_vat,
        vat=vat,
        with_vat=with_vat,
        paid=paid,
        rounding=rounding,
        due=with_vat - paid + rounding,
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
    return _round(_EXACT.multiply(_EXACT.multiply(basis, percent), _CENT))


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
    return to_minor(_round(_EXACT.multiply(cost, _EXACT.add(1, _EXACT.multiply(percent, _CENT)))))
