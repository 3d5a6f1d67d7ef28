"""How cylinders stand beside each other: read from what the handbook says, and which of them are neighbours."""

import re
from itertools import pairwise

from shopcli.errors import BadInput


def parse_banks(text: str, cylinders: int) -> tuple[tuple[int, ...], ...]:
    """Read how cylinders stand beside each other: banks apart by "/", each from one end to the other.

    Parameters
    ----------
    text : str
        "1-2-3-4" for one row, "1-3-5-7/2-4-6-8" for two banks.
    cylinders : int
        How many there are, [-]

    Returns
    -------
    tuple of tuple of int
        One tuple for each bank.

    Raises
    ------
    BadInput
        If a cylinder is missing or doubled.

    Examples
    --------
    >>> parse_banks("1-2/3-4", 4)
    ((1, 2), (3, 4))
    """
    banks = tuple(tuple(int(word) for word in re.findall(r"[0-9]{1,2}", bank)) for bank in text.split("/"))
    if sorted(number for bank in banks for number in bank) != list(range(1, cylinders + 1)):
        raise BadInput(
            f"banks {text!r} do not hold each of the {cylinders} cylinders once",
            hint="write them like 1-2-3-4, or 1-3-5-7/2-4-6-8 for two banks",
        )
    return banks


def neighbours(banks: tuple[tuple[int, ...], ...]) -> frozenset[frozenset[int]]:
    """Pairs of cylinders that stand next to each other in one bank.

    Parameters
    ----------
    banks : tuple of tuple of int
        Cylinders of each bank from one end to the other.

    Returns
    -------
    frozenset of frozenset of int
        The pairs.

    Examples
    --------
    >>> sorted(sorted(pair) for pair in neighbours(((1, 2), (3, 4))))
    [[1, 2], [3, 4]]
    """
    return frozenset(frozenset(pair) for bank in banks for pair in pairwise(bank))
