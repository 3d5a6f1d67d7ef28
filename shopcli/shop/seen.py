"""Two people on one record: what each changed stands beside the other's, and what both changed is asked about.

An editing command brings along what stood in the fields it changes when they were shown (`seen`). What somebody else
changed since elsewhere in the record is left as they have it; the same field changed to another value is refused
with both values and who put the other one, so that nobody overwrites anybody unknowingly.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, date, datetime, tzinfo
from decimal import Decimal
from typing import Any, TypeVar

from shopcli.clash import Clash
from shopcli.present import day, moment, money
from shopcli.shop.amounts import from_minor
from shopcli.shop.command import Command

C = TypeVar("C", bound=Command)

MINOR, MILLI = "_minor", "_milli"
WORDS: Mapping[str, str] = {
    "words": "what the customer said",
    "odometer": "odometer",
    "left_with": "what was left in the car",
    "authority_minor": "authority",
    "authority_by": "who authorised",
    "authority_how": "how it was said",
    "promised": "promise date",
    "car_keys": "keys",
    "email": "e-mail",
    "city": "town",
    "post_code": "post code",
    "vat_number": "VAT number",
    "reverse_charge": "reverse charge",
    "cost_minor": "cost",
    "price_minor": "price",
    "surcharge_minor": "exchange surcharge",
    "qty_milli": "quantity",
    "stock_milli": "stock",
    "reorder_milli": "reorder point",
    "pack_milli": "pack",
    "wants_serial": "serial number wanted",
    "due": "due date",
    "ring": "whom to ring",
    "usual_days": "usual days",
    "under": "wider sheet",
    "about": "remark",
    "started_at": "start",
    "ended_at": "end",
    "per_mille": "expected time",
}


def stored(value: object, column: str = "") -> object:
    """Return a value of a view as its column has it.

    Examples
    --------
    >>> stored(Decimal("12.50"), "cost_minor"), stored(Decimal("2.5"), "qty_milli"), stored(date(2026, 12, 4)), stored(None)
    (1250, 2500, '2026-12-04', '')
    >>> stored({"b": "1", "a": "2"})
    '{"a": "2", "b": "1"}'
    """
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return int(value.scaleb(3 if column.endswith(MILLI) else 2))
    if isinstance(value, datetime):
        return int(value.timestamp())
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return json.dumps(dict(value), ensure_ascii=False, sort_keys=True)
    return value


def over(view: object, command: C, **called: str) -> C:
    """Return an editing command that says what was seen of the fields it changes.

    `view` shows them under the columns' names, sums without ``_minor`` and counts without ``_milli``; `called` names
    those that the view calls otherwise.
    """
    shown: list[tuple[str, object]] = []
    for one in fields(command) if is_dataclass(command) else ():
        attribute = called.get(one.name, one.name.removesuffix(MINOR).removesuffix(MILLI))
        if getattr(command, one.name) is not None and one.name not in NOT_FIELDS and hasattr(view, attribute):
            shown.append((one.name, stored(getattr(view, attribute), one.name)))
    return replace(command, seen=tuple(shown))  # type: ignore[call-arg]


# Fields that only mean something together: half of what one said and half of what another said was said by nobody.
TOGETHER = (frozenset({"authority_minor", "authority_by", "authority_how", "authority_at"}),)
NOT_FIELDS = frozenset({"version", "seen"})


def without(command: C, clashes: Sequence[Clash]) -> C | None:
    """Return the command with what clashed left as the other one put it; None where nothing else is changed by it."""
    there = {clash.field: clash.there for clash in clashes}
    gone = set(there)
    gone |= {name for names in TOGETHER if names & gone for name in names if hasattr(command, name)}
    seen = dict(getattr(command, "seen", ()))
    if not any(stored(getattr(command, n)) != value for n, value in seen.items() if n not in gone):
        return None
    values: dict[str, Any] = {
        name: there.get(name, seen.get(name)) if _must(command, name) else None for name in gone
    }
    values["seen"] = tuple({**seen, **there}.items())
    return replace(command, **values)


def all_the_same(command: C, clashes: Sequence[Clash]) -> C:
    """Return the command as asked by somebody who has seen what the other one put, and wants their own."""
    known = {**dict(getattr(command, "seen", ())), **{clash.field: stored(clash.there) for clash in clashes}}
    values: dict[str, Any] = {"seen": tuple(known.items())}
    return replace(command, **values)


def _must(command: Command, name: str) -> bool:
    """Whether a command cannot leave a field alone."""
    kinds = {f.name: f.default for f in fields(command)} if is_dataclass(command) else {}
    return kinds.get(name) is not None


def in_words(column: str, value: object, currency: str, zone: tzinfo) -> str:
    """Return a stored value as somebody reads it.

    Examples
    --------
    >>> in_words("authority_minor", 50000, "GBP", UTC), in_words("promised", "2026-12-04", "GBP", UTC), in_words("fuel", "", "", UTC)
    ('£500.00', 'Fri 4 Dec', 'nothing')
    """
    if value is None or value == "":
        return "nothing"
    if column == "facts":
        return ", ".join(f"{name} {fact}" for name, fact in json.loads(str(value)).items()) or "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if column.endswith(MINOR) and isinstance(value, int):
        return money(from_minor(value), currency)
    if column.endswith(MILLI) and isinstance(value, int):
        return f"{value / 1000:g}"
    if column.endswith("_at") and isinstance(value, int):
        return moment(datetime.fromtimestamp(value, UTC), zone)
    if column in {"promised", "due"}:
        return day(date.fromisoformat(str(value)))
    return f"'{value}'" if isinstance(value, str) else str(value)
