"""The placeholders in a step's words: ``{{ spec.x }}``, ``{{ vehicle.x }}`` and ``{{ each }}``.

Facts and places are filled in when the list is expanded. Numbers stay open until they are shown, because the
same card is read in thou at one bench and in millimetres at the next.
"""

import re
from collections.abc import Iterator

from shopcli.units import Preferences
from shopcli.units.preferences import other_system
from shopcli.worklists.facts import ROTOR
from shopcli.worklists.model import Spec, Task, VehicleFacts

_ANY = re.compile(r"\{\{(.*?)\}\}", re.DOTALL)
_KNOWN = re.compile(r"\s*(?:(spec|vehicle)\.([a-z][a-z0-9_]*)|each)\s*")
TO_CONFIRM = "practice, to be confirmed"


def placeholders(text: str) -> Iterator[tuple[str, str]]:
    """Yield ``("spec", name)``, ``("vehicle", name)`` or ``("each", "")``; ``("", text)`` for any other.

    Examples
    --------
    >>> list(placeholders("Drag at {{ spec.points_gap }}, {{ each }}, {{ shop.name }}"))
    [('spec', 'points_gap'), ('each', ''), ('', 'shop.name')]
    """
    for match in _ANY.finditer(text):
        known = _KNOWN.fullmatch(match.group(1))
        if known is None:
            yield "", match.group(1).strip()
        else:
            yield known.group(1) or "each", known.group(2) or ""
    rest = _ANY.sub("", text)
    if "{{" in rest or "}}" in rest:
        yield "", "{{" if "{{" in rest else "}}"


def not_known(name: str) -> str:
    """Return what stands where a number or fact is not known.

    Examples
    --------
    >>> not_known("points_gap")
    '[points gap: not known, enter it]'
    """
    return f"[{name.replace('_', ' ')}: not known, enter it]"


def fill_facts(text: str, facts: VehicleFacts, each: str = "") -> str:
    """Return `text` with the facts of the vehicle and the place filled in, numbers left open."""

    def fill(match: re.Match[str]) -> str:
        known = _KNOWN.fullmatch(match.group(1))
        if known is None or known.group(1) == "spec":
            return match.group()
        if known.group(1) == "vehicle":
            value = facts.fact(known.group(2)) or not_known(known.group(2))
            return ROTOR.get(value, value)
        return each

    return _ANY.sub(fill, text)


def spec_text(spec: Spec, prefs: Preferences) -> str:
    """Return a number as a person says it, the other system in brackets, with a mark while unconfirmed.

    Beside a unit the sheet does not print stands the sheet's own, which is the true one.
    """
    limits = spec.limits
    largest = max(abs(v) for v in limits.values if v is not None)
    prefs = prefs.for_number(spec.name)
    unit = prefs.unit_for(limits.quantity, limits.unit, largest)
    if unit != limits.unit:
        other: str | None = limits.unit
    else:
        other = limits.also[0].unit if limits.also else other_system(unit, prefs, largest)
    text = limits.text_both(unit, other) if other else limits.text_in(unit)
    if spec.provenance.to_confirm and not spec.provenance.who:
        return f"{text} [{TO_CONFIRM}]"
    return text


def say_text(task: Task, prefs: Preferences) -> str:
    """Return what the step says, with its numbers in the units of `prefs`.

    Parameters
    ----------
    task : Task
        As expanded, or as it was frozen into a card.
    prefs : Preferences
        Units of the tools at this bench.

    Returns
    -------
    str
        Plain text, never markup; a number that no sheet knows reads
        ``[points gap: not known, enter it]``.
    """

    def fill(match: re.Match[str]) -> str:
        known = _KNOWN.fullmatch(match.group(1))
        if known is None or known.group(1) != "spec":
            return match.group()
        spec = task.spec(known.group(2))
        return not_known(known.group(2)) if spec is None else spec_text(spec, prefs)

    return _ANY.sub(fill, task.say)
