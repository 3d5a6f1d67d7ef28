"""Taking on what earlier visits left: a finding or a promised check becomes a task of this card and is settled by doing it.

A finding that names the job it wants brings that job along; its own task then stands last and says it was put
right. A check is looked up afresh: it shows the numbers of today, with the caution of the work that promised it.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from sqlmodel import Session, select

from shopcli.errors import BadInput, NotFound, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.card_commands import TakeOn
from shopcli.shop.common import get, key_of, open_for_work
from shopcli.shop.readings import own_specs
from shopcli.shop.records import Card, Finding, Owed, Task, Vehicle
from shopcli.shop.states import CardState, FindingState, OwedState, TaskState
from shopcli.worklists.flatten import misfit, misfit_words
from shopcli.worklists.freeze import thawed
from shopcli.worklists.library import Library
from shopcli.worklists.model import Task as Frozen
from shopcli.worklists.model import VehicleFacts, WorkList
from shopcli.worklists.sheets import SpecBook, facts, lookup

CARRIED = "carried-over"  # stands where a task of a job has the job's name
# Hands-on time nobody has estimated: common practice, no source.
UNKNOWN_MIN, LOOK_MIN = 15, 2
SHORTEN = 160


@dataclass(frozen=True, slots=True)
class Left:
    """What earlier visits left and this one takes on: the records, and the jobs the findings want."""

    findings: tuple[Finding, ...] = ()
    owed: tuple[Owed, ...] = ()
    templates: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def known_vehicle(session: Session, act: Act, vehicle: Vehicle) -> tuple[VehicleFacts, SpecBook]:
    """Return what expansion needs to know of a vehicle: its facts, and its numbers with its own nearest."""
    known = facts(act.library, vehicle.sheet, json.loads(vehicle.facts))
    return known, lookup(act.library, vehicle.sheet, own_specs(session, key_of(vehicle)))


def left_for(session: Session, act: Act, vehicle: Vehicle, take: Iterable[str]) -> Left:
    """Return the records named, and the jobs that come along with them.

    Raises
    ------
    BadInput
        When a name is not like ``finding:3`` or ``owed:5``.
    NotFound, Refused
        When there is no such record, it belongs to another vehicle, is settled, or is on a card already.
    """
    findings, owed = [], []
    for name in dict.fromkeys(take):
        kind, _, number = name.partition(":")
        if kind not in {"finding", "owed"} or not (number.isascii() and number.isdigit()):
            raise BadInput(
                f"'{name[:40]}' names nothing carried over", hint="Write it like finding:3 or owed:5."
            )
        record: Finding | Owed
        if kind == "finding":
            record = get(session, Finding, int(number), "finding")
            findings.append(record)
        else:
            record = get(session, Owed, int(number), "owed check")
            owed.append(record)
        _see_it_is_left(session, vehicle, record, name)
    templates, notes = _wanted(session, act, vehicle, findings)
    return Left(tuple(findings), tuple(owed), templates, notes)


def _see_it_is_left(session: Session, vehicle: Vehicle, record: Finding | Owed, name: str) -> None:
    if record.vehicle_id != vehicle.id:
        raise NotFound(f"{name} is not of {vehicle.registration}", hint="List what the vehicle brings along.")
    if record.state not in {FindingState.OPEN, OwedState.OPEN}:
        raise Refused(f"{name} is {record.state} already", hint="There is nothing left to take on.")
    key = name if isinstance(record, Finding) else record.redeemed_by_key or name
    over = (CardState.CLOSED, CardState.VOID)
    still = Task.key == key, Task.state == TaskState.OPEN
    for_vehicle = Card.vehicle_id == vehicle.id, Card.state.not_in(over)  # type: ignore[attr-defined]
    query = select(Card.number).join(Task, Task.card_id == Card.id)  # type: ignore[arg-type]
    there = session.exec(query.where(*still, *for_vehicle)).first()
    if there is not None:
        raise Refused(f"{name} stands on card {there} already", hint="Do it there.")


def _wanted(
    session: Session, act: Act, vehicle: Vehicle, findings: Sequence[Finding]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the jobs the findings want, and why one that cannot be had stays away."""
    templates, notes = [], []
    for name in dict.fromkeys(f.wanted for f in findings if f.wanted):
        template = act.library.templates.get(name)
        known, _book = known_vehicle(session, act, vehicle)
        found = misfit(template.applies, known) if template else None
        if template is None:
            notes.append(f"The job '{name}' is not in the library now; its finding stands as a task alone.")
        elif found is not None:
            notes.append(
                f"'{template.title}' does not fit: {misfit_words(found)}; its finding stands as a task alone."
            )
        else:
            templates.append(name)
    return tuple(templates), tuple(notes)


def with_left(session: Session, act: Act, vehicle: Vehicle, work: WorkList, left: Left) -> WorkList:
    """Return the work list with a task for each thing taken on; a promise is tied to the task that keeps it."""
    if not (left.findings or left.owed):
        return work
    tasks = [_put_right(finding, work, act.library) for finding in left.findings]
    there = {task.key for task in work.tasks}
    for owed in left.owed:
        if not owed.redeemed_by_key:
            owed.redeemed_by_key = f"owed:{key_of(owed)}"
            session.add(owed)
        if owed.redeemed_by_key not in there:
            tasks.append(_promised(session, act, vehicle, owed))
    return replace(work, tasks=(*work.tasks, *tasks), notes=(*work.notes, *left.notes))


def _put_right(finding: Finding, work: WorkList, library: Library) -> Frozen:
    mending = tuple(
        t.key for t in work.tasks if finding.wanted and t.template in _parts(library, finding.wanted)
    )
    title = f"Put right: {finding.place}, {finding.what}"
    say = f"Seen at an earlier visit, marked {finding.severity}."
    return Frozen(
        key=f"finding:{key_of(finding)}",
        template=CARRIED,
        version="1",
        title=title if len(title) <= SHORTEN else f"{title[: SHORTEN - 1].rstrip()}…",
        system="findings",
        say="\n".join(filter(None, (say, finding.what if len(title) > SHORTEN else "", _takes(finding)))),
        minutes=LOOK_MIN if mending else UNKNOWN_MIN,
        place=finding.place,
        after=mending,
    )


def _takes(finding: Finding) -> str:
    return f"It would take: {finding.takes}" if finding.takes else ""


def _parts(library: Library, name: str) -> frozenset[str]:
    """Return a job with all it includes."""
    found, todo = set(), [name]
    while todo:
        one = todo.pop()
        if one not in found and one in library.templates:
            found.add(one)
            todo += library.templates[one].include
    return frozenset(found)


def _promised(session: Session, act: Act, vehicle: Vehicle, owed: Owed) -> Frozen:
    """Return the task that keeps a promise, with the numbers, cautions and conditions of the work that made it.

    What barred that work bars its check as well: better asked once too often than an engine started dry.
    """
    row = get(session, Task, owed.task_id, "task")
    card = get(session, Card, owed.card_id, "card")
    work = thawed(row.frozen)
    _known, book = known_vehicle(session, act, vehicle)
    asked = (*(spec.name for spec in work.specs), *work.missing)
    numbers = tuple(spec for name in asked if (spec := book.get(name)) is not None)
    return Frozen(
        key=owed.redeemed_by_key,
        template=CARRIED,
        version="1",
        title=owed.title,
        system=work.system,
        say="\n".join(_told(work, card, vehicle, owed)),
        specs=numbers,
        minutes=work.minutes,
        place=work.place,
        needs=work.needs,
        acts=work.acts,
        barred=work.barred,
        cautions=work.cautions,
        second=work.second,
    )


def _told(work: Frozen, card: Card, vehicle: Vehicle, owed: Owed) -> Iterator[str]:
    yield f"Promised on card {card.number} with '{work.title}'."
    if owed.due_odometer is not None:
        yield f"Due at {owed.due_odometer:,} {vehicle.distance_unit}."
    if owed.due_date:
        yield f"Due on {owed.due_date}."


def take_on(session: Session, act: Act, cmd: TakeOn) -> Change:
    """Take on an open card what earlier visits left.

    Raises
    ------
    BadInput
        When nothing is named, or a name cannot be read.
    NotFound, Refused
        When it is not the vehicle's, is settled, or stands on a card already.
    """
    from shopcli.shop.work_on_card import put_on, work_list

    if not cmd.take:
        raise BadInput("nothing is named to be taken on", hint="Name it like finding:3 or owed:5.")
    card = open_for_work(session, cmd.card_id)
    vehicle = get(session, Vehicle, card.vehicle_id, "vehicle")
    left = left_for(session, act, vehicle, cmd.take)
    work = with_left(session, act, vehicle, work_list(session, act, vehicle, left.templates, card), left)
    minutes, said = put_on(session, act, card, work)
    card.expected_minutes += minutes
    session.add(card)
    titles = ", ".join(taken_titles(left))
    return Change("card", cmd.card_id, cmd.card_id, said=(f"Taken on: {titles} ({minutes} min).", *said))


def taken_titles(left: Left) -> tuple[str, ...]:
    """Return what was taken on, in words."""
    return (*(f"{f.place}, {f.what}" for f in left.findings), *(o.title for o in left.owed))
