"""Times put right openly: with a reason, by the person whose time it is or the owner, never over other time of theirs."""

from datetime import UTC, datetime

from sqlmodel import Session, col, or_, select

from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.clock_commands import AddClock, CorrectClock, SplitClock, WorkedUntil
from shopcli.shop.common import get, key_of, person_name, reason_given, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.records import Break, Card, ClockEntry, Person, Task
from shopcli.shop.rights import is_owner

LONGEST_ENTRY_S = 24 * 3600


def see_may_correct(session: Session, act: Act, person_id: int) -> None:
    """Refuse a person who is neither the one whose time it is nor the owner.

    Raises
    ------
    Refused
        Naming whose time it is.
    """
    who = session.get(Person, act.by)
    if act.by != person_id and (who is None or not is_owner(who.role)):
        name = person_name(session, person_id)
        raise Refused(f"that is {name}'s time", hint=f"{name} corrects it, or the owner does.")


def see_span(act: Act, started: int, ended: int) -> None:
    """Refuse a stretch of time that cannot have been.

    Raises
    ------
    BadInput
        When it ends before it starts, in the future, or lasts more than a day.
    """
    if ended < started:
        raise BadInput("the end is before the start")
    if ended > act.at or ended - started > LONGEST_ENTRY_S:
        raise BadInput("a clock entry ends in the past and lasts a day at most")


def see_free(
    session: Session,
    act: Act,
    person_id: int,
    started: int,
    ended: int,
    *,
    but_entry: int | None = None,
    but_break: int | None = None,
) -> None:
    """Refuse a stretch that lies over other time of the same person.

    Raises
    ------
    Refused
        Naming the other time.
    """
    # Of years of somebody's time only what may lie over it is read.
    entries = select(ClockEntry).where(ClockEntry.person_id == person_id, ClockEntry.started_at < ended)
    entries = entries.where(or_(col(ClockEntry.ended_at).is_(None), col(ClockEntry.ended_at) > started))
    breaks = select(Break).where(Break.person_id == person_id, Break.started_at < ended)
    breaks = breaks.where(or_(col(Break.ended_at).is_(None), col(Break.ended_at) > started))
    others: list[tuple[ClockEntry | Break, str]] = [
        *((entry, "entry") for entry in session.exec(entries) if entry.id != but_entry),
        *((rest, "break") for rest in session.exec(breaks) if rest.id != but_break),
    ]
    zone = act.settings.tz()
    for other, word in others:
        end = other.ended_at if other.ended_at is not None else act.at
        if started < end and other.started_at < ended:
            since, until = (
                f"{datetime.fromtimestamp(t, UTC).astimezone(zone):%H:%M}" for t in (other.started_at, end)
            )
            title = get(session, Task, other.task_id, "task").title
            raise Refused(
                f"the corrected time overlaps another {word} of the same person: {since} to {until}, '{title}'",
                hint="Put that one right first.",
            )


def _see_settled(session: Session, card_id: int) -> Card:
    card = get(session, Card, card_id, "card")
    if card.state in {"closed", "void"}:
        raise Refused(f"card {card.number} is {card.state}; its times are settled")
    return card


def _times(entry: ClockEntry) -> dict[str, object]:
    return {"started_at": entry.started_at, "ended_at": entry.ended_at, "task_id": entry.task_id}


def correct_clock(session: Session, act: Act, cmd: CorrectClock) -> Change:
    """Correct an entry openly: the old times stay in the journal.

    Raises
    ------
    BadInput
        When the end is before the start, in the future, or the entry longer than a day.
    Refused
        When it is somebody else's time, the card is closed, or the times overlap another entry of the same person.
    """
    entry = get(session, ClockEntry, cmd.entry_id, "clock entry")
    see_may_correct(session, act, entry.person_id)
    _see_settled(session, entry.card_id)
    reason = reason_given(cmd.reason, "a correction")
    ended = entry.ended_at if cmd.ended_at is None else cmd.ended_at
    see_span(act, cmd.started_at, act.at if ended is None else ended)
    see_free(
        session,
        act,
        entry.person_id,
        cmd.started_at,
        act.at if ended is None else ended,
        but_entry=cmd.entry_id,
    )
    before = _times(entry)
    if cmd.task_id is not None and cmd.task_id != entry.task_id:
        _move(session, entry, cmd.task_id)
    entry.started_at, entry.ended_at, entry.corrected = cmd.started_at, ended, reason
    entry.stood_by = ended
    settle(session, act, cmd, entry, before, subject="clock", what="the time")
    session.add(entry)
    after = {**_times(entry), "reason": reason}
    return Change("clock", cmd.entry_id, entry.card_id, before, after, ("Time corrected.",))


def _move(session: Session, entry: ClockEntry, task_id: int) -> None:
    task = get(session, Task, task_id, "task")
    _see_settled(session, task.card_id)
    entry.task_id, entry.card_id = task_id, task.card_id


def split_clock(session: Session, act: Act, cmd: SplitClock) -> Change:
    """Split an entry in two; the later part may belong to another task.

    Raises
    ------
    BadInput
        When the moment does not lie within it.
    Refused
        When it is somebody else's time or a card is closed.
    """
    entry = get(session, ClockEntry, cmd.entry_id, "clock entry")
    see_may_correct(session, act, entry.person_id)
    card = _see_settled(session, entry.card_id)
    reason = reason_given(cmd.reason, "splitting time")
    end = act.at if entry.ended_at is None else entry.ended_at
    if not entry.started_at < cmd.at < end:
        raise BadInput(
            "the moment does not lie within that time", hint="Give one between its start and its end."
        )
    before = _times(entry)
    later = ClockEntry(
        person_id=entry.person_id,
        card_id=key_of(card),
        task_id=entry.task_id,
        started_at=cmd.at,
        ended_at=entry.ended_at,
        corrected=reason,
        stood_by=entry.ended_at,
    )
    if cmd.task_id is not None:
        _move(session, later, cmd.task_id)
    entry.ended_at, entry.corrected, entry.stood_by = cmd.at, reason, cmd.at
    session.add(entry)
    session.flush()  # the first part ends before the second may be open: one open clock a person
    key = key_of(saved(session, later))
    after = {**_times(entry), "then": _times(later), "reason": reason}
    return Change("clock", key, later.card_id, before, after, ("Time split.",))


def add_clock(session: Session, act: Act, cmd: AddClock) -> Change:
    """Add time that was forgotten.

    Raises
    ------
    BadInput
        When the times are none an entry can have.
    Refused
        When it is for somebody else, the card is closed, or it overlaps other time of the same person.
    """
    person = act.by if cmd.person_id is None else cmd.person_id
    see_may_correct(session, act, person)
    task = get(session, Task, cmd.task_id, "task")
    _see_settled(session, task.card_id)
    reason = reason_given(cmd.reason, "adding time")
    see_span(act, cmd.started_at, cmd.ended_at)
    if cmd.ended_at == cmd.started_at:
        raise BadInput("that is no time at all", hint="Give a start and a later end.")
    see_free(session, act, person, cmd.started_at, cmd.ended_at)
    entry = saved(
        session,
        ClockEntry(
            person_id=person,
            card_id=task.card_id,
            task_id=cmd.task_id,
            started_at=cmd.started_at,
            ended_at=cmd.ended_at,
            corrected=reason,
            stood_by=cmd.ended_at,
        ),
    )
    minutes = (cmd.ended_at - cmd.started_at) // 60
    said = f"{minutes} min added on '{task.title}'."
    return Change(
        "clock", key_of(entry), task.card_id, after={**_times(entry), "reason": reason}, said=(said,)
    )


def worked_until(session: Session, act: Act, cmd: WorkedUntil) -> Change:
    """Answer until when one was really on a task; without an end, all of it was work.

    Raises
    ------
    BadInput
        When the moment lies outside the entry.
    Refused
        When it is somebody else's time, or the card was closed meanwhile and the time would change.
    """
    entry = get(session, ClockEntry, cmd.entry_id, "clock entry")
    see_may_correct(session, act, entry.person_id)
    title = get(session, Task, entry.task_id, "task").title
    end = act.at if entry.ended_at is None else entry.ended_at
    before = _times(entry)
    if cmd.until is None:
        entry.stood_by = end
        session.add(entry)
        after: dict[str, object] = {"stood_by": end}
        said = f"The time on '{title}' stands: worked through."
    else:
        _see_settled(session, entry.card_id)
        if not entry.started_at <= cmd.until <= end:
            raise BadInput(
                "that is not within the time the clock ran", hint="Give a time between its start and now."
            )
        entry.ended_at = entry.stood_by = cmd.until
        entry.corrected = "told afterwards until when it was work"
        session.add(entry)
        after = _times(entry)
        local = datetime.fromtimestamp(cmd.until, UTC).astimezone(act.settings.tz())
        said = f"The time on '{title}' ends at {local:%H:%M}: {(cmd.until - entry.started_at) // 60} min."
    return Change("clock", cmd.entry_id, entry.card_id, before, after, (said,))
