"""What jobs took on closed cards against what they are listed at today, job by job."""

from shopcli.shop.own_times_now import LISTED_NOW, own_times
from shopcli.shop.past_times import FORGOTTEN, MOST_CARDS, YEAR_S, YEARS
from shopcli.shop.week_views import Actuals, Case
from shopcli.store.reads.week_jobs import jobs
from shopcli.store.shop import Shop
from shopcli.worklists.with_times import WHOLE

CASES = f"""
WITH closed AS (
    SELECT id, number, vehicle_id, closed_week, closed_at FROM card WHERE state = 'closed' AND closed_at >= ?
    ORDER BY closed_at DESC LIMIT ?
)
SELECT k.template, c.id, c.number, v.registration, c.closed_week, v.sheet, k.listed, k.clocked FROM (
    SELECT t.card_id, t.template, SUM({LISTED_NOW}) AS listed, SUM(COALESCE(e.seconds, 0)) AS clocked
    FROM closed d JOIN task t ON t.card_id = d.id LEFT JOIN (
        SELECT x.task_id, SUM(x.seconds) AS seconds FROM day_hours x
        WHERE x.card_id IN (SELECT id FROM closed) GROUP BY x.task_id
    ) e ON e.task_id = t.id
    WHERE t.state = 'done' GROUP BY t.card_id, t.template
) k JOIN closed c ON c.id = k.card_id JOIN vehicle v ON v.id = c.vehicle_id
WHERE k.listed >= 0.5 AND k.clocked > 0 ORDER BY c.closed_at, c.id, k.template"""


def actuals(shop: Shop) -> tuple[Actuals, ...]:
    """Return the jobs of the last years' closed cards by template, those with the most cases first; each oldest first.

    The cases are those a price is learned from (`shopcli.shop.past_times`): a clock that was surely forgotten is none.
    """
    cases: dict[str, list[Case]] = {}
    for template, *row, listed, clocked in shop.fetch(CASES, (shop.at() - YEARS * YEAR_S, MOST_CARDS)):
        case = Case(*(*row, float(listed), int(clocked)))
        if 1 / FORGOTTEN <= case.ratio <= FORGOTTEN:
            cases.setdefault(template, []).append(case)
    own, called = own_times(shop.fetch), jobs(shop, cases)
    found = [
        Actuals(name, called[name].title, called[name].system, own.get(name, WHOLE), tuple(there))
        for name, there in cases.items()
    ]
    return tuple(sorted(found, key=lambda a: (-len(a.cases), a.title)))
