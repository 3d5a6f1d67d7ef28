"""What jobs took on closed cards against what they are listed at today, job by job."""

from shopcli.shop.own_times_now import own_times
from shopcli.shop.past_times import FORGOTTEN, MOST_CARDS, YEAR_S, YEARS
from shopcli.shop.week_views import Actuals, Case
from shopcli.store.reads.week_jobs import jobs
from shopcli.store.shop import Shop
from shopcli.worklists.own_factor import WHOLE

CASES = """
SELECT j.template, c.id, c.number, v.registration, c.closed_week, v.sheet, j.listed_milli, j.seconds
FROM (SELECT id FROM card WHERE state = 'closed' AND closed_at >= ? ORDER BY closed_at DESC LIMIT ?) k
CROSS JOIN job_times j JOIN card c ON c.id = j.card_id JOIN vehicle v ON v.id = c.vehicle_id
WHERE j.card_id = k.id AND j.seconds > 0 ORDER BY c.closed_at, c.id, j.template"""
LEAST_LISTED_MIN = 0.5


def actuals(shop: Shop) -> tuple[Actuals, ...]:
    """Return the jobs of the last years' closed cards by template, those with the most cases first; each oldest first.

    The cases are those a price is learned from (`shopcli.shop.past_times`): a clock that was surely forgotten is none.
    """
    cases: dict[str, list[Case]] = {}
    own = own_times(shop.fetch)
    for template, *row, milli, clocked in shop.fetch(CASES, (shop.at() - YEARS * YEAR_S, MOST_CARDS)):
        listed = milli / 1000 * own.get(template, WHOLE) / WHOLE
        if listed < LEAST_LISTED_MIN:
            continue
        case = Case(*(*row, listed, int(clocked)))
        if 1 / FORGOTTEN <= case.ratio <= FORGOTTEN:
            cases.setdefault(template, []).append(case)
    called = jobs(shop, cases)
    found = [
        Actuals(name, called[name].title, called[name].system, own.get(name, WHOLE), tuple(there))
        for name, there in cases.items()
    ]
    return tuple(sorted(found, key=lambda a: (-len(a.cases), a.title)))
