"""What a closed card sold and took, as the tables of the week keep it: read from its bill, its tasks and its clock."""

from collections.abc import Mapping
from typing import Any

from shopcli.shop.fetching import Fetch
from shopcli.shop.week_parts import JobRow, jobs_of, off_of, sold_of

CLOCKED = "SELECT task_id, person_id, ended_at - started_at FROM clock_entry WHERE card_id = ? AND ended_at IS NOT NULL"
TEMPLATES = "SELECT id, template FROM task WHERE card_id = ?"
CLOSED = "SELECT c.id, c.closed_at FROM card c WHERE c.state = 'closed'"
TOOK = """
SELECT t.template, t.minutes, t.own_per_mille, COALESCE((
    SELECT SUM(e.ended_at - e.started_at) FROM clock_entry e WHERE e.task_id = t.id AND e.ended_at IS NOT NULL), 0)
FROM task t WHERE t.card_id = ? AND t.state = 'done' ORDER BY t.id"""
Rows = list[tuple[object, ...]]


def sold_rows(
    fetch: Fetch, invoice_id: int, card_id: int, week: str, bill: Mapping[str, Any]
) -> tuple[Rows, Rows]:
    """Return the rows of `sold_hours` and of `taken_off` of an invoice with that body."""
    templates: dict[int, str] = dict(fetch(TEMPLATES, (card_id,)))
    sold: Rows = [
        (invoice_id, s.task_id, s.person_id, week, card_id, templates[s.task_id], s.seconds, s.minor)
        for s in sold_of(bill, fetch(CLOCKED, (card_id,)))
    ]
    off = off_of(bill)
    return sold, [(invoice_id, week, off)] if off else []


def job_rows(fetch: Fetch, card_id: int, closed_at: int) -> list[JobRow]:
    """Return the rows of `job_times` of a closed card."""
    return jobs_of(card_id, closed_at, ((t, m, p, int(s)) for t, m, p, s in fetch(TOOK, (card_id,))))
