"""The story of a vehicle, from its first card to its last: what a buyer, an owner or a court would want to read."""

from shopcli.errors import NotFound
from shopcli.present import qty
from shopcli.shop.paper_views import HistoryReading, HistoryView, HistoryVisit
from shopcli.shop.views import SummaryView
from shopcli.store.reads.desk import findings, vehicle_name
from shopcli.store.reads.parties import shop_party
from shopcli.store.reads.summary import summary
from shopcli.store.shop import Shop

VEHICLE = """
SELECT registration, make, model, year, chassis_number, engine_number FROM vehicle WHERE id = ?"""
VISITS = """
SELECT id FROM card WHERE vehicle_id = ? AND state <> 'void' ORDER BY opened_at DESC, id DESC LIMIT ?"""
MOST = 200


def _visit(s: SummaryView) -> HistoryVisit:
    return HistoryVisit(
        card=s.card,
        opened=s.opened,
        closed=s.closed,
        state=s.state,
        odometer=s.odometer,
        title=s.title,
        words=s.words,
        work=tuple(f"{w.title}{f': {w.outcome}' if w.outcome != 'done' else ''}" for w in s.done),
        parts=tuple(f"{qty(x.qty)} {x.unit} {x.description}" for x in s.lines if x.kind == "part"),
        invoice=s.invoice_number,
    )


def _readings(s: SummaryView) -> tuple[HistoryReading, ...]:
    return tuple(HistoryReading(s.closed or s.opened, s.card, line) for line in s.readings)


def history(shop: Shop, vehicle_id: int, *, most: int = MOST) -> HistoryView:
    """Return the story of a vehicle, its `most` newest visits with everything that was read at them.

    Raises
    ------
    NotFound
        When there is no such vehicle.
    """
    rows = shop.fetch(VEHICLE, (vehicle_id,))
    if not rows:
        raise NotFound(f"there is no vehicle {vehicle_id}")
    registration, make, model, year, chassis, engine = rows[0]
    visits = [summary(shop, key) for (key,) in shop.fetch(VISITS, (vehicle_id, most))]
    return HistoryView(
        seller=shop_party(shop),
        made=shop.local(shop.at()).date(),
        registration=registration,
        vehicle=vehicle_name(make, model, year),
        about=(("Chassis", chassis), ("Engine", engine)),
        visits=tuple(map(_visit, visits)),
        readings=tuple(r for v in visits for r in _readings(v)),
        findings=findings(shop, vehicle_id),
    )
