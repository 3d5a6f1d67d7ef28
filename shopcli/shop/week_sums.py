"""The sums of the week's hours, kept for every ISO week: a year is read from some thousand rows, not from a hundred thousand.

What an act changed is summed anew from its rows (`day_hours`, `sold_hours`) in the same transaction; nothing is ever added to a
sum or taken off one, so that none can drift away from what it sums.
"""

from collections.abc import Iterable
from typing import NamedTuple

from shopcli.shop.fetch import Write
from shopcli.shop.fetching import Fetch

CELL = "WHERE week = ? AND person_id = ? AND template = ?"
WEEK = "WHERE week = ?"
HOURS_IN = """
INSERT INTO week_hours (week, person_id, template, clocked_s, sold_s)
SELECT week, person_id, template, SUM(clocked), SUM(sold) FROM (
    SELECT week, person_id, template, seconds AS clocked, 0 AS sold FROM day_hours {where}
    UNION ALL SELECT week, person_id, template, 0, seconds FROM sold_hours {where}) q
GROUP BY week, person_id, template"""
# A card has one invoice, so its labour is sold in one week; what it took is clocked whenever it was.
JOBS_IN = """
INSERT INTO week_jobs (week, template, cards, sold_s, minor, took_s)
SELECT week, template, SUM(cards), SUM(sold), SUM(net), SUM(took) FROM (
    SELECT week, template, 1 AS cards, SUM(seconds) AS sold, SUM(minor) AS net, 0 AS took FROM sold_hours {where}
    GROUP BY week, template, card_id
    UNION ALL SELECT b.week, d.template, 0, 0, 0, d.seconds
    FROM (SELECT DISTINCT week, card_id FROM sold_hours {where}) b JOIN day_hours d ON d.card_id = b.card_id) q
GROUP BY week, template"""
BILLED_IN = "SELECT DISTINCT week FROM sold_hours WHERE card_id = ?"
TABLES = ("week_hours", "week_jobs")


class Summed(NamedTuple):
    """What a row that is summed is found by: its cell of `week_hours`, and its card."""

    week: str
    person_id: int
    template: str
    card_id: int


def sum_anew(fetch: Fetch, write: Write, changed: Iterable[Summed]) -> None:
    """Bring the sums into step with rows that came, changed or went; `changed` names how they lay before and lie now."""
    rows = set(changed)
    cells = sorted({row[:3] for row in rows})
    weeks = sorted({week for card in {row.card_id for row in rows} for (week,) in fetch(BILLED_IN, (card,))})
    write(f"DELETE FROM week_hours {CELL}", cells)
    write(HOURS_IN.format(where=CELL), [(*cell, *cell) for cell in cells])
    write(f"DELETE FROM week_jobs {WEEK}", [(week,) for week in weeks])
    write(JOBS_IN.format(where=WEEK), [(week, week) for week in weeks])


def sum_all(write: Write) -> None:
    """Write every sum from nothing."""
    for sql in (*(f"DELETE FROM {table}" for table in TABLES), HOURS_IN, JOBS_IN):
        write(sql.format(where=""), [()])
