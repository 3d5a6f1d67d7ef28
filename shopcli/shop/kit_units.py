"""A kit's quantities in the units the shelf keeps."""

from decimal import Decimal

from shopcli.errors import BadInput
from shopcli.units import parse


def in_stock_unit(qty: Decimal, unit: str, kept: str) -> Decimal:
    """Return a kit's quantity in the unit the part is kept in: a sheet says pints where the shelf has litres.

    Units that cannot be told from one another are left as the kit counts them.

    Examples
    --------
    >>> in_stock_unit(Decimal(7), "imp pt", "L")
    Decimal('3.978')
    >>> in_stock_unit(Decimal(4), "", "pc")
    Decimal('4')
    """
    if unit and unit != kept:
        for quantity in ("volume", "mass", "length"):
            try:
                value, one = parse(f"{qty} {unit}", quantity).value, parse(f"1 {kept}", quantity).value
            except BadInput:
                continue
            return round(Decimal(value / one), 3)
    return qty
