"""Figures as they are typed at the desk: sums of money and odometers, read without guessing.

What was understood is shown beside the field, so a comma taken for a point is seen at once.
"""

import re
from decimal import Decimal
from typing import TypeAlias

from shopcli.errors import BadInput
from shopcli.shop.amounts import to_minor

Figure: TypeAlias = Decimal  # a sum or a quantity, for whoever only hands it on
MOST = Decimal(1_000_000)
FARTHEST = 2_000_000
FIRST_YEAR, LAST_YEAR = 1880, 2100
_SIGNS = str.maketrans("", "", "£€$ \u00a0\u202f'")
_GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d{1,2})?")
_PLAIN = re.compile(r"\d+(?:[.,]\d{1,2})?")
_COUNT = re.compile(r"\d{1,9}(?:[.,]\d{1,3})?")


def read_sum(text: str, name: str = "sum") -> int | None:
    """Return a sum in minor units, or None when nothing is typed.

    Parameters
    ----------
    text : str
        Like ``400``, ``399.50``, ``399,50``, ``1,200`` or ``£1,200.00``; three figures behind a comma group
        thousands, one or two are the pence.
    name : str, optional
        What the sum is, for the message.

    Raises
    ------
    BadInput
        If it is no sum, or beyond a million.

    Examples
    --------
    >>> read_sum("399,50"), read_sum("1,200"), read_sum("£1,200.5"), read_sum(" ")
    (39950, 120000, 120050, None)
    """
    figure = text.translate(_SIGNS)
    if not figure:
        return None
    if _GROUPED.fullmatch(figure):
        amount = Decimal(figure.replace(",", ""))
    elif figure.isascii() and len(figure) <= len(str(MOST)) + 3 and _PLAIN.fullmatch(figure):
        amount = Decimal(figure.replace(",", "."))
    else:
        raise BadInput(f"the {name} '{_short(text)}' is not an amount", hint="Write it like 400 or 399.50.")
    if amount > MOST:
        raise BadInput(f"the {name} is beyond a million", hint="Look at the decimal point again.")
    return to_minor(amount)


def read_whole(text: str, name: str, low: int, high: int) -> int | None:
    """Return a whole number between `low` and `high`, or None when nothing is typed.

    Blanks, commas and points between groups of three are taken for what they are.

    Raises
    ------
    BadInput
        If it is no whole number or out of reach.

    Examples
    --------
    >>> read_whole("48 213", "odometer", 0, 2_000_000), read_whole("48.213", "odometer", 0, 2_000_000)
    (48213, 48213)
    """
    said = text.strip()
    if not said:
        return None
    figure = re.sub(r"(?<=\d)[ ,.'\u00a0\u202f](?=\d{3}(?!\d))", "", said)
    if not (figure.isascii() and figure.isdigit() and len(figure) <= 9):  # noqa: PLR2004
        raise BadInput(f"the {name} '{_short(text)}' is not a whole number", hint="Figures only, like 48213.")
    value = int(figure)
    if not low <= value <= high:
        raise BadInput(f"the {name} is {value}", hint=f"Between {low} and {high}.")
    return value


def read_odometer(text: str) -> int | None:
    """Return an odometer as typed, whatever it counts in."""
    return read_whole(text, "odometer", 0, FARTHEST)


def read_year(text: str) -> int | None:
    """Return a vehicle's year."""
    return read_whole(text, "year", FIRST_YEAR, LAST_YEAR)


def _short(text: str) -> str:
    return " ".join(text.split())[:24]


def read_quantity(text: str, name: str = "quantity") -> int | None:
    """Return how many in thousandths, or None when nothing is typed; a comma is a decimal point here.

    Raises
    ------
    BadInput
        If it is no number, has more than three decimals, or is beyond a million.

    Examples
    --------
    >>> read_quantity("4"), read_quantity("2,5"), read_quantity("0.125"), read_quantity(" ")
    (4000, 2500, 125, None)
    """
    figure = text.translate(_SIGNS)
    if not figure:
        return None
    if not (figure.isascii() and _COUNT.fullmatch(figure)):
        raise BadInput(f"the {name} '{_short(text)}' is not a number", hint="Write it like 4 or 2.5.")
    milli = Decimal(figure.replace(",", ".")) * 1000
    if milli > MOST * 1000:
        raise BadInput(f"the {name} is beyond a million", hint="Look at the decimal point again.")
    return int(milli)


def sum_to_type(value: Figure | None) -> str:
    """Return a sum as it would be typed, to stand in a field; nothing where none is known or nothing is due.

    Examples
    --------
    >>> sum_to_type(Decimal("1234.5")), sum_to_type(Decimal(-5))
    ('1234.50', '')
    """
    return f"{value:.2f}" if value is not None and value > 0 else ""


def in_thousandths(qty: Figure) -> int:
    """Return a quantity in thousandths."""
    return round(qty * 1000)


def same_sum(minor: int, value: Figure) -> bool:
    """Return whether a sum in minor units is that amount."""
    return minor == round(value * 100)
