"""What a task's own sum says as soon as its inputs are known: shown under the readings and on the summary.

Nobody asks for it: a reading is typed and the dwell, the spread or the lead order stands beneath it. While
something is still to be measured there is no answer rather than half of one.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shopcli.errors import ShopError
from shopcli.workings.frame import Input, Result, Value
from shopcli.worklists.model import Task
from shopcli.worklists.sums import feed
from shopcli.worklists.workings_at_hand import ASCII_ONLY, draws_plainly, work, working_named


@dataclass(frozen=True, slots=True)
class Derived:
    """The answer of a task's sum. `refused` says why the sum does not hold here; then there are no results."""

    working: str
    title: str
    inputs: tuple[tuple[str, Value], ...]
    results: tuple[Result, ...] = ()
    verdict: str = ""
    steps: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    picture: str = ""
    source: str = ""
    refused: str = ""

    @property
    def text(self) -> str:
        """The results in one line; where the sum gives a verdict, that comes first."""
        said = "; ".join(f"{r.label} {r.text or r.value}" for r in self.results)
        return self.refused or ". ".join(filter(None, (self.verdict.rstrip("."), said)))


def taken_by_name(task: Task, taken: Mapping[str, float]) -> dict[str, tuple[float, ...]]:
    """Gather what was read on a task, as its sum wants it.

    Parameters
    ----------
    task : Task
        With its slots.
    taken : mapping of str to float
        Value by the key of its slot, [canonical unit].

    Returns
    -------
    dict
        Values by the name of the reading, one for each place in the order of the slots: as left where that
        is known, else as found. A reading that lacks a place is left out, since a sum over three cylinders of
        four would mislead.

    Examples
    --------
    >>> from shopcli.worklists.model import ReadingSlot
    >>> slots = tuple(ReadingSlot(f"gap|{p}", "gap", "", p, "", "length", "mm") for p in ("as found", "as left"))
    >>> task = Task("a:b", "a", "1", "T", "s", readings=slots)
    >>> taken_by_name(task, {"gap|as found": 0.5}), taken_by_name(task, {"gap|as found": 0.5, "gap|as left": 0.4})
    ({'gap': (0.5,)}, {'gap': (0.4,)})
    """
    places: dict[str, dict[str, float | None]] = {}
    for slot in task.readings:
        place = slot.key.rpartition("|")[0]
        values = places.setdefault(slot.name, {})
        # Slots come as found before as left, so the later one stands.
        values[place] = taken.get(slot.key, values.get(place))
    return {
        name: tuple(v for v in values.values() if v is not None)
        for name, values in places.items()
        if None not in values.values()
    }


def still_wanted(task: Task, readings: Mapping[str, Sequence[float]]) -> tuple[Input, ...]:
    """Return the inputs that have to be measured or said before the task's sum can answer."""
    if task.working is None:
        return ()
    known = feed(task, readings)
    return tuple(
        each
        for each in working_named(task.working.name).inputs
        if each.required and each.default is None and each.name not in known
    )


def derived(
    task: Task,
    readings: Mapping[str, Sequence[float]],
    given: Mapping[str, Value] | None = None,
    *,
    plain: bool = False,
) -> Derived | None:
    """Work the task's own sum if everything it needs is known.

    Parameters
    ----------
    task : Task
        As it is on the card.
    readings : mapping of str to sequence of float
        Values read on the task by the reading's name, see `taken_by_name`, [canonical unit].
    given : mapping, optional
        Further inputs as bare values in the units of the sum, said by a person; they count before the rest.
    plain : bool, optional
        Draw with plain characters.

    Returns
    -------
    Derived or None
        None without a sum, or while an input or a reading it is fed from is missing.

    Raises
    ------
    NotFound
        If the sum does not exist (any more).
    """
    if task.working is None:
        return None
    working = working_named(task.working.name)
    known: dict[str, Value] = {**feed(task, readings), **(given or {})}
    fed_by = {name for name, source in task.working.given if source.startswith("reading.")}
    needed = fed_by | {each.name for each in working.inputs if each.required and each.default is None}
    if not needed <= known.keys():
        return None
    shown = tuple(known.items())
    if plain and draws_plainly(working):
        known[ASCII_ONLY] = True
    try:
        answer = work(working, known)
    except ShopError as error:
        return Derived(working.name, working.title, shown, source=working.source, refused=error.message)
    return Derived(
        working.name,
        working.title,
        shown,
        answer.results,
        answer.verdict,
        answer.steps,
        answer.cautions,
        answer.picture,
        working.source,
    )
