"""What a job would be on a vehicle, before any card is opened: the same lines the card would show."""

from shopcli.papers.bench_list import task_lines
from shopcli.papers.layout import WIDTH, heading, para
from shopcli.present import hours
from shopcli.shop.views import TaskView
from shopcli.units import Preferences
from shopcli.worklists.model import Task, WorkList


def _unopened(number: int, task: Task) -> TaskView:
    return TaskView(
        id=0,
        position=number,
        state="open",
        task=task,
        readings=(),
        clocked_seconds=0,
        running=(),
        done_by="",
        done_at=None,
        left_out_for="",
        second_by="",
        note="",
        barred_by=(),
        version=1,
    )


def work_list_text(work: WorkList, prefs: Preferences, *, width: int = WIDTH) -> str:
    """Return an expanded work list that belongs to no card yet."""
    title = ", ".join(title for _name, title, _version in work.templates)
    lines = [
        *heading(title or "Nothing", width),
        f"{hours(work.minutes * 60)} hands-on, {len(work.tasks)} tasks",
    ]
    for note in work.notes:
        lines += para(note, width, first="  ! ")
    for number, task in enumerate(work.tasks, 1):
        lines += ["", *task_lines(number, _unopened(number, task), prefs, width)]
    for line in work.kit:
        text = f"{line.qty} {line.unit or 'pc'}  {line.part}{' (optional)' if line.optional else ''}"
        lines += para(text, width, first="  + ")
    return "\n".join(lines) + "\n"
