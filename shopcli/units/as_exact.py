"""A typed figure said in another unit, no more exact than it was typed."""

from math import ceil, log10

from shopcli.units.display import figure_in, plain, rounded, with_label
from shopcli.units.kinds import to_canonical, unit_named
from shopcli.units.parse import Typed


def as_exact(typed: Typed, unit: str) -> str:
    """Say a typed figure in another unit, to one digit more than its last decimal is worth there.

    The digit more keeps a figure on its side of a limit nearby; a fraction has no last decimal and keeps every digit of the unit.

    Parameters
    ----------
    typed : Typed
        As typed.
    unit : str
        Symbol of the unit to say it in.

    Examples
    --------
    >>> from shopcli.units.parse import parse
    >>> as_exact(parse('.11"', "length"), "mm"), as_exact(parse("0.1100 in", "length"), "mm")
    ('2.79 mm', '2.794 mm')
    >>> as_exact(parse("30 psi", "pressure"), "bar"), as_exact(parse("1/8 in", "length"), "mm")
    ('2.07 bar', '3.175 mm')
    """
    named = unit_named(unit)
    digits = named.decimals
    if typed.decimals is not None:
        next_one = to_canonical(typed.number + 10.0**-typed.decimals, typed.unit)
        worth = abs(figure_in(next_one, unit) - figure_in(to_canonical(typed.number, typed.unit), unit))
        digits = min(digits, max(0, ceil(-log10(worth))) + 1) if worth else digits
    return with_label(plain(rounded(figure_in(typed.value, unit), digits)), named)
