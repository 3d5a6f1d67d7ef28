"""What can only be seen with all templates side by side: includes, circles of includes, and cross-references.

An include that leads nowhere makes the including template unusable, since half a service is worse than
none. A cross-reference that leads nowhere ("template:id" in `after` or `owes`) is only listed: it is ignored
in any case whenever that template is not on the card, and a shop may well have replaced the other file.
"""

from collections.abc import Iterable, Iterator, Mapping

from shopcli.worklists.circles import find_circle
from shopcli.worklists.model import Template
from shopcli.worklists.toml_read import Table
from shopcli.worklists.words import did_you_mean

Read = Mapping[str, tuple[Template, Table]]


def usable(
    read: Read, known_names: frozenset[str], shipped: frozenset[str] = frozenset()
) -> dict[str, Template]:
    """Return the templates whose includes hold, after complaining about the others and about loose ends.

    Parameters
    ----------
    read : mapping of str to (Template, Table)
        The templates that were read without a complaint, with the tables for their lines.
    known_names : frozenset of str
        Names of all template files, broken ones too, to tell "broken" from "not there".
    shipped : frozenset of str, optional
        Names of those that came with the program: nobody is asked to change them, so what they miss in a file of the
        shop's own is said of that file.
    """
    kept = {name: template for name, (template, _) in read.items()}
    circle = find_circle({name: template.include for name, template in kept.items()})
    while circle:
        shown = " includes ".join(f'"{n}"' for n in circle)
        for name in dict.fromkeys(circle):
            table = read[name][1]
            table.bad(f"the includes go round: {shown}", "Take one of them out of include.", "include")
            del kept[name]
        circle = find_circle({name: template.include for name, template in kept.items()})
    while broken := [n for n, template in kept.items() if any(i not in kept for i in template.include)]:
        for name in broken:
            _complain(*read[name], kept, known_names)
        for name in broken:
            del kept[name]
    for name, template in kept.items():
        _loose_ends(template, read[name][1], kept, known_names, shipped if name in shipped else frozenset())
    own = sorted(kept.keys() - shipped)
    for name in own if shipped else ():
        _missed(kept[name], read[name][1], [kept[other] for other in sorted(kept.keys() & shipped)])
    return kept


def _complain(
    template: Template, table: Table, kept: Mapping[str, Template], known_names: frozenset[str]
) -> None:
    others = [n for n in kept if n != template.name]
    for index, name in enumerate(template.include):
        if name in kept:
            continue
        if name in known_names:
            message, hint = f'includes "{name}", which is not usable', f'Put "{name}" right first.'
        else:
            message, hint = f'includes "{name}", which does not exist', did_you_mean(name, others)
        table.bad(message, hint, "include", index)


def _missed(own: Template, table: Table, shipped: Iterable[Template]) -> None:
    """Say which steps of a job of the program's come after a step this one does not have."""
    ids = [t.id for t in own.tasks]
    missed: dict[str, list[str]] = {}
    for template in shipped:
        for _place, ref in _references(template):
            other, _, task_id = ref.partition(":")
            if other == own.name and task_id not in ids:
                missed.setdefault(task_id, []).append(template.name)
    for task_id, names in missed.items():
        jobs = ", ".join(f'"{name}"' for name in dict.fromkeys(names))
        hint = f'Give the step that does it id = "{task_id}", so that the order of work holds.'
        table.bad(f'has no task "{task_id}", which {jobs} waits for', hint)


def _loose_ends(
    template: Template,
    table: Table,
    kept: Mapping[str, Template],
    known_names: frozenset[str],
    shipped: frozenset[str],
) -> None:
    for place, ref in _references(template):
        other, _, task_id = ref.partition(":")
        if shipped and other in kept and other not in shipped:
            continue  # said of the shop's own file, see `_missed`
        if other in known_names and other not in kept:
            continue  # its own file is listed already
        if other not in kept:
            names = [n for n in kept if n != template.name]
            table.bad(f'"{ref}" names no template "{other}"', did_you_mean(other, names), *place)
        elif task_id not in (ids := [t.id for t in kept[other].tasks]):
            table.bad(f'"{ref}" names no task of "{other}"', did_you_mean(task_id, ids), *place)


def _references(template: Template) -> Iterator[tuple[tuple[str | int, ...], str]]:
    for number, task in enumerate(template.tasks):
        for index, ref in enumerate(task.after):
            if ":" in ref:
                yield ("task", number, "after", index), ref
        for index, owed in enumerate(task.owes):
            if ":" in owed.check and not owed.title:
                yield ("task", number, "owes", index, "check"), owed.check
