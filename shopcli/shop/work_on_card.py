"""The work list of a card in the records: jobs expanded for its vehicle, put on it, and joined to what is there."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from sqlmodel import Session, col, select

from shopcli.errors import ShopError
from shopcli.shop.act import Act
from shopcli.shop.common import key_of
from shopcli.shop.fetch import fetcher
from shopcli.shop.kit_units import in_stock_unit
from shopcli.shop.own_times_now import own_times
from shopcli.shop.part_commands import PutPart
from shopcli.shop.parts import line_for, part_for_kit
from shopcli.shop.records import Card, CardTemplate, Task, Vehicle
from shopcli.shop.states import TaskState
from shopcli.shop.taking_on import known_vehicle
from shopcli.worklists.freeze import task_from_json, task_to_json
from shopcli.worklists.model import KitLine, Standing, WorkList
from shopcli.worklists.model import Task as Frozen
from shopcli.worklists.together import together
from shopcli.worklists.with_times import WHOLE


def work_list(
    session: Session, act: Act, vehicle: Vehicle, names: Iterable[str], card: Card | None = None
) -> WorkList:
    """Expand templates for a vehicle with its own numbers nearest; jobs that cannot share a card are refused.

    With a `card` they join what it has: its open tasks are among those returned, changed where they are shared.
    """
    known, book = known_vehicle(session, act, vehicle)
    there = Standing() if card is None else standing(session, card)
    return together(act.library, tuple(names), known, book, there)


def standing(session: Session, card: Card) -> Standing:
    """Return the tasks of a card as they were frozen; one this program cannot read is left as it is."""
    tasks, settled = [], set()
    for row in session.exec(select(Task).where(Task.card_id == key_of(card)).order_by(col(Task.position))):
        if row.state != TaskState.OPEN:
            settled.add(row.key)
        try:
            tasks.append(task_from_json(row.frozen))
        except ShopError:
            tasks.append(Frozen(row.key, row.template, "", row.title, ""))
            settled.add(row.key)
    return Standing(tuple(tasks), frozenset(settled))


def _rows(card_id: int, tasks: Iterable[Frozen], start: int, own: Mapping[str, int]) -> list[Task]:
    return [
        Task(
            card_id=card_id,
            position=position,
            key=task.key,
            template=task.template,
            title=task.title,
            state=TaskState.OPEN,
            minutes=task.minutes,
            own_per_mille=own.get(task.template, WHOLE),
            waits=task.waits,
            place=task.place,
            second=task.second,
            frozen=task_to_json(task),
        )
        for position, task in enumerate(tasks, start)
    ]


def _kit(session: Session, act: Act, card_id: int, kit: Iterable[KitLine]) -> None:
    for line in kit:
        part = part_for_kit(session, line.number or line.part)
        qty = in_stock_unit(Decimal(line.qty), line.unit, part.unit if part else line.unit)
        row = line_for(
            act,
            card_id,
            part,
            PutPart(
                card_id,
                None,
                line.part,
                round(qty * 1000),
                price_minor=None if part else 0,
                unit=line.unit or "pc",
            ),
        )
        row.optional = line.optional
        if not line.exchange:
            row.surcharge_minor = 0
        session.add(row)


def put_on(session: Session, act: Act, card: Card, work: WorkList) -> tuple[int, tuple[str, ...]]:
    """Put a work list on a card, what is there already only where it changed; return minutes added and remarks."""
    key = key_of(card)
    there = {row.key: row for row in session.exec(select(Task).where(Task.card_id == key))}
    start = max((row.position for row in there.values()), default=0)
    new = [task for task in work.tasks if task.key not in there]
    own = own_times(fetcher(session))
    for row in _rows(key, new, start + 1, own):
        session.add(row)
    joined = [_joined(there[task.key], task, own) for task in work.tasks if task.key in there]
    shared = [(row, minutes) for row, minutes in joined if row is not None]
    session.add_all(row for row, _minutes in shared)
    _kit(session, act, key, work.kit)
    for name, title, version in work.templates:
        minutes = sum(t.minutes for t in new if t.template == name)
        session.add(
            CardTemplate(
                card_id=key, template=name, title=title, template_version=version, expected_minutes=minutes
            )
        )
    missing = sorted({label for task in new for label in task.missing})
    said = [f"Numbers missing for this vehicle: {', '.join(missing)}."] if missing else []
    if shared:
        titles = ", ".join(f"'{row.title}'" for row, _minutes in shared)
        said.insert(0, f"Shared with what is on the card: {titles}.")
    added = sum(t.minutes for t in new) + sum(minutes for _row, minutes in shared)
    return added, (*work.notes, *said)


def _joined(row: Task, task: Frozen, own: Mapping[str, int]) -> tuple[Task | None, int]:
    """Take over what a task of the card shares with the new job now; return it, if it changed, and minutes added."""
    frozen = task_to_json(task)
    if row.state != TaskState.OPEN or row.frozen == frozen:
        return None, 0
    more = task.minutes - row.minutes
    row.frozen, row.minutes, row.waits = frozen, task.minutes, task.waits
    row.place, row.second = task.place, task.second
    row.own_per_mille = own.get(task.template, WHOLE)
    return row, more
