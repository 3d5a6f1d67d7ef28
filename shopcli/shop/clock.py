"""The clock: one person on one task, never lost, corrected only openly.

An open entry is a row without an end. The database itself allows one open row a person, so two terminals
cannot start two clocks for one pair of hands.
"""

from sqlmodel import Session, select

from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.commands import ClockOff, ClockOn, CorrectClock
from shopcli.shop.common import get, key_of, reason_given, saved, task_for_work
from shopcli.shop.records import Card, ClockEntry, Person, Task

LONGEST_ENTRY_S = 24 * 3600


def running(session: Session, person_id: int) -> ClockEntry | None:
    """Return the open entry of a person."""
    query = select(ClockEntry).where(ClockEntry.person_id == person_id, ClockEntry.ended_at == None)  # noqa: E711
    return session.exec(query).first()


def _stop(session: Session, act: Act, entry: ClockEntry) -> str:
    # A clock set back must not make an entry end before it began.
    entry.ended_at = max(act.at, entry.started_at)
    session.add(entry)
    session.flush()
    minutes = (entry.ended_at - entry.started_at) // 60
    title = get(session, Task, entry.task_id, "task").title
    return f"Clock stopped on '{title}' after {minutes} min."


def clock_on(session: Session, act: Act, cmd: ClockOn) -> Change:
    """Start the acting person's clock on a task, stopping theirs on any other at the same second."""
    task, card = task_for_work(session, cmd.task_id)
    if task.state == "left out":
        raise Refused(f"'{task.title}' was left out", hint="Take it back first.")
    get(session, Person, act.by, "person")
    said: tuple[str, ...] = ()
    entry = running(session, act.by)
    if entry and entry.task_id == cmd.task_id:
        return Change("clock", key_of(entry), card.id, said=("Your clock already runs on this task.",))
    if entry:
        said = (_stop(session, act, entry),)
    started = saved(
        session, ClockEntry(person_id=act.by, card_id=key_of(card), task_id=cmd.task_id, started_at=act.at)
    )
    return Change("clock", key_of(started), card.id, said=(*said, f"Clock running on '{task.title}'."))


def clock_off(session: Session, act: Act, _cmd: ClockOff) -> Change:
    """Stop the acting person's clock.

    Raises
    ------
    Refused
        When none runs.
    """
    entry = running(session, act.by)
    if entry is None:
        raise Refused("your clock is not running")
    said = _stop(session, act, entry)
    return Change("clock", key_of(entry), entry.card_id, said=(said,))


def correct_clock(session: Session, act: Act, cmd: CorrectClock) -> Change:
    """Correct an entry openly: the old times stay in the journal.

    Raises
    ------
    BadInput
        When the end is before the start, in the future, or the entry longer than a day.
    Refused
        When the card is closed, or the times overlap another entry of the same person.
    """
    entry = get(session, ClockEntry, cmd.entry_id, "clock entry")
    card = get(session, Card, entry.card_id, "card")
    if card.state in {"closed", "void"}:
        raise Refused(f"card {card.number} is {card.state}; its times are settled")
    reason = reason_given(cmd.reason, "a correction")
    end = act.at if cmd.ended_at is None else cmd.ended_at
    if end < cmd.started_at:
        raise BadInput("the end is before the start")
    if end > act.at or end - cmd.started_at > LONGEST_ENTRY_S:
        raise BadInput("a clock entry ends in the past and lasts a day at most")
    query = select(ClockEntry).where(ClockEntry.person_id == entry.person_id, ClockEntry.id != entry.id)
    for other in session.exec(query):
        other_end = other.ended_at if other.ended_at is not None else act.at
        if cmd.started_at < other_end and other.started_at < end:
            raise Refused("the corrected time overlaps another entry of the same person")
    before = {"started_at": entry.started_at, "ended_at": entry.ended_at}
    entry.started_at, entry.ended_at, entry.corrected = cmd.started_at, cmd.ended_at, reason
    session.add(entry)
    after = {"started_at": cmd.started_at, "ended_at": cmd.ended_at, "reason": reason}
    return Change("clock", cmd.entry_id, entry.card_id, before, after, ("Time corrected.",))
