"""The parts the demo is played with: the calendar, the readings, the stretches of work."""

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from shopcli.shipped import shipped
from shopcli.store.demo_bench import Bench, Planner
from shopcli.store.demo_days import Days
from shopcli.store.demo_readings import scale_of, typed
from shopcli.store.demo_story import read_story
from shopcli.units import parse
from shopcli.worklists.expand import expand
from shopcli.worklists.library import Library
from shopcli.worklists.load import load_library
from shopcli.worklists.model import ReadingSlot
from shopcli.worklists.sheets import facts, lookup

LONDON = ZoneInfo("Europe/London")
SHEETS = ("demo-lark-1200", "demo-brindle-1600", "demo-corvane-24", "demo-hallam-35")
WEDNESDAY = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library()


def test_days_skip_the_weekend_both_ways() -> None:
    days = Days(WEDNESDAY, LONDON)
    assert [days.day(n) for n in (-3, -2, 0, 2, 3)] == [
        date(2026, 11, 20),
        date(2026, 11, 23),
        date(2026, 11, 25),
        date(2026, 11, 27),
        date(2026, 11, 30),
    ]


def test_the_clock_on_the_wall_is_the_shops() -> None:
    days = Days(datetime(2026, 10, 27, 12, 0, tzinfo=UTC), LONDON)
    # Summer time ended on Sunday 25 October 2026: Friday's nine is eight in UTC, Monday's is nine.
    assert days.at(-2, time(9)) == datetime(2026, 10, 23, 8, 0, tzinfo=UTC)
    assert days.at(-1, time(9)) == datetime(2026, 10, 26, 9, 0, tzinfo=UTC)


def test_minutes_ago_stay_on_the_day() -> None:
    days = Days(datetime(2026, 11, 25, 0, 10, tzinfo=UTC), LONDON)
    assert days.ago(25) == datetime(2026, 11, 25, 0, 0, tzinfo=UTC)
    assert Days(WEDNESDAY, LONDON).ago(25) == WEDNESDAY - timedelta(minutes=25)


@pytest.mark.parametrize(
    ("start", "minutes", "end"),
    [("09:00", 60, "10:00"), ("12:00", 30, "12:30"), ("12:00", 45, "13:15"), ("12:40", 10, "13:10")],
)
def test_work_stops_for_lunch(start: str, minutes: int, end: str) -> None:
    days = Days(WEDNESDAY, LONDON)
    walked = days.walk(days.at(-1, time.fromisoformat(start)), minutes)
    assert walked == days.at(-1, time.fromisoformat(end))


def test_any_five_working_days_of_the_story_have_work() -> None:
    """So that each of the last thirteen weeks has, whichever day the demo is opened on."""
    days = Days(WEDNESDAY, LONDON)
    story = read_story(shipped("sample_data") / "story.toml", days)
    worked = {
        line.at.astimezone(LONDON).date() for told in story for line in told.lines if line.verb == "works"
    }
    counts = [n for n in range(1, 66) if days.day(-n) in worked]
    assert counts[0] == 1
    assert max(later - earlier for earlier, later in pairwise(counts)) <= 5
    assert counts[-1] >= 65


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("imperial", [True, False])
def test_what_is_typed_can_be_read_and_as_left_is_in(library: Library, sheet: str, imperial: bool) -> None:
    known = facts(library, sheet, {})
    work = expand(library, ("engine-service", "brakes-adjust"), known, lookup(library, sheet, ()))
    checked = 0
    for car in ("A", "B", "C", "D", "E"):
        for task in work.tasks:
            for slot in task.readings:
                spec = task.spec(slot.spec)
                assert spec is not None
                text = typed(spec.limits, slot, imperial=imperial, seed=f"{car} {task.key}")
                read = parse(text, spec.limits.quantity, default_unit=spec.limits.unit)
                verdict = spec.limits.judge(read.value, unit=read.unit)
                if slot.phase == "as left":
                    assert verdict.standing == "in", (slot.key, text, verdict.words)
                checked += 1
    assert checked > 300


def test_some_are_found_out_and_none_absurdly(library: Library) -> None:
    limits = lookup(library, "demo-lark-1200", ()).get("valve_clearance_exhaust").limits  # type: ignore[union-attr]
    slots = [ReadingSlot(f"clearance@{n} exhaust|as found", "clearance", "", "as found") for n in range(100)]
    texts = [typed(limits, slot, imperial=True, seed="X") for slot in slots]
    values = [parse(text, "length") for text in texts]
    out = [v for v in values if limits.judge(v.value, unit=v.unit).standing != "in"]
    assert 20 <= len(out) <= 70
    assert all(0.00005 < v.value < 0.0003 for v in values)
    assert len(set(texts)) > 4


def test_a_scale_has_marks_a_person_can_read(library: Library) -> None:
    belt = lookup(library, "demo-lark-1200", ()).get("belt_deflection")
    assert belt is not None
    assert str(scale_of(belt.limits, imperial=False).step) == "0.5"


def bench_of(library: Library, *jobs: str, sheet: str = "demo-lark-1200", pace: float = 1.0) -> Bench:
    work = expand(library, jobs, facts(library, sheet, {}), lookup(library, sheet, ()))
    tasks = {task.key: (number, task) for number, task in enumerate(work.tasks, 1)}
    return Bench("X", tasks, pace, frozenset(), set())


def test_a_stretch_keeps_order_waits_and_tags(library: Library) -> None:
    planner = Planner(Days(WEDNESDAY, LONDON), library.tags)
    bench = bench_of(library, "oil-change")
    steps = planner.stretch(bench, planner.days.at(-1, time(9)))
    ends = {step.task.key: step.end for step in steps}
    begins = {step.task.key: step.begin for step in steps}
    assert set(ends) == set(bench.tasks)
    for step in steps:
        for before in step.task.after:
            waits = timedelta(minutes=bench.tasks[before][1].waits)
            assert ends[before] + waits <= begins[step.task.key]
    assert bench.tags == set()


def test_a_charging_battery_ends_the_day(library: Library) -> None:
    planner = Planner(Days(WEDNESDAY, LONDON), library.tags)
    bench = bench_of(library, "battery-charging")
    evening = planner.stretch(bench, planner.days.at(-2, time(14)))
    assert evening[-1].task.key == "battery-charging:charge"
    assert "on charge" in bench.tags
    morning = planner.stretch(bench, planner.days.at(-1, time(8, 30)))
    assert morning[0].task.key == "battery-charging:charger-off"
    assert bench.tags == set()


def test_work_ends_with_the_day_and_the_clock_covers_it(library: Library) -> None:
    planner = Planner(Days(WEDNESDAY, LONDON), library.tags)
    bench = bench_of(library, "brakes-adjust", sheet="demo-hallam-35", pace=4.0)
    start = planner.days.at(-1, time(11))
    steps = planner.stretch(bench, start)
    assert len(steps) < len(bench.tasks)
    assert steps[-1].end <= planner.days.at(-1, time(17, 30))
    clocks = list(planner.clocks(steps))
    assert clocks[0][0] == start
    off = [at for at, task in clocks if task is None]
    assert off == [planner.days.at(-1, time(12, 30))]
    on = [(at, task.key) for at, task in clocks if task is not None]
    ends = {step.task.key: step.end for step in steps}
    assert all(at < ends[key] for at, key in on), "a clock on a task already done"
    assert on[-1][1] == steps[-1].task.key, "the last task done stops the clock"
