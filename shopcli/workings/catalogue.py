"""Every working by its name, and one door through which all of them are run.

The bench panel, the command line, a task's ``working`` hook and the docs all come here, so inputs are
checked once, with the words of the description, before a sum sees them. Subjects are imported on first use.
"""

import math
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from importlib import import_module
from types import MappingProxyType
from typing import Any

from shopcli.errors import BadInput, NotFound, OutOfRange
from shopcli.workings.frame import Input, Value, Worked, Working

SUBJECTS = (
    "conversions",
    "fuel",
    "feelers",
    "ignition",
    "gap_dwell",
    "coil",
    "cap",
    "timing",
    "advance",
    "valves",
    "valve_stops",
    "sum_rule",
    "bucket_shims",
    "shim_reuse",
    "compression",
    "altitude",
    "leakage",
    "engine",
    "fasteners",
    "threads",
    "spanners",
    "tightening",
    "wrenches",
    "belts",
    "end_float",
    "fluids",
    "battery",
    "wiring",
    "wheels",
    "brakes",
    "labour",
)
LONGEST_TEXT = 2000
MOST_FIGURES = 600

WORKINGS: Mapping[str, Working]  # made on first use, see __getattr__


def __getattr__(name: str) -> Any:
    if name == "WORKINGS":
        return all_workings()
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


@cache
def all_workings() -> Mapping[str, Working]:
    """Describe all workings.

    Returns
    -------
    Mapping
        Working by name, subject after subject.

    Raises
    ------
    ValueError
        If two workings share a name.

    Examples
    --------
    >>> "dwell-percent" in all_workings()
    True
    """
    found: dict[str, Working] = {}
    for subject in SUBJECTS:
        for working in import_module(f"shopcli.workings.{subject}").WORKINGS:
            if working.name in found:
                raise ValueError(f"two workings are called {working.name!r}")
            found[working.name] = working
    return MappingProxyType(found)


def get(name: str) -> Working:
    """Find a working.

    Parameters
    ----------
    name : str
        Its name.

    Returns
    -------
    Working
        The description.

    Raises
    ------
    NotFound
        If there is none; the hint tells the nearest names.

    Examples
    --------
    >>> get("spark-interval").title
    'Spark interval'
    """
    workings = all_workings()
    if name in workings:
        return workings[name]
    near = get_close_matches(name.strip().lower().replace("_", "-"), workings, n=3, cutoff=0.5)
    raise NotFound(f"no working called {name!r}", hint=_did_you_mean(near, "list the workings to see them"))


def run(name: str, /, **inputs: object) -> Worked:
    """Check the inputs of a working against its description and work it.

    Parameters
    ----------
    name : str
        Its name.
    **inputs
        Bare values by input name, numbers in the units of the description; None counts as not given.

    Returns
    -------
    Worked
        The answer.

    Raises
    ------
    NotFound
        If there is no such working.
    BadInput
        If an input is missing, unknown or of the wrong kind.
    OutOfRange
        If a number is outside the range of the description or of the sum.

    Examples
    --------
    >>> run("dwell-percent", dwell_deg=52, lobes=4)["dwell_pct"]
    57.77777777777778
    """
    working = get(name)
    known = {each.name: each for each in working.inputs}
    for given in inputs:
        if given not in known:
            near = get_close_matches(given, known, n=3, cutoff=0.5)
            hint = _did_you_mean(near, "inputs: " + ", ".join(known))
            raise BadInput(f"{name} has no input {given!r}", hint=hint)
    checked = {key: _checked(each, inputs.get(key)) for key, each in known.items()}
    return working.run(**{key: value for key, value in checked.items() if value is not None})


def _did_you_mean(near: list[str], otherwise: str) -> str:
    return "did you mean " + " or ".join(near) + "?" if near else otherwise


def _checked(each: Input, value: object) -> Value:
    if value is None:
        if each.default is None and each.required:
            raise BadInput(f"{each.label} ({each.name}) is missing", hint=each.help)
        return each.default
    if each.kind in ("number", "whole"):
        return _number(each, value)
    if each.kind == "numbers":
        return _numbers(each, value)
    if each.kind == "yesno":
        if not isinstance(value, bool):
            raise BadInput(f"{each.label} ({each.name}) is {value!r}", hint="yes or no")
        return value
    return _text(each, value)


def _number(each: Input, value: object) -> float | int:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadInput(f"{each.label} ({each.name}) is {value!r}", hint=f"a number {each.unit}".rstrip())
    if not math.isfinite(value):
        raise OutOfRange(each.name, value, _range_text(each), hint=each.help)
    if each.kind == "whole" and value != int(value):
        raise BadInput(f"{each.label} ({each.name}) is {value!r}", hint="a whole number")
    if (each.low is not None and value < each.low) or (each.high is not None and value > each.high):
        raise OutOfRange(each.name, value, _range_text(each), hint=each.help)
    return int(value) if each.kind == "whole" else float(value)


def _numbers(each: Input, value: object) -> tuple[float, ...]:
    if not isinstance(value, list | tuple):
        raise BadInput(
            f"{each.label} ({each.name}) is {value!r}", hint=f"a list of numbers {each.unit}".rstrip()
        )
    if len(value) > MOST_FIGURES:
        raise BadInput(f"{each.label} ({each.name}): {len(value)} figures", hint=f"{MOST_FIGURES} at most")
    if not value and each.required:
        raise BadInput(f"{each.label} ({each.name}): no figures", hint=each.help)
    return tuple(float(_number(each, figure)) for figure in value)


def _text(each: Input, value: object) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > LONGEST_TEXT:
        short = f"{value!r}"[:60]
        raise BadInput(f"{each.label} ({each.name}) is {short}", hint=each.help or ", ".join(each.choices))
    if each.kind == "choice" and value not in each.choices:
        near = get_close_matches(value, each.choices, n=1, cutoff=0.5)
        hint = _did_you_mean(near, "one of " + ", ".join(each.choices))
        raise BadInput(f"{each.label} ({each.name}) is {value!r}", hint=hint)
    return value


def _range_text(each: Input) -> str:
    low = "" if each.low is None else f"from {each.low:g} "
    high = "" if each.high is None else f"up to {each.high:g} "
    return f"{low}{high}{each.unit}".strip() or "a finite number"
