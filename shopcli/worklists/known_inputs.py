"""What is known already when a working is opened: nobody types the firing order of a car that has one.

The task's own sum says best what it is fed with; beyond that the facts of the vehicle, the numbers of the task
and the readings taken on it are offered where there is only one that can be meant. Each says where it is from.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopcli.units.display import figure_in, plain, with_label
from shopcli.units.kinds import UNITS, from_canonical, to_canonical
from shopcli.units.preferences import AS_PRINTED, Preferences
from shopcli.workings.frame import Input, Value, Working
from shopcli.worklists.asked_inputs import said_with_unit, unit_chooser
from shopcli.worklists.model import Spec, Task, VehicleFacts
from shopcli.worklists.sums import aim, feed

_FACTS = {
    "firing_order": "firing_order",
    "rotor": "rotor",
    "cylinders": "cylinders",
    "lobes": "cylinders",
    "system_v": "volts",
}
_TOP = {"low": 0, "high": 2}
_AIMS = {"wanted", "torque", "gap"}
_FINE = ".6g"


@dataclass(frozen=True, slots=True)
class Known:
    """An input that is known: as it would be typed, and where it is from."""

    text: str
    whence: str


def known_inputs(
    working: Working,
    *,
    facts: VehicleFacts | None = None,
    task: Task | None = None,
    readings: Mapping[str, Sequence[float]] | None = None,
    prefs: Preferences = AS_PRINTED,
) -> dict[str, Known]:
    """Gather what a form for a working can be filled in with.

    Parameters
    ----------
    working : Working
        The description.
    facts : VehicleFacts, optional
        Of the vehicle in hand.
    task : Task, optional
        The task in hand; its own sum is fed as the job template says.
    readings : mapping of str to sequence of float, optional
        Values read on the task by the reading's name, [canonical unit].
    prefs : Preferences, optional
        Whose units the texts are written in.

    Returns
    -------
    dict
        By the name of the input, in the order of the description.
    """
    taken = readings or {}
    found: dict[str, Known] = {}
    if task is not None and task.working is not None and task.working.name == working.name:
        for name, value in feed(task, taken).items():
            asked = next(i for i in working.inputs if i.name == name)
            found[name] = Known(write_input(asked, value, prefs), _whence(task, name))
    for asked in working.inputs:
        known = _of_task(asked, task, taken, prefs) or _of_vehicle(asked, facts)
        if known is not None:
            found.setdefault(asked.name, known)
    return {asked.name: found[asked.name] for asked in working.inputs if asked.name in found}


def write_input(asked: Input, value: Value, prefs: Preferences = AS_PRINTED, *, unit: str = "") -> str:
    """Write a value as a person would type it for this input.

    Parameters
    ----------
    asked : Input
        The input.
    value : Value
        Bare, in the unit of the input.
    prefs : Preferences, optional
        Whose units a measured value is written in.
    unit : str, optional
        Unit of a figure that has none of its own, see `unit_chooser`.

    Examples
    --------
    >>> gap = Input("gap_mm", "Gap", quantity="length", unit="mm")
    >>> write_input(gap, 0.4), write_input(Input("r", "R", "yesno"), True), write_input(gap, None)
    ('0.4 mm', 'yes', '')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return "; ".join(write_input(asked, one, prefs, unit=unit) for one in value)
    symbol = asked.unit or unit
    if not symbol or asked.kind == "whole":
        return format(value, ".10g")
    canonical = to_canonical(value, symbol)
    liked = prefs.unit_for(asked.quantity, symbol, canonical) if asked.quantity else symbol
    figure = value if liked == symbol else float(figure_in(canonical, liked))
    return with_label(plain(Decimal(format(figure, _FINE))), UNITS[liked])


def default_text(working: Working, asked: Input) -> str:
    """Write what an empty field stands for, or nothing."""
    if asked.default is None or asked.default == ():
        return ""
    chooser = unit_chooser(working) if said_with_unit(asked) else None
    return write_input(asked, asked.default, unit=str(chooser.default or "") if chooser else "")


def _whence(task: Task, name: str) -> str:
    source = dict(task.working.given).get(name, "") if task.working else ""
    kind, dot, rest = source.partition(".")
    if dot and kind == "reading":
        return f"read here: {rest}"
    if dot and kind == "spec":
        spec = task.spec(rest)
        return _of_spec(spec) if spec else ""
    return "from the job"


def _of_spec(spec: Spec) -> str:
    return f"number: {spec.label} ({spec.provenance.kind})"


def _of_vehicle(asked: Input, facts: VehicleFacts | None) -> Known | None:
    name = _FACTS.get(asked.name, "")
    value = facts.fact(name) if facts is not None and name else None
    if not value or value == "0" or (asked.choices and value not in asked.choices):
        return None
    return Known(value, "from the vehicle")


def _of_task(
    asked: Input, task: Task | None, taken: Mapping[str, Sequence[float]], prefs: Preferences
) -> Known | None:
    """Offer a reading that shares a word with the input, else a limit or the aim of the one number there is."""
    if task is None or not asked.quantity:
        return None
    word = set(asked.name.split("_")[:-1])
    named = {s.name: s for s in task.readings if s.quantity == asked.quantity}
    read = [n for n in named if word & set(n.split()) and taken.get(n)]
    if len(read) == 1 and asked.kind in {"number", "numbers"}:
        values = tuple(from_canonical(v, asked.unit) for v in taken[read[0]])
        value: Value = values if asked.kind == "numbers" else values[-1]
        return Known(write_input(asked, value, prefs), f"read here: {read[0]}")
    specs = [s for s in task.specs if s.limits.quantity == asked.quantity]
    if len(specs) != 1 or asked.kind != "number":
        return None
    first = asked.name.split("_")[0]
    side = specs[0].limits.values[_TOP[first]] if first in _TOP else None
    value_of = side if first in _TOP else aim(specs[0]) if first in _AIMS else None
    if value_of is None:
        return None
    return Known(write_input(asked, from_canonical(value_of, asked.unit), prefs), _of_spec(specs[0]))
