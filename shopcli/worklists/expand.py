"""From chosen templates and one vehicle's numbers to a work list.

This is the heart of the language: includes are opened, steps repeated over the vehicle's own parts, shared
steps done once, references between steps tied, and everything put into an order that respects them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from shopcli.errors import BadInput, ShopError
from shopcli.worklists.build import Vehicle, build, key_of, places_of, state_notes
from shopcli.worklists.flatten import applicable, flatten, misfit, misfit_words
from shopcli.worklists.kit import count_line, merge_kit
from shopcli.worklists.library import Library
from shopcli.worklists.merge import merge
from shopcli.worklists.model import (
    KitLine,
    OwedAsked,
    OwedSlot,
    Standing,
    Task,
    TaskTemplate,
    Template,
    VehicleFacts,
    WorkList,
)
from shopcli.worklists.order import in_order
from shopcli.worklists.places import Place
from shopcli.worklists.say import say_text
from shopcli.worklists.sheets import SpecBook

__all__ = ["applicable", "expand", "say_text"]

_MOST_TASKS = 2_000
NOTHING_YET = Standing()
Step = tuple[str, str]


@dataclass(frozen=True, slots=True)
class _At:
    """Where a step stands that refers to another: at the wheel it is done on, say."""

    place: Place
    noun: str


@dataclass(slots=True)
class _Draft:
    """The list while it is being put together."""

    vehicle: Vehicle
    tasks: dict[str, Task] = field(default_factory=dict)
    placed: dict[Step, list[tuple[str, Place]]] = field(default_factory=dict)
    left_out: dict[Step, TaskTemplate] = field(default_factory=dict)
    asked: list[tuple[str, str, TaskTemplate, Place]] = field(default_factory=list)
    once: dict[tuple[str, str], str] = field(default_factory=dict)
    kit: list[KitLine] = field(default_factory=list)
    there: Standing = field(default_factory=Standing)
    known: frozenset[str] = frozenset()
    stood: list[tuple[str, str, TaskTemplate, Place]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def expand(
    library: Library,
    names: Sequence[str],
    facts: VehicleFacts,
    book: SpecBook,
    there: Standing = NOTHING_YET,
) -> WorkList:
    """Expand templates for one vehicle.

    Parameters
    ----------
    library : Library
        As loaded.
    names : sequence of str
        Templates chosen; what they include comes along, nothing twice.
    facts : VehicleFacts
        Of the vehicle.
    book : SpecBook
        Its numbers, from `lookup`.
    there : Standing, optional
        What the card has already: a shared step joins one still open there, as it would had the jobs been chosen
        together; a settled one is done again for the new job, and nothing is put on twice.

    Returns
    -------
    WorkList
        Tasks still to be done, those that were there among them, in an order that respects every `after`; kit of
        what is new, put together; ``templates`` as (name, title,
        version); notes on what was left out or is not known.

    Raises
    ------
    NotFound
        If a template is not known or not usable.
    BadInput
        If a chosen template does not fit the vehicle, the vehicle does not say which parts a step repeats
        over, or steps of different templates wait for one another in a circle.
    """
    chosen, notes = flatten(library, names, facts)
    draft = _Draft(Vehicle(library, facts, book), notes=list(notes))
    _stand(draft, there)
    for template in chosen:
        for line in () if template.name in there.templates else template.kit:
            _count(draft, line)
        for step in template.tasks:
            _place(draft, template, step)
    for key, template_name, step, place in draft.asked:
        _tie(draft, key, template_name, step, place)
    for key, template_name, step, place in draft.stood:
        _wait_for_new(draft, key, template_name, step, place)
    _put_first(draft)
    return WorkList(
        in_order(tuple(draft.tasks.values())),
        merge_kit(draft.kit),
        tuple((t.name, t.title, t.version) for t in chosen if t.name not in there.templates),
        tuple(dict.fromkeys(draft.notes)),
    )


def _stand(draft: _Draft, there: Standing) -> None:
    """Put on the list what the card has: new steps may share it, wait for it and be waited for."""
    draft.there, draft.known = there, frozenset(task.key for task in there.tasks)
    draft.tasks.update((task.key, task) for task in there.open)
    templates = [t for name, t in draft.vehicle.library.templates.items() if name in there.templates]
    where = [
        (t, step, place, key_of(t.name, step.id, place))
        for t in templates
        for step in t.tasks
        for place in _places_known(draft, step)
    ]
    for _template, step, place, key in where:
        if step.once and key in draft.tasks:
            draft.once.setdefault((step.once, place.label), key)
    for template, step, place, own in where:
        key = own if own in draft.known else draft.once.get((step.once, place.label), own)
        if key in draft.tasks:
            _noted(draft, draft.stood, template.name, step, place, key)


def _places_known(draft: _Draft, step: TaskTemplate) -> tuple[Place, ...]:
    """Return where a step of a job on the card is done; none where the vehicle's facts no longer say so."""
    try:
        fits = misfit(step.applies, draft.vehicle.facts) is None
        return places_of(step, draft.vehicle) if fits else ()
    except ShopError:
        return ()


def _noted(
    draft: _Draft,
    asked: list[tuple[str, str, TaskTemplate, Place]],
    template: str,
    step: TaskTemplate,
    place: Place,
    key: str,
) -> None:
    """Note at which task a step is done, for those that refer to it."""
    draft.placed.setdefault((template, step.id), []).append((key, place))
    asked.append((key, template, step, place))


def _count(draft: _Draft, line: KitLine) -> KitLine:
    counted, note = count_line(line, draft.vehicle.facts, draft.vehicle.book)
    draft.kit.append(counted)
    if note:
        draft.notes.append(note)
    return counted


def _place(draft: _Draft, template: Template, step: TaskTemplate) -> None:
    """Put a step on the list, at each of its places; a shared one joins the task already there."""
    found = misfit(step.applies, draft.vehicle.facts)
    if found is not None:
        draft.left_out[template.name, step.id] = step
        if not found[1]:
            draft.notes.append(f'"{step.title}" is left out: {misfit_words(found)}')
        return
    for place in places_of(step, draft.vehicle):
        own = key_of(template.name, step.id, place)
        if own in draft.known:
            continue
        task = build(template, step, place, draft.vehicle)
        draft.notes.extend(state_notes(task))
        key = draft.once.setdefault((step.once, place.label), own) if step.once else own
        first = draft.tasks.get(key)
        there = {line.part for line in first.kit} if first else set()  # a step done once needs its parts once
        kit = tuple(_count(draft, line) for line in step.kit if line.part not in there)
        task = replace(task, kit=kit)
        draft.tasks[key] = merge(first, task) if first else task
        _noted(draft, draft.asked, template.name, step, place, key)
    if len(draft.tasks) > _MOST_TASKS:
        raise BadInput(f"the list grows beyond {_MOST_TASKS} tasks", hint="Choose fewer jobs at a time.")


def _tie(draft: _Draft, key: str, template: str, step: TaskTemplate, place: Place) -> None:
    """Resolve what a step waits for and owes, now that all are on the list."""
    at = _At(place, step.each.rpartition(" ")[2])
    after = [k for ref in step.after for k in _resolve(draft, template, ref, at)]
    owes = (slot for asked in step.owes for slot in _owed(draft, template, asked, at))
    task = draft.tasks[key]
    kept = tuple(k for k in dict.fromkeys((*task.after, *after)) if k != key)
    draft.tasks[key] = replace(task, after=kept, owes=tuple(dict.fromkeys((*task.owes, *owes))))


def _wait_for_new(draft: _Draft, key: str, template: str, step: TaskTemplate, place: Place) -> None:
    """Let a task that was there wait for new ones its step names; what it waits for and owes else stays as it is."""
    at = _At(place, step.each.rpartition(" ")[2])
    new = (k for ref in step.after for k in _resolve(draft, template, ref, at) if k not in draft.known)
    task = draft.tasks[key]
    draft.tasks[key] = replace(task, after=tuple(dict.fromkeys((*task.after, *new))))


def _put_first(draft: _Draft) -> None:
    """Let whatever is new and waits for nothing else wait for the steps that come before everything."""
    first = tuple(dict.fromkeys(key for key, _, step, _ in (*draft.stood, *draft.asked) if step.first))
    if not first or any(draft.tasks[key].after for key in first):
        return  # one that is shared with a step that waits is no longer free to be first
    for key, task in draft.tasks.items():
        if key not in first and not task.after and key not in draft.known:
            draft.tasks[key] = replace(task, after=first)


def _resolve(draft: _Draft, template: str, ref: str, at: _At, seen: tuple[Step, ...] = ()) -> tuple[str, ...]:
    """Return the keys a reference means; a step left out hands on what it waited for itself."""
    step = _step(template, ref)
    if step in draft.placed:
        spots = draft.placed[step]
        same = tuple(key for key, place in spots if place.label == at.place.label)
        return same if at.noun and at.noun == _noun(draft, step) else tuple(key for key, _ in spots)
    if step in draft.left_out and step not in seen:
        behind = draft.left_out[step].after
        return tuple(k for further in behind for k in _resolve(draft, step[0], further, at, (*seen, step)))
    return ()


def _step(template: str, ref: str) -> Step:
    other, colon, step_id = ref.partition(":")
    return (other, step_id) if colon else (template, ref)


def _noun(draft: _Draft, step: Step) -> str:
    template = draft.vehicle.library.templates.get(step[0])
    found = next((t for t in template.tasks if t.id == step[1]), None) if template else None
    return found.each.rpartition(" ")[2] if found else ""


def _owed(draft: _Draft, template: str, asked: OwedAsked, at: _At) -> tuple[OwedSlot, ...]:
    """Return a promised check; on the card already, it is tied to each task that redeems it.

    A check that does not apply to this vehicle is not owed.
    """
    step = _step(template, asked.check)
    if step in draft.left_out:
        return ()
    keys = _resolve(draft, template, asked.check, at) if step in draft.placed else ("",)
    slots: list[OwedSlot] = []
    for key in keys:
        title = asked.title or (draft.tasks[key].title if key else _title(draft, step)) or asked.check
        slots.append(OwedSlot(asked.check, title, key, asked.before, asked.miles, asked.days))
    return tuple(slots)


def _title(draft: _Draft, step: Step) -> str:
    template = draft.vehicle.library.templates.get(step[0])
    return next((t.title for t in template.tasks if t.id == step[1]), "") if template else ""
