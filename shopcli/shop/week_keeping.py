"""Keeps the tables of the week in step: in the same transaction as the act that changed what they rest on.

Rules do not know of it. Whatever rows an act touched is seen anyway (`shopcli.shop.touched`), and from these it follows which
entries, cards and invoices are to be reckoned anew. What is kept here never goes into the journal: it is nobody's act.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import tzinfo
from typing import Any

from sqlmodel import Session

from shopcli.shop.fetch import Write, fetcher, writer
from shopcli.shop.fetching import Fetch
from shopcli.shop.touched import Row
from shopcli.shop.week_parts import (
    DayRow,
    Entry,
    Stand,
    Stay,
    days_of,
    moved,
    read_body,
    stand_of,
)
from shopcli.shop.week_sold import CLOSED, job_rows, sold_rows
from shopcli.shop.week_stays import told_stays
from shopcli.shop.week_sums import Summed, sum_all, sum_anew

ENTRY = """
SELECT e.id, e.person_id, e.card_id, e.task_id, t.template, e.started_at, e.ended_at
FROM clock_entry e JOIN task t ON t.id = e.task_id WHERE e.ended_at IS NOT NULL"""
INVOICE = "SELECT i.id, i.card_id, i.week, i.body FROM invoice i"
LAIN = "SELECT week, person_id, template, card_id FROM day_hours WHERE entry_id = ?"
SOLD = "SELECT week, person_id, template, card_id FROM sold_hours WHERE invoice_id = ?"
CARD = "SELECT state, held_for, waits_for_parts, handed_at, opened_at FROM card WHERE id = ?"
STAYS = "SELECT nth, state, waits, why, started_at, ended_at FROM card_stay WHERE card_id = ? ORDER BY nth"

DAY_IN = "INSERT INTO day_hours (entry_id, day, week, person_id, card_id, task_id, template, seconds) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
SOLD_IN = "INSERT INTO sold_hours (invoice_id, task_id, person_id, week, card_id, template, seconds, minor) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
JOB_IN = "INSERT INTO job_times (card_id, template, closed_at, listed_milli, seconds) VALUES (?, ?, ?, ?, ?)"
OFF_IN = "INSERT INTO taken_off (invoice_id, week, minor) VALUES (?, ?, ?)"
STAY_IN = "INSERT INTO card_stay (card_id, nth, state, waits, why, started_at, ended_at) VALUES (?, ?, ?, ?, ?, ?, ?)"
TABLES = ("day_hours", "sold_hours", "taken_off", "job_times", "week_zone")
STANDING = frozenset({"state", "held_for", "waits_for_parts", "handed_at"})


def keep(session: Session, rows: Iterable[Row], at: int, zone: tzinfo) -> None:
    """Bring the tables into step with what an act touched.

    Parameters
    ----------
    session : Session
        With the act flushed.
    rows : iterable of Row
        What it touched.
    at : int
        When, in seconds UTC, [s]
    zone : tzinfo
        Where the shop is.
    """
    touched = list(rows)
    entries = sorted({row.key for row in touched if row.table == "clock_entry"})
    invoices = sorted({row.key for row in touched if row.table == "invoice" and row.made})
    cards = sorted({row.key for row in touched if row.table == "card" and _stands_otherwise(row)})
    if not (entries or cards or invoices):
        return
    fetch, write = fetcher(session), writer(session)
    changed = [Summed(*row) for key in entries for row in fetch(LAIN, (key,))]
    write("DELETE FROM day_hours WHERE entry_id = ?", [(key,) for key in entries])
    for key in entries:
        days = list(_days(fetch(f"{ENTRY} AND e.id = ?", (key,)), zone))
        write(DAY_IN, days)
        changed += [Summed(day.week, day.person_id, day.template, day.card_id) for day in days]
    for key in invoices:
        _invoiced(fetch, write, fetch(f"{INVOICE} WHERE i.id = ?", (key,)))
        changed += [Summed(*row) for row in fetch(SOLD, (key,))]
    sum_anew(fetch, write, changed)
    for key in cards:
        _stood(fetch, write, key, at)
        for row in fetch(f"{CLOSED} AND c.id = ?", (key,)):
            _took(fetch, write, *row)


def _stands_otherwise(row: Row) -> bool:
    return row.now is None or bool(STANDING & set(row.now))


def _days(rows: Iterable[Sequence[object]], zone: tzinfo) -> Iterator[DayRow]:
    for row in rows:
        yield from days_of(Entry(*row), zone)  # type: ignore[arg-type]


def _invoiced(fetch: Fetch, write: Write, rows: Iterable[Sequence[Any]]) -> None:
    for key, card_id, week, body in rows:
        sold, off = sold_rows(fetch, key, card_id, week, read_body(body))
        write(SOLD_IN, sold)
        write(OFF_IN, off)


def _took(fetch: Fetch, write: Write, card_id: int, closed_at: int) -> None:
    write("DELETE FROM job_times WHERE card_id = ?", [(card_id,)])
    write(JOB_IN, job_rows(fetch, card_id, closed_at))


def _stood(fetch: Fetch, write: Write, card_id: int, at: int) -> None:
    rows = fetch(CARD, (card_id,))
    now = stand_of(*rows[0][:4]) if rows else Stand("")
    before = [Stay(r[0], Stand(*r[1:4]), r[4], r[5]) for r in fetch(STAYS, (card_id,))]
    after = moved(before, at if before else (rows[0][4] if rows else at), now)
    for old, new in zip(before, after, strict=False):
        if old != new:
            ended = (new.ended_at, card_id, new.nth)
            write("UPDATE card_stay SET ended_at = ? WHERE card_id = ? AND nth = ?", [ended])
    write(STAY_IN, [stay_row(card_id, stay) for stay in after[len(before) :]])


def stay_row(card_id: int, stay: Stay) -> tuple[object, ...]:
    """Return a stay as its table has it."""
    stand = stay.stand
    return (card_id, stay.nth, stand.state, stand.waits, stand.why, stay.started_at, stay.ended_at)


def reckon_anew(session: Session, zone_name: str, zone: tzinfo) -> None:
    """Write what is kept of hours and invoices from nothing, for a zone; stays are added where a card has none.

    How long a card stood in a state is told nowhere else in full, so what was kept of it stays.
    """
    fetch, write = fetcher(session), writer(session)
    for table in TABLES:
        session.connection().exec_driver_sql(f"DELETE FROM {table}")
    write(DAY_IN, list(_days(fetch(ENTRY), zone)))
    _invoiced(fetch, write, fetch(f"{INVOICE} ORDER BY i.id"))
    for row in fetch(CLOSED):
        write(JOB_IN, job_rows(fetch, *row))
    for card_id, stays in told_stays(fetch).items():
        write(STAY_IN, [stay_row(card_id, stay) for stay in stays])
    sum_all(write)
    write("INSERT INTO week_zone (zone) VALUES (?)", [(zone_name,)])
