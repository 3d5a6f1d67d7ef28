"""What may count as an amount of money, and the one way it is rounded.

Everything is `Decimal`; a binary fraction is refused at the door, and so is what can only be a slip of the
hand. Rounding is half-up on the absolute value with the sign restored. Currencies have a hundred minor units.
"""

from decimal import ROUND_HALF_UP, Context, Decimal, DivisionByZero, InvalidOperation, Overflow

from shopcli.errors import BadInput

ZERO = Decimal(0)
_CENT = Decimal("0.01")
# A thousand million of any currency is a typing mistake in a small shop; so is a price with 13 decimals.
LARGEST = Decimal(1_000_000_000)
MOST_PLACES = 12
# Wide enough for quantity x price at those limits to be exact, whatever context the caller has set.
EXACT = Context(prec=60, rounding=ROUND_HALF_UP, traps=[InvalidOperation, DivisionByZero, Overflow])


class BadAmount(BadInput):
    """A figure that cannot be money, a quantity or a rate."""

    title = "Not an amount"


def checked(value: Decimal | int, name: str = "amount") -> Decimal:
    """Return `value` as a Decimal fit to be reckoned with.

    Raises
    ------
    BadAmount
        If it is a binary fraction or no number at all, 1,000,000,000 or more, or has over 12 decimals.

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
    if number.adjusted() > LARGEST.adjusted() or number.copy_abs() >= LARGEST:
        raise BadAmount(
            f"{name} is {number:.3e}; that is beyond {LARGEST:,}", hint="Check the decimal point."
        )
    if _places(number) > MOST_PLACES:
        raise BadAmount(f"{name} has more than {MOST_PLACES} decimals", hint="Round it first.")
    return number


def _places(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    return -exponent if isinstance(exponent, int) else 0


def half_up(d: Decimal | int, places: int = 2) -> Decimal:
    """Return `d` rounded half-up on its absolute value, sign restored; never a negative zero.

    Examples
    --------
    >>> [str(half_up(Decimal(d))) for d in ("2.675", "-2.675", "0.125", "-0.004")]
    ['2.68', '-2.68', '0.13', '0.00']
    """
    if not isinstance(places, int) or not 0 <= places <= MOST_PLACES:
        raise BadAmount(f"{places} decimals to round to; 0 to {MOST_PLACES} is wanted")
    return rounded(checked(d), places)


def rounded(number: Decimal, places: int = 2) -> Decimal:
    """Return `half_up` of a figure already known to be sound, however many decimals an exact sum gave it."""
    whole = number.quantize(Decimal(1).scaleb(-places), context=EXACT)
    return whole.copy_abs() if whole.is_zero() else whole


def in_cents(value: Decimal | int, name: str) -> Decimal:
    """Return an amount that already is whole minor units, with two decimals.

    Raises
    ------
    BadAmount
        If there is more behind the point than two decimals can hold; it is not for us to round it.
    """
    number = checked(value, name)
    cents = rounded(number)
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
    return int(in_cents(d, "amount").scaleb(2, context=EXACT))


def from_minor(minor: int) -> Decimal:
    """Return minor units as an amount with two decimals.

    Examples
    --------
    >>> from_minor(-5)
    Decimal('-0.05')
    """
    if isinstance(minor, bool) or not isinstance(minor, int):
        raise BadAmount(f"{minor!r} minor units; a whole number is wanted")
    if abs(minor) >= LARGEST * 100:
        raise BadAmount(f"an amount of {LARGEST:,} or more", hint="Mind the point.")
    return rounded(Decimal(minor).scaleb(-2, context=EXACT))
