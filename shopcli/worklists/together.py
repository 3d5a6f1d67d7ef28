"""Jobs on one card: expanded together, and seen to have an order in which nothing stands in its own way.

Two jobs that are sound alone may wait for each other once they share a step, or one may hang a tag that bars
what the other must do before the tag can go. That is said when the jobs are chosen, by the names of the jobs,
and not by a mechanic who finds no task he may begin.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from shopcli.errors import BadInput, ShopError
from shopcli.worklists.expand import NOTHING_YET, expand
from shopcli.worklists.library import Library
from shopcli.worklists.model import Standing, VehicleFacts, WorkList
from shopcli.worklists.sheets import SpecBook


def together(
    library: Library,
    names: Sequence[str],
    facts: VehicleFacts,
    book: SpecBook,
    there: Standing = NOTHING_YET,
) -> WorkList:
    """Expand jobs for one vehicle as `expand` does, and see that they can all be done on one card.

    `there` is what the card has already: the jobs join it, and must be able to share the card with it.

    Raises
    ------
    NotFound
        If a template is not known or not usable.
    BadInput
        If a job does not fit the vehicle, or some jobs cannot share a card; the message names them by title.
    """
    if there.tasks:
        return _joined(library, names, facts, book, there)
    chosen = tuple(dict.fromkeys(names))
    if len(chosen) < 2:  # noqa: PLR2004 - a job alone is proved when the library is tested
        return expand(library, chosen, facts, book)
    try:
        work = expand(library, chosen, facts, book)
    except BadInput as error:
        for name in chosen:
            expand(library, (name,), facts, book)  # what is wrong with a job alone is not said of several
        why = error.message
    else:
        why = hitch(library, work)
        if not why:
            return work

    def clash(some: Sequence[str]) -> bool:
        try:
            return bool(hitch(library, expand(library, some, facts, book)))
        except ShopError:
            return True

    titles = [f'"{library.template(name).title}"' for name in fewest(chosen, clash)]
    said = f"{', '.join(titles[:-1])} and {titles[-1]}"
    raise BadInput(
        f"{said} cannot share a card: {why}",
        hint=f"Open a card of its own for {titles[-1]}, after the other is done.",
    )


def _joined(
    library: Library, names: Sequence[str], facts: VehicleFacts, book: SpecBook, there: Standing
) -> WorkList:
    """Put jobs beside what a card has; what stands in its own way there already is no fault of theirs."""
    if not names:
        return expand(library, names, facts, book, there)
    together(library, names, facts, book)  # what is wrong among the jobs is said of them alone
    try:
        work = expand(library, names, facts, book, there)
        settled = tuple(task for task in there.tasks if task.key in there.settled)
        why = hitch(library, replace(work, tasks=(*settled, *work.tasks)))
        why = "" if why and hitch(library, WorkList(there.tasks)) else why
    except BadInput as error:
        why = error.message
    if not why:
        return work
    titles = ", ".join(f'"{library.template(name).title}"' for name in dict.fromkeys(names))
    raise BadInput(
        f"{titles} cannot join this card: {why}",
        hint="Open a card of its own for it, after what is on this one is done.",
    )


def hitch(library: Library, work: WorkList) -> str:
    """Return why a list cannot be done from a car that stands cold on its wheels, or nothing when it can."""
    from shopcli.worklists.planner.build import Ask, build
    from shopcli.worklists.planner.plan import COOL_DOWN_MIN
    from shopcli.worklists.planner.tasks import PlanTask, State

    tasks = tuple(PlanTask.of(task, library.tags) for task in work.tasks)
    out: dict[str, str] = {}
    build(Ask(tasks, 1, 0, (), State(), COOL_DOWN_MIN, "last"), out)
    return next(iter(out.values()), "")


def fewest(names: Sequence[str], clash: Callable[[Sequence[str]], bool]) -> tuple[str, ...]:
    """Return as few of the names as still clash, in their order: each of them is needed for it.

    Examples
    --------
    >>> fewest("abcde", lambda some: {"b", "e"} <= set(some))
    ('b', 'e')
    """
    kept = list(names)
    for name in names:
        rest = [k for k in kept if k != name]
        if clash(rest):
            kept = rest
    return tuple(kept)
