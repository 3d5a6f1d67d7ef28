"""Checks promised during the work: written when the promising task is done, settled by the check or by name."""

from datetime import timedelta

from sqlmodel import Session, select

from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.bench_commands import SettleOwed
from shopcli.shop.common import get, key_of, reason_given
from shopcli.shop.records import Card, Owed, Task, Vehicle
from shopcli.shop.states import OwedState
from shopcli.worklists.model import OwedSlot
from shopcli.worklists.model import Task as Frozen

KM_PER_MILE = 1.609344


def _due_odometer(card: Card, vehicle: Vehicle, miles: int) -> int | None:
    if not miles or card.odometer is None:
        return None
    return card.odometer + (miles if vehicle.distance_unit == "mi" else round(miles * KM_PER_MILE))


def promise(
    session: Session, act: Act, card: Card, task: Task, slots: tuple[OwedSlot, ...]
) -> tuple[str, ...]:
    """Write what a finished task owes; what the card already owes under that name is not owed twice."""
    if not slots:
        return ()
    vehicle = get(session, Vehicle, card.vehicle_id, "vehicle")
    query = select(Owed.title).where(Owed.card_id == card.id, Owed.state == OwedState.OPEN)
    there = set(session.exec(query))
    said = []
    for slot in slots:
        if slot.title in there:
            continue
        due_date = (act.today() + timedelta(days=slot.days)).isoformat() if slot.days else ""
        session.add(
            Owed(
                vehicle_id=card.vehicle_id,
                card_id=key_of(card),
                task_id=key_of(task),
                redeemed_by_key=slot.key,
                title=slot.title,
                before=slot.before,
                due_odometer=_due_odometer(card, vehicle, slot.miles),
                due_date=due_date,
                state=OwedState.OPEN,
                promised_at=act.at,
            )
        )
        said.append(f"Owed now: {slot.title}.")
    return tuple(said)


def redeem(session: Session, act: Act, task: Task, frozen: Frozen) -> tuple[str, ...]:
    """Settle what this task was promised for, on this card or on an earlier one of the vehicle."""
    card = get(session, Card, task.card_id, "card")
    query = select(Owed).where(Owed.vehicle_id == card.vehicle_id, Owed.state == OwedState.OPEN)
    said = []
    for row in session.exec(query):
        if row.redeemed_by_key == frozen.key:
            row.state, row.settled_by, row.settled_at = OwedState.DONE, act.by, act.at
            row.settled_for = f"task {key_of(task)}"
            session.add(row)
            said.append(f"No longer owed: {row.title}.")
    return tuple(said)


def take_back(session: Session, task: Task) -> None:
    """Undo what finishing a task did: its promises go while open, what it redeemed is owed again."""
    for row in session.exec(select(Owed).where(Owed.task_id == task.id, Owed.state == OwedState.OPEN)):
        session.delete(row)
    for row in session.exec(select(Owed).where(Owed.settled_for == f"task {key_of(task)}")):
        row.state, row.settled_by, row.settled_at, row.settled_for = OwedState.OPEN, None, None, ""
        session.add(row)


def _task_for(session: Session, row: Owed) -> Task | None:
    """Return the open task that keeps a promise, on this card of the vehicle or on a later one that took it on."""
    still = Task.key == row.redeemed_by_key, Task.state == "open"
    for_vehicle = Card.vehicle_id == row.vehicle_id, Card.state.not_in(("closed", "void"))  # type: ignore[attr-defined]
    query = select(Task).join(Card, Card.id == Task.card_id)  # type: ignore[arg-type]
    return session.exec(query.where(*still, *for_vehicle)).first()


def settle_owed(session: Session, act: Act, cmd: SettleOwed) -> Change:
    """Say a promised check was done, or waive it; waiving is by name and with a reason.

    Raises
    ------
    BadInput
        When the state is neither done nor waived, or the reason is missing.
    Refused
        When it is settled already, or a task on the card is there to do it.
    """
    row = get(session, Owed, cmd.owed_id, "owed check")
    if row.state != OwedState.OPEN:
        raise Refused(f"'{row.title}' is {row.state} already")
    if cmd.state not in {OwedState.DONE, OwedState.WAIVED}:
        raise BadInput(f"'{cmd.state}' is not a way to settle it", hint="Write done or waived.")
    if cmd.state == OwedState.DONE and row.redeemed_by_key:
        waiting = _task_for(session, row)
        if waiting:
            raise Refused(
                f"'{row.title}' is settled by doing '{waiting.title}'", hint="Do that task, or waive it."
            )
    row.settled_for = reason_given(cmd.reason, "settling a promised check")
    row.state, row.settled_by, row.settled_at = cmd.state, act.by, act.at
    session.add(row)
    return Change("owed", cmd.owed_id, row.card_id, said=(f"'{row.title}' is {row.state}.",))
