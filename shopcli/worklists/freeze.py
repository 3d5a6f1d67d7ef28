"""A task as the card keeps it: text that gives the very same task back years later.

Only what differs from an empty task is written, so a card of sixty tasks stays small and quick to read.
Nothing here depends on the library: an edited sheet or template changes no card.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import Any, TypeVar

from shopcli.errors import BadInput
from shopcli.units import Limits
from shopcli.worklists.model import (
    Caution,
    KitLine,
    OwedSlot,
    Provenance,
    ReadingSlot,
    Spec,
    Task,
    WorkingCall,
)

FORM = 1
T = TypeVar("T")

_TEXTS = ("missing", "after", "needs", "makes", "acts", "hangs", "lifts", "barred", "fits")
_PLAIN = ("say", "place", "minutes", "waits", "second")
_HEAD = ("key", "template", "version", "title", "system")
_SLOT = ("key", "name", "label", "phase", "spec", "quantity", "unit")
_OWED = ("check", "title", "key", "before", "miles", "days")
_KIT = ("part", "qty", "optional", "number", "exchange", "unit")
_FROM = ("kind", "document", "page", "who", "on")


def task_to_json(task: Task) -> str:
    """Return a task as text, exactly."""
    data: dict[str, object] = {"form": FORM}
    for name in _HEAD:
        data[name] = getattr(task, name)
    for name in (*_PLAIN, *_TEXTS):
        value = getattr(task, name)
        if value:
            data[name] = value
    if task.specs:
        data["specs"] = [_spec_row(s) for s in task.specs]
    if task.readings:
        data["readings"] = [_row(r, _SLOT) for r in task.readings]
    if task.owes:
        data["owes"] = [_row(o, _OWED) for o in task.owes]
    if task.cautions:
        data["cautions"] = [(c.name, c.text) for c in task.cautions]
    if task.kit:
        data["kit"] = [_row(k, _KIT) for k in task.kit]
    if task.working is not None:
        data["working"] = (task.working.name, task.working.given)
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def task_from_json(text: str) -> Task:
    """Return the task that `task_to_json` wrote.

    Raises
    ------
    BadInput
        If the text is not a task, or was written by a newer version of the program.
    """
    try:
        data = json.loads(text)
        form = data["form"]
        if form == FORM:
            return _task(data)
    except (ValueError, KeyError, TypeError, AttributeError, IndexError) as error:
        raise BadInput(
            f"a task kept on a card cannot be read: {error}", hint="Restore the card from a backup."
        ) from error
    raise BadInput(f"a task is kept in form {form}, which is newer", hint="Update the program.")


# What a task was frozen as never changes; a card is read again after every act on it.
thawed = lru_cache(512)(task_from_json)


def _task(data: Mapping[str, Any]) -> Task:
    working = data.get("working")
    plain: dict[str, Any] = {name: data[name] for name in (*_HEAD, *_PLAIN) if name in data}
    plain.update((name, tuple(data[name])) for name in _TEXTS if name in data)
    return Task(
        **plain,
        specs=_all(data, "specs", _spec_in),
        readings=_all(data, "readings", lambda r: ReadingSlot(*r)),
        owes=_all(data, "owes", lambda r: OwedSlot(*r)),
        cautions=_all(data, "cautions", lambda r: Caution(*r)),
        kit=_all(data, "kit", lambda r: KitLine(*r)),
        working=WorkingCall(working[0], tuple((n, v) for n, v in working[1])) if working else None,
    )


def _all(data: Mapping[str, Any], key: str, make: Callable[[Any], T]) -> tuple[T, ...]:
    return tuple(make(item) for item in data.get(key, ()))


def _row(thing: object, names: Sequence[str]) -> list[object]:
    return [getattr(thing, name) for name in names]


def _spec_row(spec: Spec) -> list[object]:
    origin = _row(spec.provenance, _FROM)
    return [spec.name, spec.label, spec.limits.to_json(), spec.state, origin, spec.sheet, spec.note]


def spec_to_json(spec: Spec) -> str:
    """Return a number as text, exactly; a vehicle's own numbers are kept so."""
    return json.dumps(_spec_row(spec), ensure_ascii=False, separators=(",", ":"))


def spec_from_json(text: str) -> Spec:
    """Return the number that `spec_to_json` wrote.

    Raises
    ------
    BadInput
        If the text is not a number of a sheet.
    """
    try:
        return _spec_in(json.loads(text))
    except (ValueError, TypeError) as error:
        raise BadInput(
            f"a number kept with the vehicle cannot be read: {error}", hint="Enter it again."
        ) from error


def _spec_in(row: Sequence[Any]) -> Spec:
    name, label, limits, state, origin, sheet, note = row
    return Spec(name, label, Limits.from_json(limits), state, Provenance(*origin), sheet, note)
