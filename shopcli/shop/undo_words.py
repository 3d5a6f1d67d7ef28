"""What taking an act back does, in words, before it is done and after: one sentence a record."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, tzinfo
from typing import Any

from shopcli.shop.fetching import Fetch
from shopcli.shop.touched import Row


def _time(seconds: object, zone: tzinfo) -> str:
    return f"{datetime.fromtimestamp(int(str(seconds)), UTC).astimezone(zone):%H:%M}"


def _one(fetch: Fetch, sql: str, key: object) -> tuple[Any, ...]:
    rows = fetch(sql, (key,))
    return rows[0] if rows else ("it",)


def _task(fetch: Fetch, key: object) -> str:
    return str(_one(fetch, "SELECT title FROM task WHERE id = ?", key)[0])


def _so_far(row: Row, at: int) -> str:
    """Say how much time goes, for a stretch an act began."""
    now = row.now or {}
    started, ended = now.get("started_at"), now.get("ended_at")
    if not isinstance(started, int):
        return ""
    minutes = max(0, (ended if isinstance(ended, int) else at) - started) // 60
    return f" ({minutes // 60}:{minutes % 60:02d})"


def _clock(fetch: Fetch, row: Row, zone: tzinfo, at: int) -> str:
    rows = fetch("SELECT task_id, started_at, ended_at FROM clock_entry WHERE id = ?", (row.key,))
    if not rows:
        return ""
    task_id, started, _ended = rows[0]
    title, since = _task(fetch, task_id), _time(started, zone)
    if row.made:
        return f"The time on '{title}' from {since} is taken off{_so_far(row, at)}."
    if row.was and row.was.get("ended_at", 0) is None and row.now and row.now.get("ended_at") is not None:
        return f"The clock on '{title}' runs on from {since}, as if it had not stopped."
    return f"The time on '{title}' stands as it was."


def _break(fetch: Fetch, row: Row, zone: tzinfo) -> str:
    rows = fetch("SELECT started_at FROM work_break WHERE id = ?", (row.key,))
    if not rows:
        return ""
    since = _time(rows[0][0], zone)
    if row.made:
        return f"The break from {since} is taken off."
    return (
        f"The break goes on from {since}." if row.was and "ended_at" in row.was else "The break is as it was."
    )


def _reading(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    name, typed = _one(fetch, "SELECT name, typed FROM reading WHERE id = ?", row.key)
    return f"{name} {typed} is struck." if row.made else f"{name} {typed} stands again."


def _spec(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    from shopcli.worklists.freeze import spec_from_json

    (text,) = _one(fetch, "SELECT spec FROM vehicle_spec WHERE id = ?", row.key)
    spec = spec_from_json(text)
    figure = f"{spec.label} {spec.limits.text()}"
    return f"{figure} no longer holds." if row.made else f"{figure} holds again."


def _tag(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (name,) = _one(fetch, "SELECT name FROM tag WHERE id = ?", row.key)
    if row.made:
        return f"Tag off: {name}."
    return f"Tag hangs again: {name}." if row.now and row.now.get("lifted_at") else f"Tag off again: {name}."


def _owed(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    title = (row.was or {}).get("title") or _one(fetch, "SELECT title FROM owed WHERE id = ?", row.key)[0]
    return f"No longer owed: {title}." if row.made else f"Owed again: {title}."


def _of_task(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    title, was = _task(fetch, row.key), row.was or {}
    if row.made:
        return f"Off the work list: {title}."
    if "state" in was:
        return f"{was['state'].capitalize()} again: {title}."
    if "second_by" in was:
        return f"The second check is open again: {title}."
    if "frozen" in was:
        return f"Without what the job shared with it: {title}."
    return f"The note is as it was: {title}." if "note" in was else ""


STAYING = """
SELECT CASE WHEN label = '' OR lower(label) = lower(name) THEN name ELSE name || ', ' || label END || ' ' || typed
FROM reading WHERE task_id = ? AND struck_at IS NULL ORDER BY id"""
FITTED = "SELECT description FROM card_part WHERE task_id = ? AND state = 'fitted' ORDER BY id"
MOST_NAMED = 4


def stays(fetch: Fetch, task_id: int) -> str:
    """Say what of a task is not taken back when it is opened again: its readings and the parts fitted at it."""
    read = [str(text) for (text,) in fetch(STAYING, (task_id,))]
    told = read if len(read) <= MOST_NAMED else [f"{len(read)} readings"]
    told += [f"{what} fitted" for (what,) in fetch(FITTED, (task_id,))]
    return f"Stays as it is: {'; '.join(told)}." if told else ""


def _part_line(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (what,) = _one(fetch, "SELECT description FROM card_part WHERE id = ?", row.key)
    if row.made:
        return f"Off the card: {what}."
    was = row.was or {}
    return f"{what}: {was['state']} again." if "state" in was else f"{what}: as it was."


def _stock(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    was, now = row.was or {}, row.now or {}
    if "stock_milli" not in was or "stock_milli" not in now:
        return ""
    (name,) = _one(fetch, "SELECT name FROM part WHERE id = ?", row.key)
    back = (was["stock_milli"] - now["stock_milli"]) / 1000
    return f"{name}: {back:g} back on the shelf." if back > 0 else f"{name}: {-back:g} off the shelf."


def _finding(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (what,) = _one(fetch, "SELECT what FROM finding WHERE id = ?", row.key)
    return f"The finding goes: {what}." if row.made else f"The finding is open again: {what}."


CARD_WORDS = {
    "words": "the customer's words",
    "title": "the title",
    "odometer": "the odometer",
    "left_with": "what was left with the car",
    "car_keys": "the keys",
    "fuel": "the fuel",
    "damage": "the damage",
    "authority_minor": "the authority",
    "promised": "the promise date",
    "held_for": "why it was held",
    "handed_to": "not fetched yet",
}


def _card(_fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    told = [word for column, word in CARD_WORDS.items() if row.was and column in row.was]
    return f"As before: {', '.join(told)}." if told else ""


def _outwork(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (what,) = _one(fetch, "SELECT what FROM outwork WHERE id = ?", row.key)
    return f"Not sent out: {what}." if row.made else f"Still out: {what}."


def _order(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (number,) = _one(fetch, "SELECT number FROM purchase_order WHERE id = ?", row.key)
    if row.made:
        return f"Order {number} is given up."
    was = row.was or {}
    return f"Order {number}: {was['state']} again." if "state" in was else ""


def _order_line(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (what,) = _one(fetch, "SELECT description FROM order_line WHERE id = ?", row.key)
    was = row.was or {}
    if row.made:
        return f"Off the order: {what}."
    return f"Not in: {what}." if "in_milli" in was else f"On the order as before: {what}."


def _sent_back(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (what,) = _one(fetch, "SELECT description FROM sent_back WHERE id = ?", row.key)
    return f"Not sent back: {what}." if row.made else f"Its credit is to come still: {what}."


def _wish(fetch: Fetch, row: Row, _zone: tzinfo) -> str:
    (task_id,) = _one(fetch, "SELECT task_id FROM wish WHERE id = ?", row.key)
    title = _task(fetch, task_id)
    return f"The wish about '{title}' goes." if row.made else f"The wish about '{title}' holds again."


def _call(_fetch: Fetch, _row: Row, _zone: tzinfo) -> str:
    return "The note of the call goes."


def _waiver(_fetch: Fetch, _row: Row, _zone: tzinfo) -> str:
    return "What was waived hinders again."


SENTENCES: dict[str, Callable[[Fetch, Row, tzinfo], str]] = {
    "work_break": _break,
    "reading": _reading,
    "vehicle_spec": _spec,
    "tag": _tag,
    "owed": _owed,
    "task": _of_task,
    "card_part": _part_line,
    "part": _stock,
    "finding": _finding,
    "card": _card,
    "outwork": _outwork,
    "purchase_order": _order,
    "order_line": _order_line,
    "sent_back": _sent_back,
    "call_note": _call,
    "waiver": _waiver,
    "wish": _wish,
}


def effects(fetch: Fetch, rows: Sequence[Row], zone: tzinfo, at: int) -> tuple[str, ...]:
    """Return what bringing the rows back at a moment (seconds UTC) changes, as far as it is worth a word."""
    said = [_clock(fetch, row, zone, at) for row in rows if row.table == "clock_entry"]
    said += [SENTENCES[row.table](fetch, row, zone) for row in rows if row.table in SENTENCES]
    said += [
        stays(fetch, row.key)
        for row in rows
        if row.table == "task" and (row.was or {}).get("state") == "open"
    ]
    return tuple(dict.fromkeys(sentence for sentence in said if sentence))
