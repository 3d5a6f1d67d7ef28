"""What earlier visits left for this one: findings carried over, and promised checks with what says they are due.

One function over a `fetch`, so that the intake form, the command line and the rules speak of the same things.
"""

from datetime import UTC, date, datetime
from typing import Any

from shopcli.shop.fetching import Fetch
from shopcli.shop.known import Carried
from shopcli.shop.odometers import last_odometer
from shopcli.shop.owed_now import is_due
from shopcli.shop.settings import Settings

# A task of the same vehicle that is still to be done keeps its promise on its own card: nobody is asked twice.
_TAKEN = """NOT EXISTS (SELECT 1 FROM task t JOIN card x ON x.id = t.card_id WHERE x.vehicle_id = {0}.vehicle_id
AND x.state NOT IN ('closed', 'void') AND t.state = 'open' AND t.key = {1})"""
FINDINGS = f"""
SELECT f.id, f.place, f.what, f.severity, f.takes, f.wanted, f.photo, p.name, f.seen_at, c.number
FROM finding f JOIN person p ON p.id = f.seen_by JOIN card c ON c.id = f.card_id
WHERE f.vehicle_id = ? AND f.state = 'open' AND {_TAKEN.format("f", "'finding:' || f.id")}
ORDER BY CASE f.severity WHEN 'stop' THEN 0 WHEN 'soon' THEN 1 ELSE 2 END, f.id"""
OWED = f"""
SELECT o.id, o.title, o.before, o.due_odometer, o.due_date, t.title, p.name, o.promised_at, c.number
FROM owed o JOIN task t ON t.id = o.task_id JOIN card c ON c.id = o.card_id LEFT JOIN person p ON p.id = t.done_by
WHERE o.vehicle_id = ? AND o.state = 'owed' AND (o.before <> 'hand-over' OR c.state IN ('closed', 'void'))
AND {_TAKEN.format("o", "o.redeemed_by_key")} ORDER BY o.id"""


def carried(
    fetch: Fetch, vehicle_id: int, settings: Settings, at: int, odometer: int | None = None
) -> tuple[Carried, ...]:
    """Return what a vehicle brings along, worst findings first, then checks that are due, then later ones.

    Parameters
    ----------
    fetch : Fetch
        The transaction of a rule, or the reading side.
    vehicle_id : int
        Whose.
    settings : Settings
        For the shop's zone.
    at : int
        Now, [s] UTC
    odometer : int, optional
        What it shows now, in the vehicle's own unit; without it the one written last counts.
    """
    zone = settings.tz()

    def day_of(seconds: int) -> date:
        return datetime.fromtimestamp(seconds, UTC).astimezone(zone).date()

    if odometer is None:
        odometer = last_odometer(fetch, vehicle_id)
    today = day_of(at)
    seen = tuple(_finding(row, day_of(row[8])) for row in fetch(FINDINGS, (vehicle_id,)))
    owed = [_owed(row, day_of(row[7]), odometer, today) for row in fetch(OWED, (vehicle_id,))]
    return seen + tuple(sorted(owed, key=lambda one: not one.due))


def _finding(row: tuple[Any, ...], seen: date) -> Carried:
    key, place, what, severity, takes, wanted, photo, by, _at, card = row
    return Carried(
        key=f"finding:{key}",
        title=f"{place}: {what}",
        by=by,
        on=seen,
        card=card,
        severity=severity,
        takes=takes,
        wanted=wanted,
        photo=photo,
    )


def _owed(row: tuple[Any, ...], promised: date, odometer: int | None, today: date) -> Carried:
    key, title, before, due_odometer, due_date, task, by, _at, card = row
    return Carried(
        key=f"owed:{key}",
        title=title,
        by=by or "",
        on=promised,
        card=card,
        due=is_due(before, due_odometer, due_date, odometer, today),
        due_odometer=due_odometer,
        due_date=date.fromisoformat(due_date) if due_date else None,
        task=task,
    )
