"""People's time: a day of somebody, who stands where now, and which clocks want to be asked about."""

from datetime import date, timedelta

from shopcli.errors import NotFound
from shopcli.shop.hours import by_day, midnight, ran_over, shuts_at
from shopcli.shop.time_views import AskedView, DayView, StandingView, StretchView
from shopcli.store.shop import Shop

STRETCHES = """
SELECT e.kind, e.id, e.task_id, t.title, e.card_id, c.number, v.registration, e.started_at, e.ended_at, e.corrected, c.state
FROM (SELECT 'work' AS kind, id, person_id, task_id, card_id, started_at, ended_at, corrected FROM clock_entry
      UNION ALL
      SELECT 'break' AS kind, id, person_id, task_id, card_id, started_at, ended_at, corrected FROM work_break) e
JOIN task t ON t.id = e.task_id JOIN card c ON c.id = e.card_id JOIN vehicle v ON v.id = c.vehicle_id
WHERE e.person_id = ? AND e.started_at < ? AND COALESCE(e.ended_at, ?) >= ? ORDER BY e.started_at, e.kind DESC, e.id"""
STANDING = """
SELECT p.id, p.name, p.role, p.units, e.kind, e.card_id, c.number, e.task_id, t.title, e.started_at, n.person_id
FROM person p LEFT JOIN pin n ON n.person_id = p.id LEFT JOIN (
    SELECT 'work' AS kind, person_id, card_id, task_id, started_at FROM clock_entry WHERE ended_at IS NULL
    UNION ALL
    SELECT 'break' AS kind, person_id, card_id, task_id, started_at FROM work_break WHERE ended_at IS NULL) e
ON e.person_id = p.id LEFT JOIN card c ON c.id = e.card_id LEFT JOIN task t ON t.id = e.task_id
WHERE p.active ORDER BY p.name, p.id"""
ASKED = """
SELECT e.id, e.person_id, t.title, c.number, e.started_at, e.ended_at, e.stood_by
FROM clock_entry e JOIN task t ON t.id = e.task_id JOIN card c ON c.id = e.card_id
WHERE e.person_id = ? AND e.started_at >= ? AND c.state NOT IN ('closed', 'void') AND e.corrected = ''
ORDER BY e.started_at"""
# Further back nobody remembers.
ASKED_DAYS = 14


def day_of(shop: Shop, person_id: int, day: date) -> DayView:
    """Return a day of somebody; what runs over midnight counts on each day by the part that lies there.

    Raises
    ------
    NotFound
        When there is no such person.
    """
    who = shop.fetch("SELECT name FROM person WHERE id = ?", (person_id,))
    if not who:
        raise NotFound(f"there is no person {person_id}")
    zone, now = shop.settings.tz(), shop.at()
    start, end = midnight(day, zone), midnight(day + timedelta(days=1), zone)
    stretches = []
    for row in shop.fetch(STRETCHES, (person_id, end, now, start)):
        begun, ended = row[7], row[8]
        seconds = by_day(begun, max(begun, now if ended is None else ended), zone).get(day, 0)
        if not (seconds or start <= begun < end):
            continue
        stretches.append(
            StretchView(
                *row[:7],
                shop.local(begun),
                None if ended is None else shop.local(ended),
                seconds,
                row[9],
                row[10] in {"closed", "void"},
            )
        )
    span = shop.settings.hours[day.weekday()]
    shuts = shuts_at(day, shop.settings.hours, zone)
    return DayView(
        person_id,
        who[0][0],
        day,
        tuple(stretches),
        sum(s.seconds for s in stretches if s.kind == "work"),
        sum(s.seconds for s in stretches if s.kind == "break"),
        None if span is None else shop.local(start).replace(hour=span[0] // 60, minute=span[0] % 60),
        None if shuts is None else shop.local(shuts),
    )


def standing(shop: Shop) -> tuple[StandingView, ...]:
    """Return everybody who works here and where they stand now, by name."""
    return tuple(
        StandingView(
            row[0],
            row[1],
            row[2],
            row[3],
            {"work": "on", "break": "break"}.get(row[4], "off"),
            row[5],
            row[6] or "",
            row[7],
            row[8] or "",
            None if row[9] is None else shop.local(row[9]),
            row[10] is not None,
        )
        for row in shop.fetch(STANDING)
    )


def asked(shop: Shop, person_id: int) -> tuple[AskedView, ...]:
    """Return the clocks of somebody that ran past the shop's hours or midnight and were not spoken of yet, oldest first."""
    now, settings = shop.at(), shop.settings
    found = []
    for key, who, task, card, started, ended, stood_by in shop.fetch(
        ASKED, (person_id, now - ASKED_DAYS * 86_400)
    ):
        upto = now if ended is None else ended
        grace = settings.closing_grace_minutes
        over = ran_over(started, upto, stood_by, settings.hours, grace, settings.tz())
        if over is not None:
            end = None if ended is None else shop.local(ended)
            found.append(
                AskedView(key, who, task, card, shop.local(started), end, shop.local(over.until), over.why)
            )
    return tuple(found)
