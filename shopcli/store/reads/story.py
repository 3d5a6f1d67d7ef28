"""A vehicle's story in a few lines for whoever takes it in: its last visits, and what left the shop out of limits."""

from dataclasses import dataclass
from datetime import date

from shopcli.store.shop import Shop

VISITS_MOST, READINGS_MOST = 3, 4
VISITS = """
SELECT number, closed_at, title, odometer FROM card WHERE vehicle_id = ? AND state = 'closed'
ORDER BY closed_at DESC, id DESC LIMIT ?"""
# The newest reading of a place tells how it left the shop; an older one that was out says nothing any more.
OUT = """
SELECT r.name, r.label, r.typed, r.verdict, c.number FROM reading r JOIN card c ON c.id = r.card_id
WHERE r.vehicle_id = ? AND r.struck_at IS NULL AND r.phase = 'as left' AND c.state = 'closed'
AND r.standing IN ('low', 'high') AND NOT EXISTS (
    SELECT 1 FROM reading n WHERE n.vehicle_id = r.vehicle_id AND n.name = r.name AND n.label = r.label
    AND n.phase = 'as left' AND n.struck_at IS NULL AND n.id > r.id)
ORDER BY r.id DESC LIMIT ?"""


@dataclass(frozen=True, slots=True)
class Visit:
    """A closed card in a line; the odometer is in the vehicle's own unit."""

    card: str
    on: date
    title: str
    odometer: int | None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A reading that left the shop out of its limits."""

    name: str
    label: str
    typed: str
    verdict: str
    card: str


@dataclass(frozen=True, slots=True)
class VehicleStory:
    """The last visits, newest first, and the readings out of limits."""

    visits: tuple[Visit, ...]
    out: tuple[LeftOut, ...]


def story(shop: Shop, vehicle_id: int) -> VehicleStory:
    """Return the story of a vehicle; empty for one that was never here."""
    visits = shop.fetch(VISITS, (vehicle_id, VISITS_MOST))
    out = shop.fetch(OUT, (vehicle_id, READINGS_MOST))
    return VehicleStory(
        tuple(Visit(number, shop.local(at).date(), title, far) for number, at, title, far in visits),
        tuple(LeftOut(*row) for row in out),
    )
