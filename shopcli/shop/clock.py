"""The clock: one person on one task, never lost. What was forgotten is put right in `corrections`, openly.

An open entry is a row without an end. The database itself allows one open row a person, so two terminals
cannot start two clocks for one pair of hands.
"""

from sqlmodel import Session, select

from shopcli.errors import Refused
from shopcli.shop import tags
from shopcli.shop.act import Act, Change
from shopcli.shop.authority import on_starting
from shopcli.shop.before import too_early
from shopcli.shop.clock_commands import ClockOff, ClockOn
from shopcli.shop.common import get, key_of, saved, task_for_work
from shopcli.shop.fetch import fetcher
from shopcli.shop.records import Card, ClockEntry, Person, Task
from shopcli.shop.states import CardState, TaskState
from shopcli.worklists.freeze import thawed


def running(session: Session, person_id: int) -> ClockEntry | None:
    """Return the open entry of a person."""
    query = select(ClockEntry).where(ClockEntry.person_id == person_id, ClockEntry.ended_at == None)  # noqa: E711
    return session.exec(query).first()


def stop(session: Session, act: Act, entry: ClockEntry) -> str:
    """End an entry now and say so."""
    # A clock set back must not make an entry end before it began.
    entry.ended_at = max(act.at, entry.started_at)
    session.add(entry)
    session.flush()
    minutes = (entry.ended_at - entry.started_at) // 60
    title = get(session, Task, entry.task_id, "task").title
    return f"Clock stopped on '{title}' after {minutes} min."


def clock_on(session: Session, act: Act, cmd: ClockOn) -> Change:
    """Start the acting person's clock on a task, stopping theirs on any other at the same second; a break ends.

    Raises
    ------
    Barred
        When a tag on the vehicle bars the task; the task that lifts the tag is not barred by it.
    Refused
        When the task was left out.
    """
    from shopcli.shop.breaks import end_any

    was = get(session, Card, get(session, Task, cmd.task_id, "task").card_id, "card").state
    task, card = task_for_work(session, cmd.task_id)
    if task.state == TaskState.LEFT_OUT:
        raise Refused(f"'{task.title}' was left out", hint="Take it back first.")
    early: tuple[str, ...] = ()
    if task.state == TaskState.OPEN:
        frozen = thawed(task.frozen)
        tags.see_not_barred(session, act, card.vehicle_id, frozen)
        early = too_early(session, card.vehicle_id, task, frozen)
    get(session, Person, act.by, "person")
    said = end_any(session, act, act.by)
    entry = running(session, act.by)
    if entry and entry.task_id == cmd.task_id:
        return Change("clock", key_of(entry), card.id, said=("Your clock already runs on this task.",))
    if entry:
        said = (stop(session, act, entry),)
    started = saved(
        session, ClockEntry(person_id=act.by, card_id=key_of(card), task_id=cmd.task_id, started_at=act.at)
    )
    warned = on_starting(fetcher(session), act.settings, act.at, cmd.task_id)
    said = (*said, f"Clock running on '{task.title}'.", *warned, *early)
    if task.state == TaskState.DONE:
        said = (*said, "It is done already and stays so.")
    if was == CardState.CHECKED:
        said = (*said, f"Card {card.number} was checked; it is in hand again.")
    return Change("clock", key_of(started), card.id, said=said)


def clock_off(session: Session, act: Act, _cmd: ClockOff) -> Change:
    """Stop the acting person's clock, or end the break they are on and leave it off.

    Raises
    ------
    Refused
        When none runs.
    """
    from shopcli.shop.breaks import end_any, open_break

    entry = running(session, act.by)
    if entry is None:
        there = open_break(session, act.by)
        if there is None:
            raise Refused("your clock is not running")
        over = end_any(session, act, act.by)
        return Change("break", key_of(there), there.card_id, said=(*over, "Your clock is off."))
    said = stop(session, act, entry)
    return Change("clock", key_of(entry), entry.card_id, said=(said,))
