"""Feed a task's workshop sum from the task's own numbers and from the readings taken on it.

The sum knows bare numbers in its own units; the task knows stored values. Here the two meet, once, so that
bench, command line and papers ask for the same few inputs that are really missing.
"""

from collections.abc import Mapping, Sequence

from shopcli.units.kinds import UNITS, from_canonical
from shopcli.workings import catalogue
from shopcli.workings.frame import Input, Value
from shopcli.worklists.model import Spec, Task


def feed(task: Task, readings: Mapping[str, Sequence[float]]) -> dict[str, Value]:
    """Return the inputs of the task's sum that are known, by name; the rest has to be asked for.

    Parameters
    ----------
    task : Task
        With a working; without one nothing is known.
    readings : mapping of str to sequence of float
        Values read on this task by the reading's name, in the order of its slots, [canonical unit].

    Returns
    -------
    dict
        Ready for ``catalogue.run``. A number of a sheet stands for its nominal, else for the middle of its
        limits, else for the one limit it has.

    Raises
    ------
    NotFound
        If the sum does not exist (any more).
    """
    if task.working is None:
        return {}
    inputs = {i.name: i for i in catalogue.get(task.working.name).inputs}
    known: dict[str, Value] = {}
    for name, source in task.working.given:
        asked = inputs.get(name)
        value = None if asked is None else _value(asked, source, task, readings)
        if value is not None:
            known[name] = value
    return known


def _value(asked: Input, source: str, task: Task, readings: Mapping[str, Sequence[float]]) -> Value:
    kind, dot, name = source.partition(".")
    if dot and kind == "spec":
        spec = task.spec(name)
        return None if spec is None else _in_unit(asked, aim(spec))
    if dot and kind == "reading":
        values = tuple(_in_unit(asked, v) for v in readings.get(name, ()))
        if asked.kind == "numbers":
            return values or None
        return values[-1] if values else None
    return _literal(asked, source)


def aim(spec: Spec) -> float:
    """Return the value a number aims at, [canonical unit]."""
    low, nominal, high = spec.limits.values
    if nominal is not None:
        return nominal
    if low is not None and high is not None:
        return (low + high) / 2
    return next(v for v in (low, high) if v is not None)


def _in_unit(asked: Input, value: float) -> float:
    return from_canonical(value, asked.unit) if asked.unit in UNITS else value


def _literal(asked: Input, text: str) -> Value:
    """Return a fact or a written value as the input wants it; what it cannot be is asked for."""
    try:
        if asked.kind == "whole":
            return int(text)
        if asked.kind == "number":
            return float(text)
    except ValueError:
        return None
    return text
