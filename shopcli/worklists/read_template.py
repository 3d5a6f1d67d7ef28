"""Read a job template: its head, its steps, and whether the steps follow one another without a circle."""

from shopcli.worklists.circles import find_circle
from shopcli.worklists.model import KitLine, TaskTemplate, Template
from shopcli.worklists.read_sheet import version_of
from shopcli.worklists.read_task import read_task
from shopcli.worklists.read_values import Known, read_applies, read_kit
from shopcli.worklists.toml_read import Table
from shopcli.worklists.words import did_you_mean

_KEYS = ("title", "system", "about", "applies", "kit", "kits", "include", "service", "task")
MOST_TASKS = 500


def read_template(name: str, table: Table, text: str, known: Known) -> Template | None:
    """Return the template a file describes, or None after complaints in ``table.found``."""
    before = len(table.found)
    table.only(*_KEYS)
    blocks = table.tables("task", example='..., or better blocks [[task]] with id = "set-gap"')
    if len(blocks) > MOST_TASKS:
        table.bad(f"has {len(blocks)} tasks; at most {MOST_TASKS} are kept", "Split it.", "task", MOST_TASKS)
        return None
    template = Template(
        name=name,
        title=table.text("title", needed=True, example="Contact-breaker points: renew and set"),
        system=table.text("system", needed=True, example="ignition"),
        file=table.file,
        version=version_of(text),
        applies=read_applies(table, known),
        kit=(*read_kit(table, known), *_kits(table, known)),
        include=table.texts("include", example="oil-change"),
        tasks=tuple(read_task(block, known) for block in blocks),
        about=table.note("about"),
        service=table.yes("service"),
    )
    if not template.tasks and not template.include and len(table.found) == before:
        table.bad("has no tasks", 'Add a block: [[task]] with id = "..." and title = "..."')
    _check_ids(template, blocks)
    _check_after(template, blocks)
    _check_owed(template, blocks)
    _check_fits(template, blocks)
    return template if len(table.found) == before else None


def _kits(table: Table, known: Known) -> tuple[KitLine, ...]:
    names = table.known("kits", known.kits, "kit", example="ignition-set")
    return tuple(line for name in names for line in known.kits.get(name, ()))


def _check_ids(template: Template, blocks: tuple[Table, ...]) -> None:
    lines: dict[str, int] = {}
    for task, block in zip(template.tasks, blocks, strict=True):
        if task.id in lines:
            block.bad(
                f'the id "{task.id}" is already used in line {lines[task.id]}',
                "Give each an id of its own.",
                "id",
            )
        elif task.id:
            lines[task.id] = block.line


def _check_after(template: Template, blocks: tuple[Table, ...]) -> None:
    ids = tuple(t.id for t in template.tasks)
    for task, block in zip(template.tasks, blocks, strict=True):
        for index, ref in enumerate(task.after):
            if ":" not in ref and ref not in ids:
                block.bad(f'"after" names no task "{ref}"', did_you_mean(ref, ids), "after", index)
    circle = find_circle({t.id: _own(t, template.name) for t in template.tasks})
    if circle:
        block = blocks[ids.index(circle[0])]
        shown = " after ".join(f'"{i}"' for i in circle)
        block.bad(f"the tasks wait for one another: {shown}", "Take one of them out of after.", "after")


def _own(task: TaskTemplate, name: str) -> tuple[str, ...]:
    refs = (ref.removeprefix(f"{name}:") for ref in task.after)
    return tuple(ref for ref in refs if ":" not in ref)


def _check_fits(template: Template, blocks: tuple[Table, ...]) -> None:
    """Complain about a part to be fitted that the job's own kit has not."""
    names = {line.part.casefold(): line.part for line in template.kit}
    for task, block in zip(template.tasks, blocks, strict=True):
        for index, part in enumerate(task.fits):
            if part.casefold() not in names:
                hint = did_you_mean(part, tuple(names.values()))
                block.bad(f'the kit of this job has no "{part}" to fit', hint, "fits", index)


def _check_owed(template: Template, blocks: tuple[Table, ...]) -> None:
    """Complain about a check that is no task and does not say in words what is to be done."""
    ids = tuple(t.id for t in template.tasks)
    for task, block in zip(template.tasks, blocks, strict=True):
        for index, owed in enumerate(task.owes):
            if ":" not in owed.check and owed.check not in ids and not owed.title:
                hint = f'{did_you_mean(owed.check, ids)} Or say what is to be checked: title = "..."'
                block.bad(f'no task is called "{owed.check}"', hint, "owes", index, "check")
