"""What goes wrong: cars that came back for the same system, readings left out of limits, waived checks, numbers, tools."""

from datetime import date
from typing import Any

from shopcli.shop.week_views import DAY_S, Comeback, Noticed, Period, QualityView
from shopcli.store.reads.tools import tools
from shopcli.store.reads.week_bounds import bounds, day_of
from shopcli.store.reads.week_jobs import jobs
from shopcli.store.shop import Shop
from shopcli.worklists.heads import NO_SYSTEM, planned

WITHIN_DAYS, WITHIN_MILES, KM_PER_MILE = 90, 3_000, 1.609344
FINISHED = "SELECT COUNT(*) FROM card WHERE closed_at >= ? AND closed_at < ?"
CAME = """
SELECT n.id, n.number, v.registration, n.title, n.opened_at, n.odometer, v.distance_unit,
       o.id, o.number, o.title, o.closed_at, o.odometer
FROM card n JOIN vehicle v ON v.id = n.vehicle_id JOIN card o ON o.vehicle_id = n.vehicle_id AND o.id <> n.id
WHERE n.opened_at >= ? AND n.opened_at < ? AND n.state <> 'void' AND o.closed_at <= n.opened_at AND o.closed_at >= n.opened_at - ?
ORDER BY n.opened_at, n.id, o.closed_at DESC, o.id DESC"""
DONE_FOR = "SELECT card_id, template FROM card_template WHERE card_id IN ({marks}) ORDER BY id"
CARD = "SELECT c.id, c.number, v.registration"
LIMITS = f"""
{CARD}, t.title, r.name, r.label, r.typed, r.verdict, p.name, r.at FROM card c JOIN vehicle v ON v.id = c.vehicle_id
CROSS JOIN reading r JOIN task t ON t.id = r.task_id JOIN person p ON p.id = r.person_id
WHERE r.card_id = c.id AND c.closed_at >= ? AND c.closed_at < ? AND r.struck_at IS NULL AND r.phase = 'as left'
AND r.standing NOT IN ('in', 'unjudged') ORDER BY c.closed_at, r.id"""
WAIVED = f"""
{CARD}, w.hindrance, w.reason, p.name, w.at FROM waiver w JOIN card c ON c.id = w.card_id
JOIN vehicle v ON v.id = c.vehicle_id JOIN person p ON p.id = w.waived_by WHERE w.at >= ? AND w.at < ? ORDER BY w.id"""
OWED_WAIVED = f"""
{CARD}, o.title, o.settled_for, p.name, o.settled_at FROM owed o JOIN card c ON c.id = o.card_id
JOIN vehicle v ON v.id = c.vehicle_id JOIN person p ON p.id = o.settled_by
WHERE o.state = 'waived' AND o.settled_at >= ? AND o.settled_at < ?
AND NOT EXISTS (SELECT 1 FROM waiver w WHERE w.hindrance = 'owed:' || o.id) ORDER BY o.id"""
NUMBERS = """
SELECT v.registration, s.name, s.spec, s.why, p.name, s.entered_at FROM journal j
JOIN vehicle_spec s ON s.id = j.subject_id AND s.replaced_for <> 'the act was taken back' JOIN vehicle v ON v.id = s.vehicle_id JOIN person p ON p.id = s.entered_by
WHERE j.at >= ? AND j.at < ? AND j.act = 'EnterSpec' AND j.after LIKE ? ORDER BY s.id"""
CONFIRMED = '%"confirm": true%'


def quality(shop: Shop, period: Period) -> QualityView:
    """Return what went wrong in a period, and which tools are past their calibration now."""
    span = bounds(shop, period)
    return QualityView(
        period=period,
        finished=int(shop.fetch(FINISHED, span)[0][0]),
        comebacks=comebacks(shop, span),
        limits=tuple(_limit(shop, row) for row in shop.fetch(LIMITS, span)),
        waived=_waived(shop, span),
        practice=tuple(_number(shop, row) for row in shop.fetch(NUMBERS, (*span, CONFIRMED))),
        tools=_tools(shop),
    )


def comebacks(shop: Shop, span: tuple[int, int]) -> tuple[Comeback, ...]:
    """Return the cards opened in a span of seconds for a system an earlier card was closed for shortly before.

    Each card comes back once a system, to the latest card that was closed for it; what has no system is not looked at. A service
    that is due counts too and says so: nobody came back with a fault.
    """
    rows = shop.fetch(CAME, (*span, (WITHIN_DAYS + 1) * DAY_S))
    systems = _systems(shop, sorted({key for row in rows for key in (row[0], row[7])}))
    found: dict[tuple[int, str], Comeback] = {}
    for row in rows:
        days, miles = _apart(shop, row)
        if days > WITHIN_DAYS or (miles is not None and miles > WITHIN_MILES):
            continue
        for system in systems.get(row[0], ()):
            if system in systems.get(row[7], ()) and (row[0], system) not in found:
                due = systems[row[0]][system]
                found[row[0], system] = _comeback(shop, row, system, days, miles, planned=due)
    return tuple(found.values())


def _apart(shop: Shop, row: tuple[Any, ...]) -> tuple[int, int | None]:
    days = (day_of(shop, row[4]) - day_of(shop, row[10])).days
    if row[5] is None or row[11] is None:
        return days, None
    driven = row[5] - row[11]
    return days, driven if row[6] == "mi" else round(driven / KM_PER_MILE)


def _comeback(
    shop: Shop, row: tuple[Any, ...], system: str, days: int, miles: int | None, *, planned: bool
) -> Comeback:
    return Comeback(
        card_id=row[0],
        number=row[1],
        registration=row[2],
        system=system,
        title=row[3],
        opened=day_of(shop, row[4]),
        before_id=row[7],
        before=row[8],
        before_title=row[9],
        days=days,
        miles=miles,
        planned=planned,
    )


def _systems(shop: Shop, cards: list[int]) -> dict[int, dict[str, bool]]:
    """Return the systems of each card, and whether all that is done on one is done because it is due."""
    rows: list[tuple[Any, ...]] = []
    for first in range(0, len(cards), 500):
        some = cards[first : first + 500]
        rows += shop.fetch(DONE_FOR.format(marks=", ".join("?" * len(some))), tuple(some))
    called = jobs(shop, [template for _card, template in rows])
    by_card: dict[int, list[str]] = {}
    for card_id, template in rows:
        by_card.setdefault(card_id, []).append(template)
    found: dict[int, dict[str, bool]] = {}
    for card_id, names in by_card.items():
        due, there = planned({name: called[name] for name in names}), found.setdefault(card_id, {})
        for name in names:
            system = called[name].system
            if system != NO_SYSTEM:
                there[system] = there.get(system, True) and name in due
    return found


def _limit(shop: Shop, row: tuple[Any, ...]) -> Noticed:
    key, card, plate, task, name, label, typed, verdict, person, at = row
    what = f"{name}, {label}" if label else name
    return Noticed(key, card, plate, f"{what}: {typed}", f"{verdict} ({task})", person, day_of(shop, at))


def _waived(shop: Shop, span: tuple[int, int]) -> tuple[Noticed, ...]:
    found = []
    for key, card, plate, hindrance, reason, person, at in shop.fetch(WAIVED, span):
        kind, _, number = hindrance.partition(":")
        what = _called(shop, kind, int(number)) if number.isdigit() else hindrance
        found.append(Noticed(key, card, plate, what, reason, person, day_of(shop, at)))
    for key, card, plate, title, reason, person, at in shop.fetch(OWED_WAIVED, span):
        found.append(Noticed(key, card, plate, title, reason, person, day_of(shop, at)))
    return tuple(sorted(found, key=lambda n: (n.on or date.min, n.card)))


CALLED = {
    "owed": "SELECT title FROM owed WHERE id = ?",
    "reading": "SELECT name || ': ' || typed FROM reading WHERE id = ?",
    "finding": "SELECT place || ': ' || what FROM finding WHERE id = ?",
    "price": "SELECT description FROM card_part WHERE id = ?",
    "part": "SELECT description FROM card_part WHERE id = ?",
}


def _called(shop: Shop, kind: str, number: int) -> str:
    rows = shop.fetch(CALLED[kind], (number,)) if kind in CALLED else []
    return str(rows[0][0]) if rows else kind


def _number(shop: Shop, row: tuple[Any, ...]) -> Noticed:
    from shopcli.worklists.freeze import spec_from_json

    plate, name, text, why, person, at = row
    spec = spec_from_json(text)
    by = " ".join(filter(None, (spec.provenance.kind, spec.provenance.document, spec.provenance.page, why)))
    return Noticed(None, "", plate, spec.label or name, by, person, day_of(shop, at))


def _tools(shop: Shop) -> tuple[Noticed, ...]:
    """Return the tools that something is known against; the day it ran out stands as a day, not in the words too."""
    late = ((tool, tool.trouble.removesuffix(f" on {tool.due}")) for tool in tools(shop) if tool.trouble)
    return tuple(Noticed(None, "", "", tool.name, trouble, "", tool.due) for tool, trouble in late)
