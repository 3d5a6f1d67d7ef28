"""Cards: opened with an expanded work list, added to, moved from state to state."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from sqlmodel import Session, func, select

from shopcli.cleantext import clean_line, clean_note
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.card_commands import AddTemplates, ChangeCard, MoveCard, OpenCard
from shopcli.shop.common import get, key_of, open_for_work, reason_given, same_version, saved
from shopcli.shop.kit_units import in_stock_unit
from shopcli.shop.part_commands import PutPart
from shopcli.shop.parts import iso_date, line_for, part_for_kit, sane_money
from shopcli.shop.records import Card, CardPart, CardTemplate, Counter, Task, Vehicle
from shopcli.shop.states import CARD_MOVES, CardState, TaskState, move
from shopcli.shop.taking_on import known_vehicle, left_for, taken_titles, with_left
from shopcli.worklists.freeze import task_to_json
from shopcli.worklists.model import KitLine, WorkList
from shopcli.worklists.model import Task as Frozen
from shopcli.worklists.together import together

FARTHEST = 2_000_000


def next_number(session: Session, name: str) -> int:
    """Return the next number of a counter; a rolled back transaction gives it back."""
    counter = session.get(Counter, name, with_for_update=True) or Counter(name=name, value=0)
    counter.value += 1
    session.add(counter)
    session.flush()
    return counter.value


def work_list(session: Session, act: Act, vehicle: Vehicle, names: Iterable[str]) -> WorkList:
    """Expand templates for a vehicle with its own numbers nearest; jobs that cannot share a card are refused."""
    known, book = known_vehicle(session, act, vehicle)
    return together(act.library, tuple(names), known, book)


def _rows(card_id: int, tasks: Iterable[Frozen], start: int) -> list[Task]:
    return [
        Task(
            card_id=card_id,
            position=position,
            key=task.key,
            template=task.template,
            title=task.title,
            state=TaskState.OPEN,
            minutes=task.minutes,
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
    """Put a work list on a card, leaving out what is there already; return minutes added and remarks."""
    key = key_of(card)
    there = set(session.exec(select(Task.key).where(Task.card_id == key)))
    start = session.exec(select(func.max(Task.position)).where(Task.card_id == key)).one() or 0
    new = [task for task in work.tasks if task.key not in there]
    for row in _rows(key, new, start + 1):
        session.add(row)
    kit_there = set(session.exec(select(CardPart.description).where(CardPart.card_id == key)))
    _kit(session, act, key, (line for line in work.kit if not (there and line.part in kit_there)))
    for name, title, version in work.templates:
        minutes = sum(t.minutes for t in new if t.template == name)
        session.add(
            CardTemplate(
                card_id=key, template=name, title=title, template_version=version, expected_minutes=minutes
            )
        )
    missing = sorted({label for task in new for label in task.missing})
    said = (f"Numbers missing for this vehicle: {', '.join(missing)}.",) if missing else ()
    return sum(t.minutes for t in new), (*work.notes, *said)


def _odometer(reading: int | None) -> int | None:
    if reading is not None and not 0 <= reading <= FARTHEST:
        raise BadInput(f"the odometer shows {reading}", hint="A whole number between 0 and 2,000,000.")
    return reading


def open_card(session: Session, act: Act, cmd: OpenCard) -> Change:
    """Open a card for a vehicle.

    Raises
    ------
    BadInput
        On an impossible odometer, date or sum.
    BadTemplate, NotFound, Refused
        When a template is unknown or does not apply to the vehicle, jobs cannot share a card, or what is to be
        taken on is not there to take.
    """
    vehicle = get(session, Vehicle, cmd.vehicle_id, "vehicle")
    left = left_for(session, act, vehicle, cmd.take)
    names = tuple(dict.fromkeys((*cmd.templates, *left.templates)))
    work = with_left(session, act, vehicle, work_list(session, act, vehicle, names), left)
    called = (*_titles(act, names), *taken_titles(left))
    title = clean_line(cmd.title) or ", ".join(called) or "To be looked at"
    authority = None if cmd.authority_minor is None else sane_money(cmd.authority_minor, "authority")
    card = saved(
        session,
        Card(
            number=clean_line(cmd.number, limit=20) or f"J{next_number(session, 'card'):05d}",
            vehicle_id=cmd.vehicle_id,
            customer_id=vehicle.customer_id,
            state=CardState.BOOKED,
            title=title,
            words=clean_note(cmd.words, name="customer's words"),
            left_with=clean_note(cmd.left_with, limit=400),
            car_keys=clean_line(cmd.car_keys, name="keys"),
            fuel=clean_line(cmd.fuel, name="fuel", limit=60),
            damage=clean_note(cmd.damage, name="damage", limit=400),
            odometer=_odometer(cmd.odometer),
            authority_minor=authority,
            authority_by=clean_line(cmd.authority_by),
            authority_how=clean_line(cmd.authority_how, limit=40),
            authority_at=None if authority is None else act.at,
            promised=iso_date(cmd.promised, "promise date"),
            opened_at=act.at,
            opened_by=act.by,
        ),
    )
    card.expected_minutes, said = put_on(session, act, card, work)
    session.add(card)
    return Change("card", key_of(card), card.id, said=(f"Card {card.number} opened.", *said))


def _titles(act: Act, names: Iterable[str]) -> list[str]:
    return [act.library.templates[name].title for name in names if name in act.library.templates]


def add_templates(session: Session, act: Act, cmd: AddTemplates) -> Change:
    """Expand further templates onto an open card; nothing is put on twice."""
    card = open_for_work(session, cmd.card_id)
    vehicle = get(session, Vehicle, card.vehicle_id, "vehicle")
    minutes, said = put_on(session, act, card, work_list(session, act, vehicle, cmd.templates))
    card.expected_minutes += minutes
    session.add(card)
    titles = ", ".join(_titles(act, cmd.templates))
    return Change("card", cmd.card_id, cmd.card_id, said=(f"Added: {titles} ({minutes} min).", *said))


def change_card(session: Session, act: Act, cmd: ChangeCard) -> Change:
    """Change what the desk wrote on a card."""
    card = get(session, Card, cmd.card_id, "card")
    if card.state in {CardState.CLOSED, CardState.VOID}:
        raise Refused(f"card {card.number} is {card.state}")
    same_version(card, cmd.version, f"card {card.number}")
    wanted: Mapping[str, object] = {
        "words": None if cmd.words is None else clean_note(cmd.words),
        "title": None if cmd.title is None else clean_line(cmd.title),
        "odometer": _odometer(cmd.odometer),
        "left_with": None if cmd.left_with is None else clean_note(cmd.left_with, limit=400),
        "authority_minor": None
        if cmd.authority_minor is None
        else sane_money(cmd.authority_minor, "authority"),
        "authority_by": None if cmd.authority_by is None else clean_line(cmd.authority_by),
        "promised": None if cmd.promised is None else iso_date(cmd.promised, "promise date"),
        "authority_how": None if cmd.authority_how is None else clean_line(cmd.authority_how, limit=40),
        "authority_at": None if cmd.authority_minor is None else act.at,
        "car_keys": None if cmd.car_keys is None else clean_line(cmd.car_keys, name="keys"),
        "fuel": None if cmd.fuel is None else clean_line(cmd.fuel, name="fuel", limit=60),
        "damage": None if cmd.damage is None else clean_note(cmd.damage, name="damage", limit=400),
    }
    changes = {name: value for name, value in wanted.items() if value is not None}
    before = {name: getattr(card, name) for name in changes}
    for name, value in changes.items():
        setattr(card, name, value)
    session.add(card)
    return Change("card", cmd.card_id, cmd.card_id, before, changes, (f"Card {card.number} changed.",))


def move_card(session: Session, act: Act, cmd: MoveCard) -> Change:
    """Move a card to another state; holding and voiding need a reason, checking an empty closing check."""
    card = get(session, Card, cmd.card_id, "card")
    if cmd.state not in set(CardState):
        raise BadInput(f"'{cmd.state}' is no state of a card", hint="One of: " + ", ".join(CardState) + ".")
    before, then = CardState(card.state), CardState(cmd.state)
    if then is CardState.CLOSED:
        raise Refused("a card is closed through the closing check", hint="Use close.")
    move(f"card {card.number}", CARD_MOVES, before, then)
    reason = reason_given(cmd.reason, f"'{then}'") if then in {CardState.HELD, CardState.VOID} else ""
    if then is CardState.VOID:
        _see_nothing_on_it(session, card)
    if then is CardState.CHECKED:
        from shopcli.shop.closing import see_nothing_hinders

        see_nothing_hinders(session, act, card)
        card.checked_at, card.checked_by = act.at, act.by
    card.state, card.held_for = then, reason
    card.waits_for_parts = then is CardState.HELD and cmd.for_parts
    session.add(card)
    said = f"Card {card.number}: {then}{f' ({reason})' if reason else ''}."
    return Change(
        "card",
        cmd.card_id,
        cmd.card_id,
        {"state": str(before)},
        {"state": str(then), "reason": reason},
        (said,),
    )


def _see_nothing_on_it(session: Session, card: Card) -> None:
    from shopcli.shop.records import ClockEntry
    from shopcli.shop.tags import hanging

    worked = session.exec(select(ClockEntry.id).where(ClockEntry.card_id == card.id)).first()
    tags = [t.name for t in hanging(session, card.vehicle_id) if t.card_id == card.id]
    fitted = select(CardPart.id).where(CardPart.card_id == card.id, CardPart.state == "fitted")
    if worked or tags or session.exec(fitted).first():
        raise Refused(
            f"work was done on card {card.number}; it cannot be voided",
            hint="Finish it and close it instead.",
        )
