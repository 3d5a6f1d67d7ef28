"""The days, cards and invoices behind the figures of hours."""

from datetime import date

from shopcli.shop.week_parts import DayRow
from shopcli.shop.week_views import OpenedRow, Period
from shopcli.store.reads.week_bounds import weeks_sql
from shopcli.store.reads.week_hours import breaks, running, templates_of
from shopcli.store.reads.week_paid import workers
from shopcli.store.reads.week_rows_flow import Answer, narrowed
from shopcli.store.shop import Shop

CLOCKED = """
SELECT h.card_id, c.number, v.registration, t.title, p.name, h.day, SUM(h.seconds) FROM day_hours h
JOIN card c ON c.id = h.card_id JOIN vehicle v ON v.id = c.vehicle_id JOIN task t ON t.id = h.task_id
JOIN person p ON p.id = h.person_id WHERE {where}
GROUP BY h.card_id, c.number, v.registration, h.task_id, t.title, h.person_id, p.name, h.day
ORDER BY h.day, c.number, h.task_id, p.name"""
SOLD = """
SELECT h.card_id, c.number, v.registration, t.title, p.name, i.issued_at, h.seconds FROM sold_hours h
JOIN invoice i ON i.id = h.invoice_id JOIN card c ON c.id = h.card_id JOIN vehicle v ON v.id = c.vehicle_id
JOIN task t ON t.id = h.task_id JOIN person p ON p.id = h.person_id WHERE {where}
ORDER BY i.issued_at, h.invoice_id, h.task_id, p.name"""
CARD = "SELECT c.number, v.registration FROM card c JOIN vehicle v ON v.id = c.vehicle_id WHERE c.id = ?"
TASK = "SELECT t.title, p.name FROM task t, person p WHERE t.id = ? AND p.id = ?"
USED = "SELECT DISTINCT template FROM {table} WHERE {where}"


def _chosen(
    shop: Shop, period: Period, words: tuple[str, ...], table: str
) -> tuple[Period, str, tuple[object, ...]]:
    """Return the period, the condition and its parameters that a key asks for."""
    kind, key = (*words, "", "")[:2]
    if kind == "week":
        period = narrowed(period, (key,))
    where, params = weeks_sql(period)
    if kind == "person":
        return period, f"{where} AND person_id = ?", (*params, int(key))
    if kind == "template":
        return period, f"{where} AND template = ?", (*params, key)
    if kind == "system":
        used = [row[0] for row in shop.fetch(USED.format(table=table, where=where), params)]
        names = templates_of(shop, key, sorted({*used, *(d.template for d in running(shop, period))}))
        return period, f"{where} AND template IN ({', '.join('?' * len(names)) or 'NULL'})", (*params, *names)
    return period, where, params


def clocked(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return what was clocked, by day, card, task and person; a clock that runs counts up to now."""
    period, where, params = _chosen(shop, period, words, "day_hours")
    where = (
        where.replace("week ", "h.week ")
        .replace("person_id", "h.person_id")
        .replace("template", "h.template")
    )
    rows = [
        OpenedRow(*row[:3], row[3], row[4], date.fromisoformat(row[5]), seconds=int(row[6]))
        for row in shop.fetch(CLOCKED.format(where=where), params)
    ]
    kind, key = (*words, "", "")[:2]
    for day in running(shop, period):
        if kind == "person" and day.person_id != int(key):
            continue
        if kind == "template" and day.template != key:
            continue
        if kind == "system" and not templates_of(shop, key, [day.template]):
            continue
        rows.append(_running(shop, day))
    return "Clocked", rows


def _running(shop: Shop, day: DayRow) -> OpenedRow:
    (number, plate), (title, name) = (
        shop.fetch(CARD, (day.card_id,))[0],
        shop.fetch(TASK, (day.task_id, day.person_id))[0],
    )
    return OpenedRow(
        day.card_id,
        number,
        plate,
        title,
        f"{name}, runs now",
        date.fromisoformat(day.day),
        seconds=day.seconds,
    )


def sold(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the labour on invoices, by card, task and person."""
    _period, where, params = _chosen(shop, period, words, "sold_hours")
    where = (
        where.replace("week ", "h.week ")
        .replace("person_id", "h.person_id")
        .replace("template", "h.template")
    )
    return "Sold", [
        OpenedRow(*row[:5], shop.local(row[5]).date(), seconds=int(row[6]))
        for row in shop.fetch(SOLD.format(where=where), params)
    ]


def paid(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return what is paid, by person and day."""
    kind, key = (*words, "", "")[:2]
    if kind == "week":
        period = narrowed(period, (key,))
    rows = []
    for worker in workers(shop, period):
        if kind == "person" and worker.id != int(key):
            continue
        for day, one in (worker.days or {}).items():
            away = "away" if one.absent_s else ""
            rows.append(OpenedRow(None, "", "", worker.name, away, day, seconds=one.paid_s))
    return "Paid", rows


def unclocked(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return somebody's paid time that no card knows of, day by day; below zero where more was clocked than is paid."""
    person = int((*words, "", "")[1])
    _title, done = clocked(shop, period, words)
    by_day: dict[date, int] = {}
    for row in done:
        if row.on:
            by_day[row.on] = by_day.get(row.on, 0) - (row.seconds or 0)
    for (who, day), seconds in breaks(shop, period).items():
        if who == person:
            on = date.fromisoformat(day)
            by_day[on] = by_day.get(on, 0) - seconds
    worker = next((w for w in workers(shop, period) if w.id == person), None)
    for on, one in (worker.days if worker and worker.days else {}).items():
        by_day[on] = by_day.get(on, 0) + one.paid_s
    name = worker.name if worker else ""
    rows = [OpenedRow(None, "", "", name, "", on, seconds=by_day[on]) for on in sorted(by_day)]
    return "Paid and on no card", rows


QUESTIONS = {"clocked": clocked, "sold": sold, "paid": paid, "unclocked": unclocked}
