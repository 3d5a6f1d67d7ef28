"""Hours paid, clocked and sold: by week, person, template and system, from the tables kept for it."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from shopcli.shop.hours import by_day
from shopcli.shop.week_parts import DayRow, Entry, days_of
from shopcli.shop.week_views import HoursLine, HoursView, Period, Unclocked, week_name
from shopcli.store.reads.week_bounds import billed_sql, bounds, day_of, so_far, weeks_sql, whole_and_cut
from shopcli.store.reads.week_jobs import jobs
from shopcli.store.reads.week_paid import Worker, by_week, workers
from shopcli.store.shop import Shop
from shopcli.worklists.heads import Head

CLOCKED = "SELECT week, person_id, template, clocked_s FROM week_hours WHERE {weeks} AND clocked_s <> 0"
SOLD = "SELECT week, person_id, template, sold_s FROM week_hours WHERE {weeks} AND sold_s <> 0"
SOLD_UNTIL = "SELECT week, person_id, template, SUM(seconds) FROM sold_hours WHERE {weeks} GROUP BY week, person_id, template"
# What of the time kept lies behind a moment, of the entries that were not over then.
BEHIND = """
SELECT h.week, h.person_id, h.template, h.entry_id, h.day, h.seconds, e.started_at, e.ended_at FROM day_hours h
JOIN clock_entry e ON e.id = h.entry_id WHERE h.week = ? AND h.day >= ? AND e.ended_at > ?"""
RUNNING = """
SELECT e.id, e.person_id, e.card_id, e.task_id, t.template, e.started_at
FROM clock_entry e JOIN task t ON t.id = e.task_id WHERE e.ended_at IS NULL"""
# A break is over within a week, or it was forgotten.
BREAKS = """
SELECT person_id, started_at, COALESCE(ended_at, ?) FROM work_break
WHERE started_at >= ? AND started_at < ? AND COALESCE(ended_at, ?) > ?"""
WEEK_S = 7 * 24 * 3600
Cell = tuple[str, int, str]


@dataclass(frozen=True, slots=True)
class Tally:
    """Seconds by (week, person, template)."""

    cells: Mapping[Cell, int]

    def by(self, of: Callable[[Cell], object]) -> dict[object, int]:
        """Return the seconds by whatever is asked of a cell."""
        found: dict[object, int] = {}
        for cell, seconds in self.cells.items():
            key = of(cell)
            found[key] = found.get(key, 0) + seconds
        return found

    @property
    def total(self) -> int:
        """All of them."""
        return sum(self.cells.values())


def running(shop: Shop, period: Period) -> list[DayRow]:
    """Return what of the clocks that run now lies in a period, day by day up to now."""
    now, zone = so_far(shop, period), shop.settings.tz()
    names = set(period.names)
    found = []
    for row in sorted(shop.fetch(RUNNING)):
        found += [day for day in days_of(Entry(*(*row, max(now, row[5]))), zone) if day.week in names]
    return found


def _behind(shop: Shop, period: Period) -> Iterator[tuple[Cell, int]]:
    """Yield by (week, person, template) the seconds kept of a period's last week that lie behind where it is cut off."""
    if period.upto is None:
        return
    day, zone = day_of(shop, period.upto).isoformat(), shop.settings.tz()
    for week, person, template, _entry, on, seconds, began, ended in shop.fetch(
        BEHIND, (period.names[-1], day, period.upto)
    ):
        cut = max(began, period.upto)
        yield (week, person, template), min(seconds, by_day(cut, ended, zone).get(date.fromisoformat(on), 0))


def clocked(shop: Shop, period: Period) -> tuple[Tally, int]:
    """Return what was clocked, clocks that run included, and how much of it these are, [s]."""
    weeks, params = weeks_sql(period)
    cells: dict[Cell, int] = {
        tuple(row[:3]): int(row[3]) for row in shop.fetch(CLOCKED.format(weeks=weeks), params)
    }
    for cell, seconds in _behind(shop, period):
        cells[cell] = cells.get(cell, 0) - seconds
    live = running(shop, period)
    for day in live:
        cell = (day.week, day.person_id, day.template)
        cells[cell] = cells.get(cell, 0) + day.seconds
    return Tally(cells), sum(day.seconds for day in live)


def sold(shop: Shop, period: Period) -> Tally:
    """Return what was sold on invoices issued in a period."""
    found: dict[Cell, int] = {}
    for sql, part in zip((SOLD, SOLD_UNTIL), whole_and_cut(period), strict=True):
        if part is not None:
            weeks, params = billed_sql(part)
            found |= {tuple(row[:3]): int(row[3]) for row in shop.fetch(sql.format(weeks=weeks), params)}
    return Tally(found)


def hours(shop: Shop, period: Period) -> HoursView:
    """Return the hours of a period."""
    done, live = clocked(shop, period)
    gone = sold(shop, period)
    people = workers(shop, period)
    called = jobs(shop, sorted({cell[2] for cell in (*done.cells, *gone.cells)}))
    paid = sum(worker.paid.paid_s for worker in people)
    return HoursView(
        period=period,
        total=HoursLine("", "all", paid, done.total, gone.total),
        weeks=_weeks(period, people, done, gone),
        people=_people(people, done, gone),
        templates=_lines(done, gone, lambda cell: cell[2], lambda key: called[str(key)].title),
        systems=_lines(done, gone, lambda cell: called[cell[2]].system, str),
        unclocked=_unclocked(shop, period, people, done),
        running_s=live,
    )


def hours_weeks(shop: Shop, period: Period) -> tuple[HoursLine, ...]:
    """Return the weeks of a period without the rest."""
    return _weeks(period, workers(shop, period), clocked(shop, period)[0], sold(shop, period))


def _weeks(period: Period, people: Sequence[Worker], done: Tally, gone: Tally) -> tuple[HoursLine, ...]:
    paid: dict[str, int] = {}
    for worker in people:
        for monday, seconds in by_week(worker).items():
            paid[week_name(monday)] = paid.get(week_name(monday), 0) + seconds
    clocked_by, sold_by = done.by(lambda cell: cell[0]), gone.by(lambda cell: cell[0])
    return tuple(
        HoursLine(name, name, paid.get(name, 0), clocked_by.get(name, 0), sold_by.get(name, 0))
        for name in period.names
    )


def _people(people: Sequence[Worker], done: Tally, gone: Tally) -> tuple[HoursLine, ...]:
    clocked_by, sold_by = done.by(lambda cell: cell[1]), gone.by(lambda cell: cell[1])
    lines = (
        HoursLine(
            str(worker.id),
            worker.name,
            None if worker.days is None else worker.paid.paid_s,
            clocked_by.get(worker.id, 0),
            sold_by.get(worker.id, 0),
        )
        for worker in people
    )
    return tuple(line for line in lines if line.paid_s or line.clocked_s or line.sold_s)


def _lines(
    done: Tally, gone: Tally, of: Callable[[Cell], str], name: Callable[[object], str]
) -> tuple[HoursLine, ...]:
    clocked_by, sold_by = done.by(of), gone.by(of)
    keys = {**clocked_by, **sold_by}
    lines = [
        HoursLine(str(key), name(key), None, clocked_by.get(key, 0), sold_by.get(key, 0)) for key in keys
    ]
    return tuple(sorted(lines, key=lambda line: (-line.clocked_s, -line.sold_s, line.name)))


def breaks(shop: Shop, period: Period) -> dict[tuple[int, str], int]:
    """Return the breaks of a period by person and day, [s]."""
    start, end = bounds(shop, period)
    now, zone = so_far(shop, period), shop.settings.tz()
    found: dict[tuple[int, str], int] = {}
    for person_id, began, over in shop.fetch(BREAKS, (now, start - WEEK_S, end, now, start)):
        for day, seconds in by_day(max(began, start), min(over, end), zone).items():
            key = (person_id, day.isoformat())
            found[key] = found.get(key, 0) + seconds
    return found


def _unclocked(shop: Shop, period: Period, people: Iterable[Worker], done: Tally) -> tuple[Unclocked, ...]:
    clocked_by = done.by(lambda cell: cell[1])
    rested: dict[int, int] = {}
    for (person_id, _day), seconds in breaks(shop, period).items():
        rested[person_id] = rested.get(person_id, 0) + seconds
    found = []
    for worker in people:
        if worker.days is None:
            continue
        paid, worked, rest = worker.paid, clocked_by.get(worker.id, 0), rested.get(worker.id, 0)
        if not (paid.open_s or worked):
            continue
        left = paid.paid_s - worked - rest
        found.append(
            Unclocked(worker.id, worker.name, paid.open_s, paid.absent_s, paid.paid_s, worked, rest, left)
        )
    return tuple(found)


def templates_of(shop: Shop, system: str, names: Iterable[str]) -> list[str]:
    """Return those of some templates that are for a system."""
    called: Mapping[str, Head] = jobs(shop, names)
    return [name for name, head in called.items() if head.system == system]
