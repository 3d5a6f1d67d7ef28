"""A vehicle's readings by what was read and where, visit by visit: what the bench shows of one, here for all of them."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.errors import ShopError
from shopcli.shop.earlier import EarlierView, way_of
from shopcli.store.shop import Shop
from shopcli.workings.trend import Trend
from shopcli.worklists.freeze import task_from_json

CARDS = "FROM reading r JOIN card c ON c.id = r.card_id JOIN task t ON t.id = r.task_id"
OF_VEHICLE = "WHERE r.vehicle_id = ? AND r.struck_at IS NULL AND c.state <> 'void'"
UP_TO = " AND (c.opened_at, c.id) <= (SELECT h.opened_at, h.id FROM card h WHERE h.id = ?)"
READINGS = """
SELECT c.number, r.at, c.odometer, r.task_id, t.key, r.slot, r.value, r.unit, r.quantity, r.typed, r.standing,
       r.name, r.label, r.phase"""


@dataclass(frozen=True, slots=True)
class TrendView:
    """One reading of a vehicle over its visits, the oldest first; `trend` in the canonical unit, None for one visit.

    `spec` names the number it is held against, empty where there is none; `unit` is that of the last visit.
    """

    name: str
    label: str
    phase: str
    spec: str
    unit: str
    visits: tuple[EarlierView, ...]
    trend: Trend | None


def trends(
    shop: Shop, vehicle_id: int, words: Sequence[str] = (), up_to: int | None = None
) -> tuple[TrendView, ...]:
    """Return the readings of a vehicle whose name, place or number holds every word, each with where it is going.

    `up_to` leaves out what was read on cards opened after that one. Of each card the last reading counts.
    """
    params = (vehicle_id,) if up_to is None else (vehicle_id, up_to)
    where = f"{CARDS} {OF_VEHICLE}{'' if up_to is None else UP_TO}"
    specs = _specs(shop, where, params)
    visits: dict[tuple[str, ...], dict[str, EarlierView]] = {}
    told: dict[tuple[str, ...], tuple[str, str, str]] = {}
    for row in shop.fetch(f"{READINGS} {where} ORDER BY c.opened_at, c.id, r.id", params):
        spec = specs.get((row[3], row[5]), "")
        one = EarlierView(row[0], shop.local(row[1]), row[2], row[4], row[5], spec, *row[6:11])
        key = (spec or one.task, one.place, one.phase, one.quantity)
        visits.setdefault(key, {})[one.card] = one
        told[key] = row[11:14]
    found = (_view(told[key], tuple(by_card.values())) for key, by_card in visits.items())
    return tuple(view for view in found if _meant(view, words))


def _view(told: tuple[str, str, str], visits: tuple[EarlierView, ...]) -> TrendView:
    last = visits[-1]
    going = way_of(visits, None, 0.0, last.unit) if last.unit else None
    return TrendView(*told, last.spec, last.unit, visits, going)


def _meant(view: TrendView, words: Sequence[str]) -> bool:
    text = f"{view.name} {view.label} {view.phase} {view.spec.replace('_', ' ')} {view.spec}".casefold()
    return all(word.casefold() in text for word in words)


def _specs(shop: Shop, where: str, params: tuple[object, ...]) -> dict[tuple[int, str], str]:
    """Return which number each slot was held against."""
    found = {}
    for task_id, frozen in shop.fetch(f"SELECT DISTINCT t.id, t.frozen {where}", params):
        try:
            task = task_from_json(frozen)
        except ShopError:  # a step kept by another version is no reason to forget the rest
            continue
        found.update({(task_id, slot.key): slot.spec for slot in task.readings})
    return found
