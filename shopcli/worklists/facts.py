"""The facts of a vehicle: reading them from sheets and forms, naming valves, keeping them with the vehicle.

A family sheet fills most of them in; a person corrects the rest. Nothing here knows the owner.
"""

import json
from collections.abc import Mapping
from dataclasses import MISSING, fields
from typing import Any

from shopcli.errors import BadInput, NotFound
from shopcli.worklists.model import VehicleFacts
from shopcli.worklists.words import did_you_mean

_FIELDS = {f.name: f for f in fields(VehicleFacts) if f.name != "other"}
FACT_NAMES = tuple(_FIELDS)
_LISTS = ("cylinders", "firing_order", "valves", "wheels")
_WHOLE = ("carburettors", "volts")
ROTOR = {"cw": "clockwise", "ccw": "anticlockwise"}  # seen from above the cap; the sums know the short forms
_ROTOR_SAID = {"clockwise": "cw", "anticlockwise": "ccw", "counterclockwise": "ccw", "anti-clockwise": "ccw"}
_MOST = 64


def fact_value(name: str, value: object) -> object:
    """Return a fact in the type the vehicle keeps it in.

    Parameters
    ----------
    name : str
        ``cylinders``, ``firing_order``, ``ignition`` ... or a name of the shop's own
    value : object
        A text, a whole number or a list of texts; ``cylinders = 4`` names them 1 to 4 and
        ``firing_order = "1-3-4-2"`` is split.

    Raises
    ------
    BadInput
        If the value is of the wrong sort.

    Examples
    --------
    >>> fact_value("cylinders", 2), fact_value("volts", "6")
    (('1', '2'), 6)
    >>> fact_value("firing_order", "1-3-4-2")
    ('1', '3', '4', '2')
    """
    if isinstance(value, str) and value.strip().isdecimal() and len(value.strip()) <= len(str(_MOST)):
        value = int(value) if name in {*_LISTS, *_WHOLE} else value  # a form gives figures as text
    if name in _LISTS:
        return _names(name, value)
    if name in _WHOLE:
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= _MOST:
            raise BadInput(f'"{name}" must be a whole number up to {_MOST}', hint=f"Write: {name} = 2")
        return value
    if isinstance(value, bool) or not isinstance(value, str | int):
        raise BadInput(f'"{name}" must be a text', hint=f'Write: {name} = "..."')
    return _rotor(str(value).strip()) if name == "rotor" else str(value).strip()


def _rotor(text: str) -> str:
    said = _ROTOR_SAID.get(text.lower(), text.lower())
    if said and said not in ROTOR:
        raise BadInput(
            f'the rotor cannot turn "{text}"', hint='Write: rotor = "clockwise" or "anticlockwise"'
        )
    return said


def _names(name: str, value: object) -> tuple[str, ...]:
    if isinstance(value, int) and not isinstance(value, bool) and name != "firing_order":
        items = [str(i + 1) for i in range(min(max(value, 0), _MOST + 1))]
    elif isinstance(value, str):
        items = [i.strip() for i in value.replace(",", "-").split("-") if i.strip()]
    elif isinstance(value, list | tuple):
        items = [str(i).strip() for i in value if isinstance(i, str | int) and not isinstance(i, bool)]
        if len(items) != len(value):
            items = [""]
    else:
        items = [""]
    example = '"1-3-4-2"' if name == "firing_order" else '["1", "2"]'
    if "" in items or len(items) > _MOST:
        raise BadInput(
            f'"{name}" must be a list of names, at most {_MOST}', hint=f"Write: {name} = {example}"
        )
    if len(set(items)) != len(items):
        raise BadInput(f'"{name}" has a name twice', hint="Each is named once.")
    return tuple(items)


def valve_names(cylinders: tuple[str, ...]) -> tuple[str, ...]:
    """Return the names of the valves of an engine with one inlet and one exhaust valve to a cylinder.

    Examples
    --------
    >>> valve_names(("1", "2"))
    ('1 inlet', '1 exhaust', '2 inlet', '2 exhaust')
    """
    return tuple(f"{c} {kind}" for c in cylinders for kind in ("inlet", "exhaust"))


def facts_from(*levels: Mapping[str, object]) -> VehicleFacts:
    """Return the facts of a vehicle from several levels, the nearest last.

    A level that changes the cylinders sets aside the valves and the firing order of the wider ones.

    Raises
    ------
    BadInput
        If a value is of the wrong sort, or the firing order does not name each cylinder once.
    """
    known: dict[str, Any] = {}
    other: dict[str, str] = {}
    for level in levels:
        values = {k.replace(" ", "_"): v for k, v in level.items()}
        if "cylinders" in values and fact_value("cylinders", values["cylinders"]) != known.get("cylinders"):
            known.pop("valves", None)
            known.pop("firing_order", None)
        for name, value in values.items():
            if name == "other" and isinstance(value, Mapping):
                other.update({str(k): str(v) for k, v in value.items()})
            elif name in _FIELDS:
                known[name] = fact_value(name, value)
            else:
                other[name] = str(fact_value(name, value))
    cylinders = known.get("cylinders", ())
    if isinstance(cylinders, tuple):
        known.setdefault("valves", valve_names(cylinders))
    facts = VehicleFacts(**known, other=tuple(sorted(other.items())))
    _check_order(facts)
    return facts


def _check_order(facts: VehicleFacts) -> None:
    if facts.firing_order and facts.cylinders and set(facts.firing_order) != set(facts.cylinders):
        raise BadInput(
            f"the firing order {'-'.join(facts.firing_order)} does not name each of the cylinders "
            f"{', '.join(facts.cylinders)} once",
            hint="Correct the firing order or the cylinders.",
        )


def facts_as_text(values: Mapping[str, object]) -> dict[str, str]:
    """Return facts as a form shows and takes them.

    Examples
    --------
    >>> facts_as_text({"firing_order": ("1", "3", "4", "2"), "volts": 6, "wheels": ("front", "rear")})
    {'firing_order': '1-3-4-2', 'volts': '6', 'wheels': 'front, rear'}
    """
    said: dict[str, str] = {}
    for name, value in values.items():
        if isinstance(value, list | tuple):
            said[name] = ("-" if name == "firing_order" else ", ").join(str(v) for v in value)
        else:
            said[name] = ROTOR.get(str(value), str(value)) if name == "rotor" else str(value)
    return said


def facts_to_json(facts: VehicleFacts) -> str:
    """Return the facts as text to keep; only what differs from an empty vehicle is written."""
    kept: dict[str, object] = {}
    for name, field in _FIELDS.items():
        value = getattr(facts, name)
        default = field.default if field.default is not MISSING else ()
        if value != default:
            kept[name] = list(value) if isinstance(value, tuple) else value
    if facts.other:
        kept["other"] = dict(facts.other)
    return json.dumps(kept, ensure_ascii=False)


def facts_from_json(text: str) -> VehicleFacts:
    """Return the facts kept by `facts_to_json`, exactly.

    Raises
    ------
    BadInput
        If the text is not such a record.
    """
    try:
        data = json.loads(text)
    except ValueError:
        data = None
    if not isinstance(data, dict):
        raise BadInput("the vehicle's facts cannot be read", hint="Enter them again on the vehicle's page.")
    other = data.pop("other", {})
    unknown = next((k for k in data if k not in _FIELDS), "")
    if unknown or not isinstance(other, dict):
        raise NotFound(f'no fact is called "{unknown or other}"', hint=did_you_mean(unknown, FACT_NAMES))
    values: dict[str, Any] = {
        name: tuple(str(i) for i in v) if isinstance(v, list) else v for name, v in data.items()
    }
    pairs = tuple((str(k), str(v)) for k, v in other.items())
    return VehicleFacts(**values, other=pairs)
