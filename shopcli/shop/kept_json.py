"""A frozen view written down for good, and read back the same: exact decimals as text, dates in ISO form."""

import json
import types
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

T = TypeVar("T")


def to_json(view: object) -> str:
    """Write a frozen dataclass of plain values, decimals, dates, tuples and further such dataclasses.

    Raises
    ------
    TypeError
        When it holds something else.
    """
    return json.dumps(_plain(view), ensure_ascii=False, sort_keys=True)


def from_json(kind: type[T], text: str) -> T:
    """Read back what `to_json` wrote of that kind; a field added since has its default.

    Raises
    ------
    TypeError, ValueError
        When the text does not hold such a view.
    """
    found = _back(kind, json.loads(text))
    if not isinstance(found, kind):
        raise TypeError(f"this holds no {kind.__name__}")
    return found


def _plain(value: object) -> object:
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, tuple):
        return [_plain(v) for v in value]
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, date):
        return value.isoformat()
    if value is None or isinstance(value, str | int | float | bool):
        return value
    raise TypeError(f"a {type(value).__name__} cannot be kept")


def _back(kind: Any, value: Any) -> Any:
    if get_origin(kind) in {Union, types.UnionType}:
        if value is None:
            return None
        return _back(next(k for k in get_args(kind) if k is not type(None)), value)
    if get_origin(kind) is tuple:
        return tuple(_back(get_args(kind)[0], v) for v in value)
    if is_dataclass(kind):
        hints = get_type_hints(kind)
        known = {f.name for f in fields(kind)}
        make: Any = kind
        return make(**{name: _back(hints[name], v) for name, v in value.items() if name in known})
    if kind is Decimal:
        return Decimal(value)
    return date.fromisoformat(value) if kind is date else value
