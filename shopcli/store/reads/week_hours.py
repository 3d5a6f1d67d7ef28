"""Hours paid, clocked and sold: by week, person, template and system, from the tables kept for it."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from shopcli.shop.hours import by_day
from shopcli.shop.week_parts import DayRow, Entry, days_of
from shopcli.shop.week_views import HoursLine, HoursView, Period, Unclocked, week_name
from shopcli.store.reads.week_bounds import billed_sql, bounds, day_of, so_far, weeks_sql
from shopcli.store.reads.week_jobs import jobs
from shopcli.store.reads.week_paid import Worker, by_week, workers
from shopcli.store.shop import Shop
from shopcli.worklists.heads import Head

# By week, by person and by template at once: three questions could find an act of somebody's between them.
BOTH = "SUM(clocked_s), SUM(CASE WHEN week <> ? THEN sold_s ELSE 0 END) FROM week_hours WHERE {weeks}"
SUMS = f"""
SELECT week, NULL, NULL, {BOTH} GROUP BY week
UNION ALL SELECT NULL, person_id, NULL, {BOTH} GROUP BY person_id
UNION ALL SELECT NULL, NULL, template, {BOTH} GROUP BY template"""
# Of a week that is cut off.
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
    """Seconds by week, by person and by template."""

    weeks: dict[str, int] = field(default_factory=dict)
    people: dict[int, int] = field(default_factory=dict)
    templates: dict[str, int] = field(default_factory=dict)

    @property
    def sides(self) -> tuple[dict[Any, int], ...]:
        """By week, by person, by template."""
        return self.weeks, self.people, self.templates

    def add(self, cell: Cell, seconds: int) -> None:
        """Add seconds of a week, a person and a template."""
        week, person, template = cell
        self.weeks[week] = self.weeks.get(week, 0) + seconds
        self.people[person] = self.people.get(person, 0) + seconds
        self.templates[template] = self.templates.get(template, 0) + seconds

    @property
    def total(self) -> int:
        """All of them."""
        return sum(self.weeks.values())


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


def tallied(shop: Shop, period: Period) -> tuple[Tally, Tally, int]:
    """Return what was clocked, with clocks that run, what was sold on invoices issued, and how much of the former runs, [s]."""
    done, gone = Tally(), Tally()
    cut = "" if period.upto is None else period.names[-1]
    weeks, params = weeks_sql(period)
    for *keys, clocked, sold in shop.fetch(SUMS.format(weeks=weeks), (cut, *params) * 3):
        side = next(n for n, key in enumerate(keys) if key is not None)
        for tally, seconds in ((done, clocked), (gone, sold)):
            if seconds:
                tally.sides[side][keys[side]] = int(seconds)
    if cut:
        _cut_off(shop, period, done, gone)
    live = running(shop, period)
    for day in live:
        done.add((day.week, day.person_id, day.template), day.seconds)
    return done, gone, sum(day.seconds for day in live)


def _cut_off(shop: Shop, period: Period, done: Tally, gone: Tally) -> None:
    """Take off what was clocked behind where a period is cut off, and add what was sold in its last week before that."""
    for cell, seconds in _behind(shop, period):
        done.add(cell, -seconds)
    weeks, params = billed_sql(replace(period, monday=period.mondays[-1], weeks=1))
    for *cell, seconds in shop.fetch(SOLD_UNTIL.format(weeks=weeks), params):
        gone.add((cell[0], cell[1], cell[2]), int(seconds))


def hours(shop: Shop, period: Period) -> HoursView:
    """Return the hours of a period."""
    done, gone, live = tallied(shop, period)
    people = workers(shop, period)
    called = jobs(shop, sorted({*done.templates, *gone.templates}))
    systems = (_joined(tally.templates, called) for tally in (done, gone))
    paid = sum(worker.paid.paid_s for worker in people)
    return HoursView(
        period=period,
        total=HoursLine("", "all", paid, done.total, gone.total),
        weeks=_weeks(period, people, done, gone),
        people=_people(people, done, gone),
        templates=_lines(done.templates, gone.templates, lambda key: called[key].title),
        systems=_lines(*systems, str),
        unclocked=_unclocked(shop, period, people, done),
        running_s=live,
    )


def hours_weeks(shop: Shop, period: Period) -> tuple[HoursLine, ...]:
    """Return the weeks of a period without the rest."""
    done, gone, _live = tallied(shop, period)
    return _weeks(period, workers(shop, period), done, gone)


def _weeks(period: Period, people: Sequence[Worker], done: Tally, gone: Tally) -> tuple[HoursLine, ...]:
    paid: dict[str, int] = {}
    for worker in people:
        for monday, seconds in by_week(worker).items():
            paid[week_name(monday)] = paid.get(week_name(monday), 0) + seconds
    return tuple(
        HoursLine(name, name, paid.get(name, 0), done.weeks.get(name, 0), gone.weeks.get(name, 0))
        for name in period.names
    )


def _people(people: Sequence[Worker], done: Tally, gone: Tally) -> tuple[HoursLine, ...]:
    lines = (
        HoursLine(
            str(worker.id),
            worker.name,
            None if worker.days is None else worker.paid.paid_s,
            done.people.get(worker.id, 0),
            gone.people.get(worker.id, 0),
        )
        for worker in people
    )
    return tuple(line for line in lines if line.paid_s or line.clocked_s or line.sold_s)


def _joined(by_template: Mapping[str, int], called: Mapping[str, Head]) -> dict[str, int]:
    """Return seconds by system."""
    found: dict[str, int] = {}
    for template, seconds in by_template.items():
        system = called[template].system
        found[system] = found.get(system, 0) + seconds
    return found


def _lines(
    done: Mapping[str, int], gone: Mapping[str, int], name: Callable[[str], str]
) -> tuple[HoursLine, ...]:
    keys = {**done, **gone}
    lines = [HoursLine(key, name(key), None, done.get(key, 0), gone.get(key, 0)) for key in keys]
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
    rested: dict[int, int] = {}
    for (person_id, _day), seconds in breaks(shop, period).items():
        rested[person_id] = rested.get(person_id, 0) + seconds
    found = []
    for worker in people:
        if worker.days is None:
            continue
        paid, worked, rest = worker.paid, done.people.get(worker.id, 0), rested.get(worker.id, 0)
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
