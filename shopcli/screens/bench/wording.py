"""The bench in words: what stands in the list, beside the readings, below the task. Values in, text out."""

from collections.abc import Collection, Sequence

from shopcli.car_words import tag_words
from shopcli.columns import shown
from shopcli.errors import ShopError
from shopcli.marks import TASK_MARKS, Mark
from shopcli.present import day, h_mm, part_state
from shopcli.screens.bench.choosing import barring_tags, empty_slots, missing_left
from shopcli.screens.bench.readingwords import out_words, slot_label
from shopcli.shop.parts_here import is_for
from shopcli.shop.views import CardView, OwedView, PartLineView, TagView, TaskView
from shopcli.worklists.model import ReadingSlot

OPENS_AGAIN = "u opens it again."
STATE_STYLE = {
    "open": "",
    "running": "bold $text-accent",
    "barred": "$text-error",
    "done": "$text-success",
    "done out of limits": "bold $text-warning",
    "left out": "$foreground-muted",
}


# Tasks ------------------------------------------------------------------------------------------------


def task_state_name(task: TaskView) -> str:
    """Return the state as it is shown: an open task may be barred, whatever the clock does, or running."""
    if task.state == "done" and task.left_out_of_limits:
        return "done out of limits"
    if task.state != "open":
        return task.state
    return "barred" if task.barred_by else "running" if task.running else "open"


def task_mark(task: TaskView) -> Mark:
    """Return sign and word of a task's state."""
    name = task_state_name(task)
    return TASK_MARKS.get(name, Mark("?", "?", name))


def minutes(count: int) -> str:
    """Return expected minutes.

    Examples
    --------
    >>> minutes(12), minutes(150), minutes(0)
    ('12 min', '2 h 30', '')
    """
    if count < 100:  # noqa: PLR2004 - as the trade says it
        return f"{count} min" if count else ""
    return f"{count // 60} h {count % 60:02d}"


def barred_words(view: CardView, task: TaskView) -> str:
    """Say what bars a task, who hung it and when."""
    return "; ".join(f"{shown(t.says)} ({tag_words(t)})" for t in barring_tags(view, task))


def lifted_by(view: CardView, task: TaskView) -> str:
    """Say which open tasks of the card lift what bars a task, and what has to be done before these."""
    still = [t for t in view.tasks if t.state == "open"]
    lifting = [t for t in still if set(t.task.lifts) & set(task.barred_by)]
    if not lifting:
        return "No task of this card lifts it: t."
    before = {key for t in lifting for key in t.task.after}
    first = [t for t in still if t.task.key in before and t not in lifting]
    steps = [*first, *lifting]
    return shown("First: " + "; then ".join(f"'{t.task.title}'" for t in steps) + ".")


def circumstances(task: TaskView) -> str:
    """Return place, time and what the task needs the car to be."""
    step = task.task
    waits = f"then {minutes(step.waits)} wait" if step.waits else ""
    return shown(" · ".join(filter(None, (step.place, minutes(step.minutes), waits, *step.needs))))


def outcome(task: TaskView) -> list[str]:
    """Say how a task ended, who checked it and what was noted."""
    lines = []
    when = f" {task.done_at:%H:%M}, {day(task.done_at.date())}" if task.done_at else ""
    if task.state == "done":
        left = "; ".join(map(out_words, task.left_out_of_limits))
        done = f"! done, out of limits, by {task.done_by}{when}: {left}"
        lines.append(done if left else f"✓ done by {task.done_by}{when}")
    elif task.state == "left out":
        lines.append(f"⊘ left out by {task.done_by}{when}: {task.left_out_for}")
    if task.second_by:
        lines.append(f"✓ second check by {task.second_by}")
    elif task.task.second:
        ready = "now: v" if task.state == "done" else "when it is done"
        lines.append(f"! wants a second person's check, {ready}")
    if task.note:
        lines.append(f"Note: {task.note}")
    return [shown(line) for line in lines]


def already(task: TaskView) -> str:
    """Say of a settled task that it is, and the way back."""
    return f"Already {outcome(task)[0].partition(' ')[2]}. {OPENS_AGAIN}"


def refusal(error: Exception) -> str:
    """Return an error as words: what kind, what exactly, the way out."""
    if isinstance(error, ShopError):
        end = "" if error.message.endswith((".", "?", "!")) else "."
        colon = "" if error.title.endswith("?") else ":"
        return shown(f"{error.title}{colon} {error.message}{end} {error.hint}".strip())
    return shown(f"Something went wrong: {type(error).__name__}: {error}. Nothing was changed by it.")


# Beneath the task -------------------------------------------------------------------------------------


def tag_in_short(tag: TagView) -> str:
    """Say a tag, who hung it and when, where there is little room."""
    return shown(f"{tag.name} ({tag.hung_by}, {day(tag.hung_at.date())} {tag.hung_at:%H:%M})")


def is_of_task(part: PartLineView, task: TaskView | None) -> bool:
    """Whether a part of the card belongs to a task: put on it, or named in its kit."""
    if task is None:
        return False
    return part.task_id == task.id or is_for(task.task, part.description, part.number)


def parts_in_short(view: CardView, task: TaskView | None) -> str:
    """Say the parts the task waits for; those of other tasks can wait too."""
    waited = [p for p in view.parts if p.state in {"wanted", "on order"} and is_of_task(p, task)]
    return (
        shown("parts: " + ", ".join(f"{part_state(p.state)} {p.description}" for p in waited))
        if waited
        else ""
    )


def parts_of(view: CardView, task: TaskView | None) -> tuple[PartLineView, ...]:
    """Return the parts of a card, those of the task first, those waited for before those settled."""

    def rank(part: PartLineView) -> tuple[bool, bool, int]:
        return (not is_of_task(part, task), part.state not in {"wanted", "on order"}, part.id)

    return tuple(sorted(view.parts, key=rank))


def open_owed(view: CardView) -> tuple[OwedView, ...]:
    """Return the checks still owed, those for later last."""
    still = [o for o in view.owed if o.state == "owed"]
    return tuple(sorted(still, key=lambda o: (o.for_later, o.before != "hand-over", o.id)))


# The clock and the line of hints ----------------------------------------------------------------------


def running_time(seconds: int) -> str:
    """Return a running time to the second.

    Examples
    --------
    >>> running_time(7505)
    '2:05:05'
    """
    return f"{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def of_expected(seconds: int, expected: int) -> str:
    """Return time against what was expected, in hours and minutes."""
    return f"{h_mm(seconds)} of {h_mm(expected * 60)}" if expected else h_mm(seconds)


def names(people: Sequence[str]) -> str:
    """Return names with commas.

    Examples
    --------
    >>> names(("Tom", "Nell"))
    'Tom, Nell'
    """
    return shown(", ".join(people))


def hint(
    view: CardView, task: TaskView, pending: Collection[str] = (), following: ReadingSlot | None = None
) -> str:
    """Say what the next key would be, where nothing else has to be said; `following` is where the arrow stands."""
    if view.state in {"closed", "void"}:
        return f"Card {view.number} is {view.state}; nothing on it can change. F5 goes to the desk."
    if view.state == "held":
        return shown(f"Card {view.number} is held: {view.held_for}. The desk takes it in hand again (F5).")
    if task.state != "open":
        return f"{outcome(task)[0]}. {OPENS_AGAIN}"
    if task.barred_by:
        return f"⊠ Barred by {names(task.barred_by)}. {lifted_by(view, task)}"
    if following is not None:
        where = f"{slot_label(task.task, following)}, {following.phase}"
        if following in empty_slots(task, pending):
            return f"Next: {where}. Type it as you read it."
        return f"Taken already: {where}. A figure typed here asks before it takes its place."
    done = "" if missing_left(task) else "All readings are taken. " if task.task.readings else ""
    return f"{done}d says it is done."
