"""Who is paid for which days: the mechanics, from the day they came, less what they were away."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from shopcli.shop.paid_hours import Away, Paid, PaidDays
from shopcli.shop.rights import paid_by_the_hour
from shopcli.shop.week_views import Period
from shopcli.store.reads.week_bounds import day_of, so_far
from shopcli.store.shop import Shop

PEOPLE = "SELECT id, name, role, active FROM person ORDER BY id"
CAME = "SELECT subject_id, MIN(at) FROM journal WHERE act = 'AddPerson' GROUP BY subject_id"
# Two questions: an index answers the least and the most at once only one by one.
CLOCKED = """
SELECT (SELECT MIN(day) FROM day_hours WHERE person_id = ?), (SELECT MAX(day) FROM day_hours WHERE person_id = ?)"""
AWAY = """
SELECT person_id, first, last, minutes FROM absence WHERE withdrawn_at IS NULL AND first <= ? AND last >= ?
ORDER BY person_id, first"""


@dataclass(frozen=True)
class Worker:
    """Somebody, and what they are paid for on each day of the period up to now; None for who is not paid by the hour."""

    id: int
    name: str
    days: Mapping[date, Paid] | None

    @cached_property
    def paid(self) -> Paid:
        """All days together."""
        days = (self.days or {}).values()
        return Paid(sum(day.open_s for day in days), sum(day.absent_s for day in days))


def workers(shop: Shop, period: Period) -> tuple[Worker, ...]:
    """Return everybody with what they are paid for in a period, up to now.

    A mechanic is paid from the day they were taken on, or first clocked; one who left, up to the day they last clocked.
    """
    upto = so_far(shop, period)
    last = min(period.last, day_of(shop, upto))
    came = {key: day_of(shop, at) for key, at in shop.fetch(CAME) if key is not None}
    away: dict[int, list[Away]] = {}
    for person_id, first, until, minutes in shop.fetch(AWAY, (last.isoformat(), period.monday.isoformat())):
        one = Away(date.fromisoformat(first), date.fromisoformat(until), minutes)
        away.setdefault(person_id, []).append(one)
    reckoned, found = PaidDays(shop.settings, upto), []
    for key, name, role, active in shop.fetch(PEOPLE):
        if not paid_by_the_hour(role):
            found.append(Worker(key, name, None))
            continue
        first_day, last_day = (
            date.fromisoformat(d) if d else None for d in shop.fetch(CLOCKED, (key, key))[0]
        )
        begins = min((d for d in (came.get(key), first_day) if d), default=date.max)
        ends = last if active else min(last, last_day or date.min)
        first = max(period.monday, begins)
        days = reckoned.between(first, ends, away.get(key, ())) if first <= ends else {}
        found.append(Worker(key, name, days))
    return tuple(found)


def by_week(worker: Worker) -> dict[date, int]:
    """Return what somebody is paid for by the Monday of each week, [s]."""
    found: dict[date, int] = {}
    for day, paid in (worker.days or {}).items():
        monday = day - timedelta(days=day.weekday())
        found[monday] = found.get(monday, 0) + paid.paid_s
    return found
