"""Breaks: off the clock and on again on the same task. The time between is kept, and is never work."""

from sqlmodel import Session, select

from shopcli.errors import Refused
from shopcli.shop import clock
from shopcli.shop.act import Act, Change
from shopcli.shop.clock_commands import ClockOn, CorrectBreak, EndBreak, GoOnBreak
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.corrections import see_free, see_may_correct, see_span
from shopcli.shop.meanwhile import settle
from shopcli.shop.records import Break, Task


def open_break(session: Session, person_id: int) -> Break | None:
    """Return the break somebody is on."""
    query = select(Break).where(Break.person_id == person_id, Break.ended_at == None)  # noqa: E711
    return session.exec(query).first()


def end_any(session: Session, act: Act, person_id: int) -> tuple[str, ...]:
    """End the break somebody is on, if any, and say so."""
    there = open_break(session, person_id)
    if there is None:
        return ()
    there.ended_at = max(act.at, there.started_at)
    session.add(there)
    session.flush()
    return (f"Break over after {(there.ended_at - there.started_at) // 60} min.",)


def go_on_break(session: Session, act: Act, _cmd: GoOnBreak) -> Change:
    """Stop the acting person's clock and begin a break.

    Raises
    ------
    Refused
        When no clock of theirs runs, or they are on a break already.
    """
    entry = clock.running(session, act.by)
    if entry is None:
        if open_break(session, act.by):
            raise Refused("you are on a break already", hint="b ends it and starts your clock again.")
        raise Refused("your clock is not running", hint="c starts it on the task in hand.")
    said = clock.stop(session, act, entry)
    begun = saved(
        session,
        Break(person_id=act.by, card_id=entry.card_id, task_id=entry.task_id, started_at=act.at),
    )
    return Change("break", key_of(begun), entry.card_id, said=("On a break.", said))


def end_break(session: Session, act: Act, _cmd: EndBreak) -> Change:
    """End the break and start the clock again on the task it was taken from.

    Raises
    ------
    Refused
        When there is no break, or the task is not to be worked on any more.
    """
    there = open_break(session, act.by)
    if there is None:
        raise Refused("you are not on a break")
    title = get(session, Task, there.task_id, "task").title
    try:
        change = clock.clock_on(session, act, ClockOn(there.task_id))
    except Refused as error:
        hint = f"{error.hint} c on another task ends the break."
        raise Refused(f"'{title}' cannot go on: {error.message}", hint=hint.strip()) from error
    return Change("break", key_of(there), there.card_id, said=change.said)


def correct_break(session: Session, act: Act, cmd: CorrectBreak) -> Change:
    """Correct a break openly.

    Raises
    ------
    BadInput
        When the times are none a break can have.
    Refused
        When it is somebody else's, or overlaps other time of theirs.
    """
    row = get(session, Break, cmd.break_id, "break")
    see_may_correct(session, act, row.person_id)
    reason = reason_given(cmd.reason, "a correction")
    see_span(act, cmd.started_at, cmd.ended_at)
    see_free(session, act, row.person_id, cmd.started_at, cmd.ended_at, but_break=cmd.break_id)
    before = {"started_at": row.started_at, "ended_at": row.ended_at}
    row.started_at, row.ended_at, row.corrected = cmd.started_at, cmd.ended_at, reason
    settle(session, act, cmd, row, before, subject="break", what="the break")
    session.add(row)
    after = {"started_at": cmd.started_at, "ended_at": cmd.ended_at, "reason": reason}
    return Change("break", cmd.break_id, row.card_id, before, after, ("Break corrected.",))
