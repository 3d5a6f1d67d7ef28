"""What was built on an act though no record of it was touched again: work done after it, readings judged by it.

Each question answers with the later act in words, or with nothing.
"""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shopcli.shop.fetching import Fetch
from shopcli.shop.tagrules import barring
from shopcli.shop.touched import Row
from shopcli.worklists.freeze import spec_from_json, task_from_json

LATER_DONE = """
SELECT j.id, t.frozen, t.card_id FROM journal j JOIN task t ON t.id = j.subject_id JOIN card c ON c.id = t.card_id
WHERE j.act = 'FinishTask' AND j.id > ? AND t.state = 'done'
AND c.vehicle_id = (SELECT vehicle_id FROM card WHERE id = ?)
AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id) ORDER BY j.id"""
SIGNED = """
SELECT MAX(j.id) FROM journal j JOIN task t ON t.id = j.subject_id
WHERE j.act = 'SecondCheck' AND j.subject_id = ? AND j.id > ? AND t.second_by IS NOT NULL
AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id)"""
SETTLED = """
SELECT MAX(j.id) FROM journal j JOIN task t ON t.id = j.subject_id
WHERE j.act IN ('FinishTask', 'LeaveOut') AND j.subject_id = ? AND t.state <> 'open'
AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id)"""
READ = """
SELECT MAX(j.id) FROM reading r JOIN journal j ON j.act = 'TakeReading' AND j.subject_id = r.id
WHERE r.task_id = ? AND r.struck_at IS NULL"""
JUDGED = """
SELECT j.id, r.limits, r.provenance FROM reading r JOIN journal j ON j.act = 'TakeReading' AND j.subject_id = r.id
WHERE r.vehicle_id = ? AND r.struck_at IS NULL AND j.id > ? ORDER BY j.id"""

OPENED = """
SELECT MAX(j.id) FROM journal j JOIN card c ON c.id = j.subject_id JOIN offer_answer a ON a.offer_id = c.offer_id
WHERE j.act = 'OpenFromOffer' AND a.id = ? AND j.id > ?"""


@dataclass(frozen=True, slots=True)
class Kept:
    """An act as the journal kept it."""

    id: int
    act: str
    person_id: int
    at: int
    card_id: int | None
    subject_id: int | None
    rows: tuple[Row, ...]


def tasks_done_after_it(fetch: Fetch, kept: Kept) -> int | None:
    """Return a later act that rests on this one.

    It signed the same task, or said a task done that comes after it, that a tag lifted here would have barred, or
    that hangs or owes the same: what hangs or is owed once already is not written twice.
    """
    for row in kept.rows:
        if row.table == "task":
            ((signed,),) = fetch(SIGNED, (row.key, kept.id))
            if signed is not None:
                return int(signed)
    keys = _texts(fetch, kept, "task", "SELECT key FROM task WHERE id = ?")
    hung = _texts(fetch, kept, "tag", "SELECT name FROM tag WHERE id = ?", made=True)
    owed = _texts(fetch, kept, "owed", "SELECT title FROM owed WHERE id = ?", made=True)
    lifted = [
        (name, bars.split("\n"))
        for row in kept.rows
        if row.table == "tag" and not row.made and row.now and row.now.get("lifted_at") is not None
        for name, bars in fetch("SELECT name, bars FROM tag WHERE id = ?", (row.key,))
    ]
    for later, frozen, card_id in fetch(LATER_DONE, (kept.id, kept.card_id)):
        task = task_from_json(frozen)
        after = card_id == kept.card_id and keys & set(task.after)
        same = hung & set(task.hangs) or (card_id == kept.card_id and owed & {o.title for o in task.owes})
        if after or same or any(barring(name, bars, task) for name, bars in lifted):
            return int(later)
    return None


def _texts(fetch: Fetch, kept: Kept, table: str, sql: str, *, made: bool = False) -> set[str]:
    rows = [row for row in kept.rows if row.table == table and (row.made or not made)]
    return {str(text) for row in rows for (text,) in fetch(sql, (row.key,))}


def reading_in_a_settled_task(fetch: Fetch, kept: Kept) -> int | None:
    """Return the later act that settled the task a reading belongs to."""
    for row in kept.rows:
        if row.table == "reading":
            ((task_id,),) = fetch("SELECT task_id FROM reading WHERE id = ?", (row.key,))
            ((later,),) = fetch(SETTLED, (task_id,))
            if later is not None and later > kept.id:
                return int(later)
    return None


def readings_judged_by_it(fetch: Fetch, kept: Kept) -> int | None:
    """Return a later reading that was judged by a number."""
    for row in kept.rows:
        if row.table != "vehicle_spec" or not row.made:
            continue
        ((vehicle_id, text),) = fetch("SELECT vehicle_id, spec FROM vehicle_spec WHERE id = ?", (row.key,))
        spec = spec_from_json(text)
        mine = (json.dumps(spec.limits.to_json()), spec.provenance.words())
        for later, limits, provenance in fetch(JUDGED, (vehicle_id, kept.id)):
            if (limits, provenance) == mine:
                return int(later)
    return None


def card_opened_from_it(fetch: Fetch, kept: Kept) -> int | None:
    """Return the later act that opened a card from an offer that was accepted."""
    for row in kept.rows:
        if row.table == "offer_answer":
            ((later,),) = fetch(OPENED, (row.key, kept.id))
            if later is not None:
                return int(later)
    return None


def put_on_the_order_since(fetch: Fetch, kept: Kept) -> int | None:
    """Return the later act that put something else on an order this act made."""
    mine = {row.key for row in kept.rows if row.table == "order_line"}
    for row in kept.rows:
        if row.table == "purchase_order" and row.made:
            lines = fetch("SELECT id FROM order_line WHERE order_id = ? AND closed_for = ''", (row.key,))
            others = [("order_line", key) for (key,) in lines if key not in mine]
            if others:
                return later_touching(fetch, kept, others)
    return None


def shared_task_worked_on(fetch: Fetch, kept: Kept) -> int | None:
    """Return the later act that settled a task this job shares, or read something on it."""
    for row in kept.rows:
        if row.table == "task" and not row.made:
            for sql in (SETTLED, READ):
                ((later,),) = fetch(sql, (row.key,))
                if later is not None and later > kept.id:
                    return int(later)
    return None


QUESTIONS: dict[str, Callable[[Fetch, Kept], int | None]] = {
    f.__name__: f
    for f in (
        tasks_done_after_it,
        reading_in_a_settled_task,
        readings_judged_by_it,
        card_opened_from_it,
        put_on_the_order_since,
        shared_task_worked_on,
    )
}


def later_touching(fetch: Fetch, kept: Kept, places: Sequence[tuple[str, int]]) -> int | None:
    """Return the last act after this one, still standing, that touched one of the records."""
    for table, key in places:
        found = fetch(
            "SELECT MAX(j.id) FROM journal j WHERE j.id > ? AND j.undid IS NULL AND j.touched LIKE ?"
            " AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id)",
            (kept.id, f'%["{table}",{key},%'),
        )
        if found and found[0][0] is not None:
            return int(found[0][0])
    return None
