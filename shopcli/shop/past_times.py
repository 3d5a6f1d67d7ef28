"""The shop's own past times, as the estimate of a job learns from them.

A job is a template's tasks on one closed card, its time what was clocked on those that were done, held against what
was listed for the same tasks. Open and void cards teach nothing: the one is not over, the other never was.
"""

from dataclasses import dataclass
from math import log

from shopcli.shop.fetching import Fetch
from shopcli.shop.own_times_now import LISTED_NOW
from shopcli.workings.estimates import Estimator, Past

# Older work says less of who works here now; a clock that ran an eighth of the listed time or eight times it was
# forgotten: both common practice, no source.
YEARS, FORGOTTEN = 3, 8
MOST_CARDS = 1_500  # more teach nothing new, and take longer to read
YEAR_S = 365 * 24 * 3600

PAST = f"""
WITH closed AS (
    SELECT id, vehicle_id, closed_week, closed_at FROM card WHERE state = 'closed' AND closed_at >= ?
    ORDER BY closed_at DESC LIMIT ?
)
SELECT k.template, v.sheet, c.closed_week, k.listed, k.clocked FROM (
    SELECT t.card_id, t.template, SUM({LISTED_NOW}) AS listed, SUM(COALESCE(e.seconds, 0)) AS clocked
    FROM closed d JOIN task t ON t.card_id = d.id LEFT JOIN (
        SELECT x.task_id, SUM(x.ended_at - x.started_at) AS seconds
        FROM clock_entry x WHERE x.card_id IN (SELECT id FROM closed) AND x.ended_at IS NOT NULL GROUP BY x.task_id
    ) e ON e.task_id = t.id
    WHERE t.state = 'done' GROUP BY t.card_id, t.template
) k JOIN closed c ON c.id = k.card_id JOIN vehicle v ON v.id = c.vehicle_id
WHERE k.listed >= 0.5 AND k.clocked > 0 ORDER BY c.closed_at, c.id, k.template"""


@dataclass(frozen=True, slots=True)
class PastTime:
    """A job as it went: its template, the vehicle's spec sheet, the week it was closed in, listed and clocked time.

    Listed is what the same tasks are listed at today: an own expected time taken over since is in it.
    """

    template: str
    sheet: str
    week: str
    listed_min: int
    clocked_s: int

    @property
    def ratio(self) -> float:
        """Clocked over listed time, [-]."""
        return self.clocked_s / 60 / self.listed_min


def past_times(fetch: Fetch, at: int) -> tuple[PastTime, ...]:
    """Return the jobs clocked on cards closed within the last years, at most so many cards, oldest first.

    Parameters
    ----------
    fetch : callable
        Reads rows by SQL text.
    at : int
        Now, in seconds UTC, [s]
    """
    since = at - YEARS * YEAR_S
    rows = (PastTime(r[0], r[1], r[2], round(r[3]), int(r[4])) for r in fetch(PAST, (since, MOST_CARDS)))
    return tuple(row for row in rows if 1 / FORGOTTEN <= row.ratio <= FORGOTTEN)


def estimator(fetch: Fetch, at: int) -> Estimator:
    """Return the shop's past, weighed; vehicles with the same spec sheet are one kind."""
    return Estimator(Past(row.template, row.sheet, log(row.ratio)) for row in past_times(fetch, at))
