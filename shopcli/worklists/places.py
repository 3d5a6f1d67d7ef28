"""The places a step or reading repeats over, named the way this engine names them."""

from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.worklists.model import VehicleFacts

_VOLTS_A_CELL = 2
_MOST = 200


@dataclass(frozen=True, slots=True)
class Place:
    """One place: `name` as in a key ("3 exhaust"), `label` as people say it ("valve 3 exhaust")."""

    name: str
    label: str


def places(each: str, facts: VehicleFacts) -> tuple[Place, ...]:
    """Return the places on this vehicle that `each` means.

    Raises
    ------
    BadInput
        If the vehicle does not say how many there are.

    Examples
    --------
    >>> facts = VehicleFacts(cylinders=("1", "2"), valves=("1 inlet", "1 exhaust"), volts=6)
    >>> [p.label for p in places("cylinder", facts)]
    ['cylinder 1', 'cylinder 2']
    >>> [p.label for p in places("exhaust valve", facts)]
    ['valve 1 exhaust']
    >>> [p.label for p in places("front wheel", facts)]
    ['front left wheel', 'front right wheel']
    >>> len(places("cell", facts))
    3
    """
    narrow, _, noun = each.rpartition(" ")
    if noun == "wheel":
        return tuple(Place(w, f"{w} wheel") for w in _some(facts.wheels, narrow, "wheels"))
    if noun == "valve":
        return tuple(Place(v, f"valve {v}") for v in _some(facts.valves, narrow, "valves"))
    return tuple(Place(n, f"{each} {n}") for n in _names(each, facts))


def _names(each: str, facts: VehicleFacts) -> tuple[str, ...]:
    own = dict(facts.other).get(f"{each.replace(' ', '_')}s", "")
    if own:
        return _own(each, own)
    if each in {"cylinder", "plug", "lead"}:
        return _some(facts.cylinders, "", "cylinders")
    counts = {"cell": facts.volts // _VOLTS_A_CELL, "carburettor": facts.carburettors, "belt": 1}
    if each not in counts:
        raise _unknown(f"{each}s")
    return tuple(str(i + 1) for i in range(counts[each]))


def _own(each: str, text: str) -> tuple[str, ...]:
    """Read a fact of the shop's own: a number, or the names with commas between."""
    if text.isdecimal() and int(text) <= _MOST:
        return tuple(str(i + 1) for i in range(int(text)))
    names = tuple(dict.fromkeys(n.strip() for n in text.split(",") if n.strip()))
    if text.isdecimal() or len(names) > _MOST:
        raise BadInput(
            f"{text} {each}s are more than {_MOST}", hint=f"Correct the {each}s in the vehicle's facts."
        )
    return names


def _some(names: tuple[str, ...], narrow: str, what: str) -> tuple[str, ...]:
    kept = tuple(n for n in names if not narrow or narrow in n.split())
    if not kept:
        raise _unknown(f"{narrow} {what}".strip())
    return kept


def _unknown(what: str) -> BadInput:
    return BadInput(
        f"the vehicle does not say which {what} it has",
        hint=f"Enter the {what} in the vehicle's facts, or choose a family sheet.",
    )
