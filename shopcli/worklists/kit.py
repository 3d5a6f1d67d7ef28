"""The parts a work list reckons with: counted for this vehicle, and put together over all its jobs."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal, InvalidOperation

from shopcli.units.kinds import UNITS, from_canonical
from shopcli.worklists.model import KitLine, VehicleFacts
from shopcli.worklists.sheets import SpecBook


def count_line(line: KitLine, facts: VehicleFacts, book: SpecBook) -> tuple[KitLine, str]:
    """Return a kit line with its quantity worked out, and a note when it could not be.

    ``vehicle.cylinders`` counts; ``spec.oil_fill`` takes the number of the sheet with its unit. What is not
    known becomes one lot, without a unit, and the note says so: a part must not drop off the list.
    """
    kind, _, name = line.qty.partition(".")
    if kind == "vehicle":
        count = facts.fact(name) or "0"
        if count.isdecimal() and int(count) > 0:
            return replace(line, qty=count), ""
    elif kind == "spec":
        spec = book.get(name)
        limits = spec.limits if spec else None
        value = (
            next((v for v in (limits.nominal, limits.high, limits.low) if v is not None), None)
            if limits
            else None
        )
        if limits is not None and value is not None:
            figure = round(from_canonical(value, limits.unit), UNITS[limits.unit].decimals)
            return replace(line, qty=f"{figure:g}", unit=UNITS[limits.unit].label), ""
    else:
        return line, ""
    shown = name.replace("_", " ")
    return replace(line, qty="1", unit=""), f"{line.part}: how much is not known ({shown} is missing)"


def merge_kit(lines: Iterable[KitLine]) -> tuple[KitLine, ...]:
    """Return the lines with those of the same part added up; a part wanted at all is not optional.

    Examples
    --------
    >>> lines = [KitLine("washer"), KitLine("grease"), KitLine("washer", "2", optional=True)]
    >>> [(line.part, line.qty, line.optional) for line in merge_kit(lines)]
    [('washer', '3', False), ('grease', '1', False)]
    """
    merged: dict[tuple[str, str, bool, str], KitLine] = {}
    for line in lines:
        key = (line.part.casefold(), line.number, line.exchange, line.unit)
        first = merged.get(key)
        merged[key] = line if first is None else _added(first, line)
    return tuple(merged.values())


def _added(first: KitLine, line: KitLine) -> KitLine:
    try:
        qty = str(Decimal(first.qty) + Decimal(line.qty))
    except InvalidOperation:
        qty = first.qty
    return replace(first, qty=qty, optional=first.optional and line.optional)
