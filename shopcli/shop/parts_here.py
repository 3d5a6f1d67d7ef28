"""Which task a part on a card belongs to, and whether the part is here: what bench, rule and order of work all ask."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from shopcli.shop.fetching import Fetch
from shopcli.worklists.model import Task

NEEDED = """
SELECT l.task_id, l.description, COALESCE(p.number, ''), l.id, l.part_id, l.qty_milli, l.state, l.customers_own,
       p.stock_milli
FROM card_part l LEFT JOIN part p ON p.id = l.part_id
WHERE l.card_id = ? AND l.state IN ('wanted', 'on order') AND NOT l.optional ORDER BY l.id"""


def is_for(task: Task, description: str, number: str = "") -> bool:
    """Whether a part goes on with a task: of its own kit or named by it, by the kit's name for it or by its number.

    Examples
    --------
    >>> from shopcli.worklists.model import KitLine
    >>> step = Task("p:fit", "p", "1", "Fit the points", "ignition", kit=(KitLine("contact set"),))
    >>> is_for(step, "Contact set"), is_for(step, "condenser")
    (True, False)
    >>> is_for(Task("p:cap", "p", "1", "Fit the cap", "ignition", fits=("condenser",)), "condenser")
    True
    """
    kit = {name.casefold() for line in task.kit for name in (line.part, line.number) if name}
    kit |= {name.casefold() for name in task.fits}
    return bool({description.casefold(), number.casefold()} & kit)


def still_wanted(fetch: Fetch, card_id: int, task_id: int, task: Task) -> tuple[str, ...]:
    """Return what is still wanted or on order for a task, be it on the shelf or not."""
    rows = fetch(NEEDED, (card_id,))
    return tuple(row[1] for row in rows if row[0] == task_id or is_for(task, row[1], row[2]))


class Waiting(NamedTuple):
    """A part a card waits for: its line, the part of ours where it is one, how many and how many the shelf holds."""

    line: int
    part_id: int | None
    qty_milli: int
    state: str
    customers_own: bool
    stock_milli: int | None


def at_hand(waiting: Iterable[Waiting]) -> frozenset[int]:
    """Return the lines that can be fitted now: each takes its own off the shelf, in the order they stand in.

    What the customer brings is here unless it is on order.

    Examples
    --------
    >>> one, other = (Waiting(line, 7, 1000, "wanted", False, 1000) for line in (1, 2))
    >>> sorted(at_hand((one, other)))
    [1]
    """
    taken: dict[int, int] = defaultdict(int)
    here = set()
    for line, part_id, qty, state, customers_own, stock in waiting:
        if customers_own and state == "wanted":
            here.add(line)
        elif part_id is not None and taken[part_id] + qty <= (stock or 0):
            taken[part_id] += qty
            here.add(line)
    return frozenset(here)


@dataclass(frozen=True, slots=True)
class NotHere:
    """Parts that are needed and not here: by task, and those no step is named for."""

    by_task: dict[int, tuple[str, ...]]
    of_the_job: tuple[str, ...]


def not_here(fetch: Fetch, card_id: int, tasks: Sequence[tuple[int, Task]]) -> NotHere:
    """Return what is needed, not fitted and not at hand."""
    rows = fetch(NEEDED, (card_id,))
    here = at_hand(Waiting(*row[3:]) for row in rows)
    by_task: dict[int, list[str]] = defaultdict(list)
    loose = []
    for task_id, description, number, line, *_ in rows:
        if line in here:
            continue
        named = [key for key, _ in tasks if key == task_id]
        meant = named or [key for key, task in tasks if is_for(task, description, number)]
        for key in meant:
            by_task[key].append(description)
        loose += [] if meant else [description]
    return NotHere({key: tuple(dict.fromkeys(names)) for key, names in by_task.items()}, tuple(loose))
