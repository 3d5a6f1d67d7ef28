"""Numbers entered since a card was expanded: shown beside the frozen ones, which they do not change."""

from collections.abc import Mapping

from shopcli.store.shop import Shop
from shopcli.worklists.freeze import spec_from_json
from shopcli.worklists.model import Spec, Task

ON_VEHICLE = "SELECT spec FROM vehicle_spec WHERE vehicle_id = ? AND replaced_at IS NULL ORDER BY id DESC"
ON_SHEET = (
    "SELECT n.spec FROM sheet_spec n JOIN sheet s ON s.id = n.sheet_id"
    " WHERE s.name = ? AND n.replaced_at IS NULL ORDER BY n.id DESC"
)


def numbers_now(shop: Shop, vehicle_id: int) -> Mapping[str, Spec]:
    """Return the numbers that count for a vehicle now among those in the records, by name, the nearest of each.

    The files are not asked: they do not change while a card is open, and the bench must not wait for them.
    """
    rows = shop.fetch(ON_VEHICLE, (vehicle_id,))
    wider = dict(shop.fetch("SELECT name, under FROM sheet"))
    sheet = shop.fetch("SELECT sheet FROM vehicle WHERE id = ?", (vehicle_id,))
    name = str(sheet[0][0]) if sheet and wider else ""
    while name in wider:
        rows += shop.fetch(ON_SHEET, (name,))
        name = wider.pop(name)
    found: dict[str, Spec] = {}
    for (text,) in rows:
        spec = spec_from_json(text)
        found.setdefault(spec.name, spec)
    return found


def newer_numbers(task: Task, now: Mapping[str, Spec]) -> tuple[Spec, ...]:
    """Return the numbers of a task that say something else now, and those it lacks that are known now."""
    if not now:
        return ()
    asked = dict.fromkeys((*(s.name for s in task.specs), *task.missing))
    return tuple(now[name] for name in asked if name in now and _differs(task.spec(name), now[name]))


def _differs(frozen: Spec | None, now: Spec) -> bool:
    if frozen is None:
        return True
    return (frozen.limits, frozen.state) != (now.limits, now.state)
