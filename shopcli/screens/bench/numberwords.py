"""A number of a task in words: the figure to be shown large, its unit, limits, state and where it comes from.

What stands large is cut out of the very sentence the units package says, never worked out again, so the large
figure and the judgement on a reading cannot disagree.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from shopcli.columns import shown
from shopcli.present import day
from shopcli.units import IMPERIAL, METRIC, Limits, Preferences, other_system, unit_named
from shopcli.worklists.model import Provenance, ReadingSlot, Spec, Task
from shopcli.worklists.tool_units import number_name

_FIGURE = r"[+-]?\d[\d.,]*"
_SAID = re.compile(
    rf"(?:(?P<lead>at least|at most) )?(?P<low>{_FIGURE})(?: to (?P<high>{_FIGURE}))?(?P<unit>.*?)"
    rf"(?:, aim for (?P<aim>{_FIGURE})(?P<aimed>.*))?"
)


@dataclass(frozen=True, slots=True)
class NumberSaid:
    """A number as the bench shows it.

    `figure` is drawn large, empty when the sentence has none to draw; `lead` ("at least") and `unit` stand beside
    it. `limits` says the range when the large figure is the one to aim for. `newer` tells of a number entered since
    the card was opened, which the card's own does not follow.
    """

    name: str
    label: str
    sentence: str
    figure: str = ""
    lead: str = ""
    unit: str = ""
    limits: str = ""
    other: str = ""
    state: str = ""
    origin: str = ""
    to_confirm: bool = False
    note: str = ""
    newer: str = ""


def preferences(units: str) -> Preferences:
    """Return the units somebody reads in.

    Examples
    --------
    >>> preferences("imperial").unit_for("length", "mm")
    'thou'
    """
    return IMPERIAL if units == "imperial" else METRIC


def unit_shown(limits: Limits, prefs: Preferences) -> str:
    """Return the symbol of the unit the limits are shown in first."""
    return prefs.unit_for(limits.quantity, limits.unit, _largest(limits))


def slot_unit(task: Task, slot: ReadingSlot, prefs: Preferences) -> str:
    """Return the unit of a bare figure typed into a slot: the one the number beside it is shown in."""
    spec = task.spec(slot.spec) if slot.spec else None
    prefs = prefs.for_number(number_name(slot))
    if spec is not None:
        return unit_shown(spec.limits, prefs)
    return prefs.unit_for(slot.quantity, slot.unit) if slot.quantity else slot.unit


def say_number(spec: Spec, prefs: Preferences) -> NumberSaid:
    """Return a number in the units of `prefs`, the other system beside it.

    Examples
    --------
    >>> gap = Limits.of("length", "thou", low=14, nominal=16, high=18)
    >>> said = say_number(Spec("gap", "points gap", gap, "", Provenance("demo"), "x"), METRIC)
    >>> said.figure, said.unit, said.limits, said.other
    ('0.41', 'mm', '0.36 to 0.45 mm', '14 to 18 thou, aim for 16 thou')
    """
    prefs = prefs.for_number(spec.name)
    unit = unit_shown(spec.limits, prefs)
    other = _other_unit(spec.limits, unit, prefs)
    sentence = spec.limits.text_in(unit)
    figure, lead, label, limits = _parts(sentence)
    return NumberSaid(
        name=spec.name,
        label=shown(spec.label),
        sentence=sentence,
        figure=figure,
        lead=lead,
        unit=label,
        limits=limits,
        other=spec.limits.text_in(other) if other else "",
        state=shown(spec.state),
        origin=origin(spec.provenance),
        to_confirm=spec.provenance.to_confirm,
        note=shown(spec.note),
    )


def say_numbers(
    specs: Sequence[Spec], prefs: Preferences, newer: Sequence[Spec] = ()
) -> tuple[NumberSaid, ...]:
    """Return all the numbers of a task, each with the newer one beside it where there is one."""
    now = {spec.name: spec for spec in newer}
    return tuple(
        replace(say_number(spec, prefs), newer=newer_words(now[spec.name], prefs))
        if spec.name in now
        else say_number(spec, prefs)
        for spec in specs
    )


def newer_words(spec: Spec, prefs: Preferences) -> str:
    """Return a number entered since the card was opened, and where it comes from."""
    said = say_number(spec, prefs)
    state = f", {said.state}" if said.state else ""
    return f"entered since: {said.sentence}{state}; {said.origin}"


def _largest(limits: Limits) -> float:
    return max(abs(v) for v in limits.values if v is not None)


def _other_unit(limits: Limits, unit: str, prefs: Preferences) -> str | None:
    if unit != limits.unit:
        return limits.unit
    return limits.also[0].unit if limits.also else other_system(unit, prefs, _largest(limits))


def _parts(sentence: str) -> tuple[str, str, str, str]:
    """Cut a sentence of limits into (large figure, lead, unit, range beside an aim)."""
    found = _SAID.fullmatch(sentence)
    if found is None:
        return "", "", "", ""
    unit = found["unit"].strip()
    if found["aim"]:
        limits = sentence.partition(", aim for ")[0]
        return found["aim"], "aim for", unit, limits
    low, high, lead = found["low"], found["high"], found["lead"] or ""
    if high is None:
        return low, lead, unit, ""
    between = " to " if "-" in low + high else "–"
    return f"{low}{between}{high}", lead, unit, ""


@dataclass(frozen=True, slots=True)
class Figures:
    """The figures of a sentence of limits, each as it is said; empty where the sentence has none."""

    low: str = ""
    aim: str = ""
    high: str = ""
    unit: str = ""


def figures_of(sentence: str) -> Figures:
    """Cut a sentence of limits into its figures; a figure that stands alone is the one to aim for.

    Examples
    --------
    >>> figures_of("14 to 18 thou, aim for 16 thou")
    Figures(low='14', aim='16', high='18', unit='thou')
    >>> figures_of("at most 0.3 V"), figures_of("8 thou")
    (Figures(low='', aim='', high='0.3', unit='V'), Figures(low='', aim='8', high='', unit='thou'))
    """
    found = _SAID.fullmatch(sentence)
    if found is None:
        return Figures()
    unit, lead, low, high = found["unit"].strip(), found["lead"], found["low"], found["high"] or ""
    if lead == "at most":
        return Figures("", found["aim"] or "", low, unit)
    if not lead and not high:
        return Figures("", low, "", unit)
    return Figures(low, found["aim"] or "", high, unit)


def origin(source: Provenance) -> str:
    """Return where a number comes from, as a sentence of the bench.

    Examples
    --------
    >>> origin(Provenance("handbook", "Lark 1200 handbook", "14", "Tom", "2026-11-25"))
    'handbook: Lark 1200 handbook, page 14, entered by Tom, Wed 25 Nov 2026'
    >>> origin(Provenance("practice"))
    'common practice, no source: to be confirmed'
    """
    words = {
        "handbook": "handbook",
        "plate": "stamped on the vehicle",
        "measured": "measured here",
        "practice": "common practice, no source: to be confirmed",
        "demo": "invented for the demo",
    }.get(source.kind, source.kind)
    page = f"page {source.page}" if source.page else ""
    document = ", ".join(filter(None, (source.document, page)))
    entered = "by" if source.kind == "measured" else "entered by"
    who = f"{entered} {source.who}" if source.who else ""
    text = f"{words}: {document}" if document else words
    return shown(", ".join(filter(None, (text, who, _on(source.on)))))


def _on(text: str) -> str:
    try:
        when = date.fromisoformat(text)
    except ValueError:
        return text
    return f"{day(when)} {when.year}"


def unit_label(symbol: str) -> str:
    """Return a unit as a person writes it; an unknown or empty symbol as it is.

    Examples
    --------
    >>> unit_label("Nm"), unit_label("")
    ('N·m', '')
    """
    return unit_named(symbol).label if symbol else ""
