"""The acts of the bench that ask something first: one question at a time, Esc at any of them changes nothing."""

from typing import TYPE_CHECKING

from shopcli.car_words import owed_words, stop_told, tag_words
from shopcli.screens.bench.choosing import missing_left, settled, wants_second
from shopcli.screens.bench.readingwords import slot_label, with_unit
from shopcli.screens.bench.wording import open_owed, outcome
from shopcli.screens.dialogs import Choice
from shopcli.shop.bench_commands import (
    FinishTask,
    LeaveOut,
    LiftTag,
    ReopenTask,
    SecondCheck,
    SettleOwed,
)
from shopcli.shop.clock_commands import ClockOn
from shopcli.shop.reasons import reason_in_words
from shopcli.shop.views import OwedView, TagView, TaskView

if TYPE_CHECKING:
    from shopcli.screens.bench.entry import ReadingEntry
    from shopcli.screens.bench.station import BenchScreen


async def take_its_place(bench: "BenchScreen", typed: "ReadingEntry.Typed", before: str) -> None:
    """Ask before a reading takes the place of another; left alone, what was typed stays in the field."""
    note = "The old one is struck, not lost. Esc goes back to the field."
    if await bench.ask_yes(f"{before}. Put {with_unit(typed.text, typed.unit)} in its place?", note=note):
        bench.keep_reading(typed)
    else:
        bench.begin_reading(typed.text, typed.slot)


async def clock_on_checked(bench: "BenchScreen", task: TaskView) -> None:
    """Ask before a clock takes a card in hand again that is ready to be closed."""
    number = bench.view.number if bench.view else ""
    note = "y starts your clock and takes the card in hand again; it has to be checked once more before it closes."
    if await bench.ask_yes(f"Card {number} is checked and ready to close. Work on it again?", note=note):
        bench.carry_out(ClockOn(task.id))


async def clock_on_done(bench: "BenchScreen", task: TaskView) -> None:
    """Ask before a clock starts on what is done: it is more often the wrong task than forgotten time."""
    note = "y starts your clock on it, and it stays done. Esc goes back; u opens it again."
    if await bench.ask_yes(f"'{task.task.title}' is done already. Start your clock on it?", note=note):
        bench.carry_out(ClockOn(task.id))


async def leave_out(bench: "BenchScreen", task: TaskView) -> None:
    """Leave a task out, with a reason the customer may read."""
    reason = await bench.ask_text(f"Leave out: {task.task.title}", note="Why? The customer may read it.")
    if reason is not None:
        bench.carry_out(LeaveOut(task.id, reason))


async def note_for_missing(bench: "BenchScreen", task: TaskView, refused: str) -> None:
    """Offer the way out of a task that wants readings which cannot be taken."""
    missing = ", ".join(slot_label(task.task, slot) for slot in missing_left(task))
    note = await bench.ask_text(
        refused,
        note=f"Esc goes back to type {missing}. Or write here why there is no reading, and the task is done so.",
    )
    if note is not None:
        bench.carry_out(FinishTask(task.id, note))


async def take_back(bench: "BenchScreen", task: TaskView | None) -> None:
    """Take back a task that is done or left out: the one in hand, else one of those settled."""
    if task is None or task.state == "open":
        ended = settled(bench.view) if bench.view else ()
        if not ended:
            bench.refuse("No task of this card is done or left out yet; there is nothing to take back.")
            return
        choices = [Choice(str(t.id), t.task.title, outcome(t)[0]) for t in ended]
        key = await bench.ask_pick("Take back which task?", choices, note="The latest stands first.")
        task = next((t for t in ended if str(t.id) == key), None)
    if task is None:
        return
    second = " The second check is taken back with it." if task.second_by else ""
    reason = await bench.ask_text(
        f"Take back: {task.task.title}",
        note=f"Its tags and owed checks are taken back too.{second} Why? It may stay empty; Enter opens the task again.",
        allow_empty=True,
    )
    if reason is not None:
        bench.carry_out(ReopenTask(task.id, reason))
        bench.choose_task(task.id)


async def finding(bench: "BenchScreen", task: TaskView | None) -> None:
    """Write down a fault seen: where, what, how bad, what it would take."""
    if bench.view is None:
        return
    from shopcli.screens.bench.findingform import FindingForm

    seen = await bench.app.push_screen_wait(FindingForm(bench.desk_app.shop, bench.view, task))
    if seen is not None:
        bench.carry_out(seen)


async def second_check(bench: "BenchScreen", task: TaskView | None) -> None:
    """Ask who signs as the second pair of eyes; the act is theirs."""
    if bench.view is None:
        return
    waiting = wants_second(bench.view)
    if task is None or task.id not in {t.id for t in waiting}:
        if not waiting:
            bench.refuse("No done task of this card waits for a second check.")
            return
        key = await bench.ask_pick(
            "Second check of which task?", [Choice(str(t.id), t.task.title, outcome(t)[0]) for t in waiting]
        )
        task = next((t for t in waiting if str(t.id) == key), None)
    if task is None:
        return
    others = [p for p in bench.everybody() if p.name != task.done_by]
    choices = [Choice(str(p.id), p.name, p.role) for p in others]
    note = f"Done by {task.done_by}. Whoever signs has looked at it and did not do it."
    who = await bench.ask_pick(f"Who signs: {task.task.title}?", choices, note=note)
    if who is not None:
        bench.carry_out_as(SecondCheck(task.id), int(who))


async def tags_and_owed(bench: "BenchScreen") -> None:
    """Show every tag and owed check; lift or settle one."""
    view = bench.view
    if view is None:
        return
    owed = open_owed(view)
    forbids = [f"⊠ {stop_told(f)}." for f in view.stops]
    if not view.tags and not owed:
        none = "No tag hangs on the vehicle and nothing is owed."
        bench.refuse(" ".join((*forbids, none)))
        return
    choices = [Choice(f"tag:{t.id}", f"⊠ {tag_words(t)}", t.says) for t in view.tags]
    choices += [Choice(f"owed:{o.id}", owed_words(o, view.distance_unit), o.task) for o in owed]
    key = await bench.ask_pick(
        "Tags on the vehicle, and what is owed",
        choices,
        note="\n".join((*forbids, "Enter lifts or settles one.")),
    )
    tag = next((t for t in view.tags if key == f"tag:{t.id}"), None)
    check = next((o for o in owed if key == f"owed:{o.id}"), None)
    if tag is not None:
        await _lift(bench, tag)
    elif check is not None:
        await _settle(bench, check)


async def _lift(bench: "BenchScreen", tag: TagView) -> None:
    note = f"{tag.says} The task that lifts it is the usual way. By hand it wants a reason in words."
    if not await bench.ask_yes(f"Lift by hand: {tag.name}?", note=note):
        return
    reason = await bench.ask_text(
        f"Lift by hand: {tag.name}",
        note="Why by hand?",
        check=lambda text: reason_in_words(text, "lifting it by hand"),
    )
    if reason is not None:
        bench.carry_out(LiftTag(tag.id, reason))


async def _settle(bench: "BenchScreen", owed: OwedView) -> None:
    choices = [
        Choice("done", "Done", "the check was made"),
        Choice("waived", "Waived", "it is not made; by name and with a reason"),
    ]
    state = await bench.ask_pick(f"Owed: {owed.title}", choices)
    if state is None:
        return
    question = "What was found?" if state == "done" else "Why is it waived?"
    reason = await bench.ask_text(question, note=owed.title)
    if reason is not None:
        bench.carry_out(SettleOwed(owed.id, state, reason))
