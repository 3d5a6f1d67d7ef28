"""What an invoice sold, as the tables of the week keep it: read from its body and from the clock of its card."""

from collections.abc import Mapping
from typing import Any

from shopcli.shop.fetching import Fetch
from shopcli.shop.week_parts import off_of, sold_of

CLOCKED = "SELECT task_id, person_id, ended_at - started_at FROM clock_entry WHERE card_id = ? AND ended_at IS NOT NULL"
TEMPLATES = "SELECT id, template FROM task WHERE card_id = ?"
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
