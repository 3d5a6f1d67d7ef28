"""Make a task of a step: one vehicle's own places, numbers and facts in the words of the template."""

from collections.abc import Iterator
from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.worklists.library import Library
from shopcli.worklists.model import (
    ReadingAsked,
    ReadingSlot,
    Task,
    TaskTemplate,
    Template,
    VehicleFacts,
    WorkingCall,
)
from shopcli.worklists.places import Place, places
from shopcli.worklists.say import fill_facts
from shopcli.worklists.sheets import SpecBook

NOWHERE = Place("", "")


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What a step is expanded with: the shop's library and one vehicle's facts and numbers."""

    library: Library
    facts: VehicleFacts
    book: SpecBook


def key_of(template: str, step: str, place: Place = NOWHERE) -> str:
    """Return the key of a task within a work list.

    Examples
    --------
    >>> key_of("plugs-leads", "gap", Place("2", "cylinder 2"))
    'plugs-leads:gap@cylinder 2'
    """
    return f"{template}:{step}@{place.label}" if place.label else f"{template}:{step}"


def places_of(step: TaskTemplate, vehicle: Vehicle) -> tuple[Place, ...]:
    """Return the places a step repeats over; one without a name when it does not repeat."""
    return places(step.each, vehicle.facts) if step.each else (NOWHERE,)


def build(template: Template, step: TaskTemplate, place: Place, vehicle: Vehicle) -> Task:
    """Return the task a step becomes at one place; `after` and `owes` are tied later."""
    facts, book, library = vehicle.facts, vehicle.book, vehicle.library
    title = fill_facts(step.title, facts, place.label)
    if place.label and place.label not in title:
        title = f"{title}: {place.label}"
    found = tuple((name, book.get(name)) for name in step.specs)
    return Task(
        key=key_of(template.name, step.id, place),
        template=template.name,
        version=template.version,
        title=title,
        system=template.system,
        say=fill_facts(step.say, facts, place.label),
        specs=tuple(spec for _, spec in found if spec is not None),
        missing=tuple(name for name, spec in found if spec is None),
        readings=tuple(_slots(step, place, vehicle)),
        minutes=step.minutes,
        waits=step.waits,
        place=step.place,
        needs=step.needs,
        makes=step.makes,
        acts=step.acts,
        hangs=step.hangs,
        lifts=step.lifts,
        barred=step.barred,
        cautions=tuple(library.cautions[name] for name in step.cautions),
        working=_working(step.working, facts),
        second=step.second,
        fits=step.fits,
    )


def state_notes(task: Task) -> tuple[str, ...]:
    """Say where a number is given hot and the step wants a cold engine, or the other way round."""
    wanted = {"engine cold": "cold", "engine warm": "hot"}
    states = {wanted[n] for n in task.needs if n in wanted}
    return tuple(
        f'"{task.title}": {spec.label} is given {spec.state}, but the step wants the engine {state}'
        for spec in task.specs
        for state in states
        if {spec.state, state} == {"cold", "hot"}
    )


def _slots(step: TaskTemplate, place: Place, vehicle: Vehicle) -> Iterator[ReadingSlot]:
    """Yield the readings of a step; those of one name over inlet and exhaust valves go valve by valve."""
    done: set[str] = set()
    for reading in step.readings:
        if reading.name in done:
            continue
        done.add(reading.name)
        alike = [r for r in step.readings if r.name == reading.name]
        spots = [(p, r) for r in alike for p in (places(r.each, vehicle.facts) if r.each else (place,))]
        if len(alike) > 1:
            spots.sort(key=lambda spot: _engine_order(spot[0], vehicle.facts))
        for spot, asked in spots:
            yield from _phases(asked, spot, vehicle)


def _engine_order(place: Place, facts: VehicleFacts) -> int:
    names = (*facts.valves, *facts.wheels, *facts.cylinders)
    return names.index(place.name) if place.name in names else len(names)


def _phases(reading: ReadingAsked, spot: Place, vehicle: Vehicle) -> Iterator[ReadingSlot]:
    spec = vehicle.book.get(reading.spec)
    kind = vehicle.library.kinds.get(reading.spec)
    quantity = spec.limits.quantity if spec else reading.quantity or (kind.quantity if kind else "")
    unit = reading.unit or (spec.limits.unit if spec else kind.unit if kind else "")
    if reading.quantity and spec is not None and spec.limits.quantity != reading.quantity:
        raise BadInput(
            f'"{reading.name}" is a {reading.quantity}, but {spec.label} on sheet "{spec.sheet}" '
            f"is a {spec.limits.quantity}",
            hint="Correct the sheet or the job template.",
        )
    at = f"@{spot.name}" if spot.name and reading.each else ""
    for phase in reading.when:
        yield ReadingSlot(
            f"{reading.name}{at}|{phase}", reading.name, spot.label, phase, reading.spec, quantity, unit
        )


def _working(call: WorkingCall | None, facts: VehicleFacts) -> WorkingCall | None:
    """Return the sum with the vehicle's facts in it; a fact not known is left to be asked for."""
    if call is None:
        return None
    pairs = (
        (name, facts.fact(v.removeprefix("vehicle.")) if v.startswith("vehicle.") else v)
        for name, v in call.given
    )
    return WorkingCall(call.name, tuple((name, value) for name, value in pairs if value is not None))
