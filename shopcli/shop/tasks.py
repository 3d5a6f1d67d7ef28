"""Tasks: done, left out, taken back, seen by a second person."""

from sqlmodel import Session, select

from shopcli.cleantext import clean_line
from shopcli.errors import Refused
from shopcli.shop import findings, owed, tags
from shopcli.shop.act import Act, Change
from shopcli.shop.before import see_what_is_before, still_hung
from shopcli.shop.bench_commands import FinishTask, LeaveOut, NoteOnTask, ReopenTask, SecondCheck
from shopcli.shop.common import get, key_of, person_name, reason_given, task_for_work
from shopcli.shop.fetch import fetcher
from shopcli.shop.meanwhile import settle
from shopcli.shop.parts_here import still_wanted
from shopcli.shop.readings import place
from shopcli.shop.records import ClockEntry, Person, Reading, Task
from shopcli.shop.states import TASK_MOVES, TaskState, move
from shopcli.shop.undo_words import stays
from shopcli.shop.views import OUTSIDE
from shopcli.worklists.freeze import thawed
from shopcli.worklists.model import Task as Frozen

SMALL_STEP = 5  # [min] listed; a step below this is clocked on the big one beside it


def _settle_clocks(session: Session, act: Act, task: Task) -> tuple[str, ...]:
    query = select(ClockEntry).where(ClockEntry.task_id == task.id, ClockEntry.ended_at == None)  # noqa: E711
    said = []
    for entry in session.exec(query):
        if entry.person_id != act.by:
            continue
        entry.ended_at = max(act.at, entry.started_at)
        session.add(entry)
        said.append(f"Clock stopped for {person_name(session, entry.person_id)}.")
    return tuple(said)


def _unclocked(session: Session, act: Act, task: Task, frozen: Frozen) -> tuple[str, ...]:
    """Say that nobody's time is on a task: it would be missing from the bill and from what is learned of it.

    Nothing is said of a small step, nor while a clock of whoever says it runs: its time is on the big one beside it.
    """
    if frozen.minutes < SMALL_STEP:
        return ()
    runs = (ClockEntry.person_id == act.by) & (ClockEntry.ended_at == None)  # noqa: E711
    there = select(ClockEntry.id).where((ClockEntry.task_id == task.id) | runs)
    return () if session.exec(there).first() is not None else ("No time is clocked on it.",)


def _readings_missing(session: Session, task: Task, frozen: Frozen) -> list[str]:
    asked = [s for s in frozen.readings if s.phase == "as left"]
    if not asked:
        return []
    query = select(Reading.slot).where(Reading.task_id == task.id, Reading.struck_at == None)  # noqa: E711
    there = set(session.exec(query))
    return [place(s.name, s.label) for s in asked if s.key not in there]


def _out_of_limits(session: Session, task: Task) -> tuple[str, ...]:
    """Say which readings are left out of their limits."""
    left = Reading.task_id == task.id, Reading.struck_at == None, Reading.phase == "as left"  # noqa: E711
    rows = session.exec(select(Reading).where(*left).order_by(Reading.id)).all()  # type: ignore[arg-type]
    return tuple(
        f"Left out of limits: {place(r.name, r.label)} {r.typed}, {r.verdict}."
        for r in rows
        if r.standing in OUTSIDE
    )


def finish_task(session: Session, act: Act, cmd: FinishTask) -> Change:
    """Say a task is done.

    Raises
    ------
    Barred
        When a tag on the vehicle bars it.
    Refused
        When readings as left are missing and no note says why, when it takes a tag off the car while something that
        comes before it is open, or it is settled already.
    """
    task, card = task_for_work(session, cmd.task_id)
    frozen = thawed(task.frozen)
    move(f"'{task.title}'", TASK_MOVES, TaskState(task.state), TaskState.DONE)
    tags.see_not_barred(session, act, card.vehicle_id, frozen)
    note = clean_line(cmd.note, name="note", limit=400)
    missing = _readings_missing(session, task, frozen)
    if missing and not note:
        raise Refused(
            f"'{task.title}' still wants: " + ", ".join(missing),
            hint="Type the reading, or finish with a note that says why there is none.",
        )
    said = see_what_is_before(session, card.vehicle_id, task, frozen)
    task.state, task.done_by, task.done_at = TaskState.DONE, act.by, act.at
    if note:
        task.note = _beside(task.note, note)
    session.add(task)
    said += _settle_clocks(session, act, task)
    said += tags.lift(session, act, card, task, frozen.lifts)
    said += tags.hang(session, act, card, task, frozen.hangs)
    said += owed.redeem(session, act, task, frozen)
    said += findings.put_right(session, act, task)
    said += owed.promise(session, act, card, task, frozen.owes)
    if frozen.second:
        said += ("A second person has to check this before the car moves.",)
    wanted = still_wanted(fetcher(session), task.card_id, cmd.task_id, frozen)
    said += (f"Still wanted: {', '.join(wanted)}.",) if wanted else ()
    outside = _out_of_limits(session, task)
    done = "Done, out of limits" if outside else "Done"
    first = (f"{done}: {task.title}.", *outside, *_unclocked(session, act, task, frozen))
    return Change("task", cmd.task_id, task.card_id, said=(*first, *said))


def leave_out(session: Session, act: Act, cmd: LeaveOut) -> Change:
    """Leave a task out, with a reason the customer may read."""
    task, card = task_for_work(session, cmd.task_id)
    move(f"'{task.title}'", TASK_MOVES, TaskState(task.state), TaskState.LEFT_OUT)
    task.left_out_for = reason_given(cmd.reason, "leaving a task out")
    task.state, task.done_by, task.done_at = TaskState.LEFT_OUT, act.by, act.at
    session.add(task)
    said = _settle_clocks(session, act, task)
    hung = still_hung(session, card.vehicle_id, thawed(task.frozen))
    said += tuple(f"The tag {name} still hangs: it was to come off with this task." for name in hung)
    return Change("task", cmd.task_id, task.card_id, said=(f"Left out: {task.title}.", *said))


def reopen_task(session: Session, act: Act, cmd: ReopenTask) -> Change:
    """Take back done or left out, with everything that came of it."""
    task, _card = task_for_work(session, cmd.task_id)
    before = {"state": task.state, "done_by": task.done_by, "second_by": task.second_by}
    move(f"'{task.title}'", TASK_MOVES, TaskState(task.state), TaskState.OPEN)
    tags.take_back(session, act, task)
    owed.take_back(session, task)
    findings.take_back(session, task)
    task.state, task.done_by, task.done_at, task.left_out_for = TaskState.OPEN, None, None, ""
    task.second_by = task.second_at = None
    session.add(task)
    after = {"state": task.state, "reason": clean_line(cmd.reason)}
    staying = stays(fetcher(session), cmd.task_id)
    said = (f"Taken back: {task.title}.", *((staying,) if staying else ()))
    return Change("task", cmd.task_id, task.card_id, before, after, said)


def second_check(session: Session, act: Act, cmd: SecondCheck) -> Change:
    """Sign for a second pair of eyes: only on a done task, only by somebody else.

    Raises
    ------
    Refused
        When the task is not done, wants no second check, the same person did the work, or whoever signs does not
        work here any more.
    """
    task, _card = task_for_work(session, cmd.task_id)
    if not task.second:
        raise Refused(f"'{task.title}' wants no second check")
    if not get(session, Person, act.by, "person").active:
        name = person_name(session, act.by)
        raise Refused(f"{name} does not work here now", hint="Ask a colleague who does to sign.")
    if task.state != TaskState.DONE:
        raise Refused(f"'{task.title}' is not done yet", hint="Check it when the work is done.")
    worked = select(ClockEntry.person_id).where(ClockEntry.task_id == key_of(task))
    if act.by == task.done_by or act.by in set(session.exec(worked)):
        raise Refused(
            "the second check is for somebody who did not do the work", hint="Ask a colleague to sign."
        )
    task.second_by, task.second_at = act.by, act.at
    session.add(task)
    said = f"Checked by {person_name(session, act.by)}: {task.title}."
    return Change("task", cmd.task_id, task.card_id, said=(said,))


def _beside(before: str, note: str) -> str:
    """Return a note with what was noted on the task before: nobody's words go because another says it is done."""
    return note if not before or before in note else before if note in before else f"{before}; {note}"


def note_on_task(session: Session, act: Act, cmd: NoteOnTask) -> Change:
    """Write a note on a task."""
    task, _card = task_for_work(session, cmd.task_id)
    before = {"note": task.note}
    task.note = clean_line(cmd.note, name="note", limit=400)
    settle(session, act, cmd, task, before, subject="task", what=f"the note on '{task.title}'")
    session.add(task)
    return Change("task", cmd.task_id, task.card_id, before, said=("Noted.",))
