"""Are the tables of the week in step with what they rest on? Everything is reckoned anew from nothing and held against them."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import tzinfo
from itertools import pairwise

from shopcli.shop.fetching import Fetch
from shopcli.shop.week_parts import DayRow, Entry, days_of, read_body, stand_of
from shopcli.shop.week_recount import Sold, hours_counted, jobs_counted
from shopcli.shop.week_sold import CLOSED, job_rows, sold_rows

ENTRIES = """
SELECT e.id, e.person_id, e.card_id, e.task_id, t.template, e.started_at, e.ended_at
FROM clock_entry e JOIN task t ON t.id = e.task_id WHERE e.ended_at IS NOT NULL ORDER BY e.id"""
DAYS = "SELECT entry_id, day, week, person_id, card_id, task_id, template, seconds FROM day_hours"
INVOICES = "SELECT id, card_id, week, body FROM invoice ORDER BY id"
SOLD = "SELECT invoice_id, task_id, person_id, week, card_id, template, seconds, minor FROM sold_hours"
OFF = "SELECT invoice_id, week, minor FROM taken_off"
LABOUR = """
SELECT i.number, i.labour_minutes * 60, i.labour_minor, COALESCE(SUM(s.seconds), 0), COALESCE(SUM(s.minor), 0)
FROM invoice i LEFT JOIN sold_hours s ON s.invoice_id = i.id GROUP BY i.id, i.number, i.labour_minutes, i.labour_minor
HAVING i.labour_minutes * 60 <> COALESCE(SUM(s.seconds), 0) OR i.labour_minor <> COALESCE(SUM(s.minor), 0) ORDER BY i.number"""
WEEK_HOURS = "SELECT week, person_id, template, clocked_s, sold_s FROM week_hours"
WEEK_JOBS = "SELECT week, template, cards, sold_s, minor, took_s FROM week_jobs"
JOBS = "SELECT card_id, template, closed_at, listed_milli, seconds FROM job_times"
STAYS = "SELECT card_id, nth, state, waits, why, started_at, ended_at FROM card_stay ORDER BY card_id, nth"
CARDS = "SELECT id, number, state, held_for, waits_for_parts, handed_at, opened_at FROM card ORDER BY id"
MOST_TOLD = 20
Key = tuple[object, ...]


def out_of_step(fetch: Fetch, zone: tzinfo) -> tuple[str, ...]:
    """Return what is not as it would be reckoned from nothing, in words, at most so many of each; nothing when all is well.

    Parameters
    ----------
    fetch : callable
        Reads rows by SQL text.
    zone : tzinfo
        Where the shop is.
    """
    days = [day for row in fetch(ENTRIES) for day in days_of(Entry(*row), zone)]
    sold: list[Key] = []
    off: list[Key] = []
    for key, card_id, week, body in fetch(INVOICES):
        labour, taken = sold_rows(fetch, key, card_id, week, read_body(body))
        sold.extend(labour)
        off.extend(taken)
    jobs = (tuple(job) for row in fetch(CLOSED) for job in job_rows(fetch, *row))
    return (
        *_first(_differing("hours by day", fetch(DAYS), days)),
        *_first(_differing("hours sold", fetch(SOLD), sold)),
        *_first(_sums(fetch, days, [tuple(row[2:]) for row in sold])),
        *_first(_differing("discounts", fetch(OFF), off)),
        *_first(_differing("times of jobs", fetch(JOBS), jobs)),
        *_first(_labour(fetch)),
        *_first(_stays(fetch)),
    )


def _first(told: Iterable[str]) -> list[str]:
    found = []
    for text in told:
        found.append(text)
        if len(found) == MOST_TOLD:
            break
    return found


def _differing(what: str, kept: Iterable[Sequence[object]], reckoned: Iterable[Key]) -> Iterator[str]:
    there, wanted = {tuple(row) for row in kept}, set(reckoned)
    for row in sorted(there - wanted, key=str):
        yield f"{what}: kept and not so: {row}"
    for row in sorted(wanted - there, key=str):
        yield f"{what}: not kept: {row}"


def _sums(fetch: Fetch, days: Sequence[DayRow], rows: Iterable[Key]) -> Iterator[str]:
    sold: list[Sold] = [(w, p, t, c, s, m) for p, w, c, t, s, m in rows]  # type: ignore[misc]
    yield from _differing("hours of a week", fetch(WEEK_HOURS), hours_counted(days, sold))
    yield from _differing("jobs of a week", fetch(WEEK_JOBS), jobs_counted(days, sold))


def _labour(fetch: Fetch) -> Iterator[str]:
    for number, seconds, minor, shared, money in fetch(LABOUR):
        yield f"hours sold: invoice {number} has {seconds} s and {minor}, shared are {shared} s and {money}"


def _stays(fetch: Fetch) -> Iterator[str]:
    """Yield the cards whose stays do not follow one another from the day they came, or do not end as the card stands."""
    stays: dict[int, list[Sequence[object]]] = {}
    for row in fetch(STAYS):
        stays.setdefault(row[0], []).append(row)
    for key, number, *stand, opened_at in fetch(CARDS):
        there, now = stays.get(key, []), stand_of(*stand)
        if not there or there[0][5] != opened_at:
            yield f"card {number}: its stays do not begin when it was opened"
            continue
        if any(one[6] is None or _later(one[6], two[5]) for one, two in pairwise(there)):
            yield f"card {number}: its stays overlap"
        last = there[-1]
        if now.state and (last[6] is not None or (last[2], last[3]) != (now.state, now.waits)):
            yield f"card {number}: it stands as {now.state}, and its last stay says {last[2]}"
        if not now.state and last[6] is None:
            yield f"card {number}: it is gone, and its last stay has no end"


def _later(ended: object, began: object) -> bool:
    return int(str(ended)) > int(str(began))
