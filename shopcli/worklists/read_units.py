"""Check the unit and quantity a file names, and say the symbol that was meant.

Files take symbols only ("Nm", "thou"), since a file is read by everybody; people write "inch" all the same.
"""

from shopcli.units.aliases import ALIASES, fold
from shopcli.units.kinds import QUANTITIES, UNITS, measures, units_of
from shopcli.worklists.toml_read import Table
from shopcli.worklists.words import did_you_mean, nearest

_SLIP = 0.75


def check_units(table: Table, unit: str, quantity: str) -> bool:
    """Complain about an unknown unit or quantity, or a unit of another kind; either may be empty."""
    if quantity and quantity not in QUANTITIES:
        table.bad(f'no quantity is called "{quantity}"', did_you_mean(quantity, QUANTITIES), "quantity")
        return False
    if unit and unit not in UNITS:
        table.bad(f'no unit is written "{unit}"', unit_hint(unit, quantity), "unit")
        return False
    if unit and quantity and not measures(unit, quantity):
        known = ", ".join(units_of(quantity))
        table.bad(f'"{unit}" does not measure a {quantity}', f"Write one of: {known}.", "unit")
        return False
    return True


def unit_hint(word: str, quantity: str = "") -> str:
    """Return the symbol to write for a unit as people say it.

    Examples
    --------
    >>> unit_hint("inch"), unit_hint("milimetre")
    ('Write "in" instead.', 'Write "mm" instead.')
    >>> unit_hint("mil", "length")
    'Known are: cm, ft, in, m, mm, thou, um.'
    """
    said = fold(word)
    meant = ALIASES.get(said) or ALIASES.get(nearest(said, ALIASES, cutoff=_SLIP))
    known = units_of(quantity) if quantity else tuple(UNITS)
    if meant in known:
        return f'Write "{meant}" instead.'
    return "Known are: " + ", ".join(sorted(known)) + "."
