"""The edge between what people type or read and the values that are stored.

Inside, a quantity is a bare float in its canonical unit; outside, it is what the tool in hand is marked in.
Import from here; nothing heavy is loaded by doing so.
"""

from shopcli.units.display import both, fraction_inch, number_text, on_tool, spoken
from shopcli.units.judging import Standing, Verdict
from shopcli.units.kinds import (
    QUANTITIES,
    UNITS,
    Quantity,
    System,
    Unit,
    from_canonical,
    measures,
    quantity_named,
    require_unit,
    to_canonical,
    unit_named,
    units_of,
)
from shopcli.units.limits import Limits
from shopcli.units.meant import see_what_is_meant, slip
from shopcli.units.parse import Typed, parse
from shopcli.units.preferences import AS_PRINTED, IMPERIAL, METRIC, US, Preferences, other_system

__all__ = [
    "AS_PRINTED",
    "IMPERIAL",
    "METRIC",
    "QUANTITIES",
    "UNITS",
    "US",
    "Limits",
    "Preferences",
    "Quantity",
    "Standing",
    "System",
    "Typed",
    "Unit",
    "Verdict",
    "both",
    "fraction_inch",
    "from_canonical",
    "measures",
    "number_text",
    "on_tool",
    "other_system",
    "parse",
    "quantity_named",
    "require_unit",
    "see_what_is_meant",
    "slip",
    "spoken",
    "to_canonical",
    "unit_named",
    "units_of",
]
