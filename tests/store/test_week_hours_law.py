"""Hours by day, week, person and card come to the same whole, whatever was clocked, corrected, split and taken back.

The other route counts quarters of an hour one by one, each on the day its own local time shows.
"""

import sqlite3
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.shop.commands import AddClock, ClockOff, ClockOn, CorrectClock, SplitClock, TakeBack
from shopcli.shop.week_check import out_of_step
from shopcli.shop.week_views import Period
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_rows import rows_of
from shopcli.store.shop import Shop
from tests.conftest import SETTINGS, Busy, Clock, fill

LONDON = ZoneInfo("Europe/London")
QUARTER = 900
NOW = datetime(2027, 1, 10, 12, 0, tzinfo=UTC)
# Sunday nights at which the clocks change, an ordinary midnight, a week's end, the end of a year of 53 weeks.
MOMENTS = tuple(
    int(datetime(*when, tzinfo=UTC).timestamp())
    for when in (
        (2026, 3, 29, 1),
        (2026, 10, 25, 1),
        (2026, 6, 10, 23),
        (2026, 6, 14, 23),
        (2027, 1, 3, 23, 45),
        (2026, 12, 31, 23),
    )
)
WHOLE = Period(date(2026, 3, 2), 45)

near = st.builds(lambda m, q: m + q * QUARTER, st.sampled_from(MOMENTS), st.integers(-50, 50))
lasting = st.integers(1, 60).map(lambda q: q * QUARTER)
acts = st.lists(
    st.one_of(
        st.tuples(st.just("add"), near, lasting, st.integers(0, 3)),
        st.tuples(st.just("correct"), near, lasting, st.integers(0, 9)),
        st.tuples(st.just("split"), st.integers(1, 40), st.just(0), st.integers(0, 9)),
        st.tuples(st.just("on"), near, lasting, st.integers(0, 3)),
        st.tuples(st.just("back"), st.just(0), st.just(0), st.just(0)),
    ),
    min_size=1,
    max_size=9,
)


@pytest.fixture(scope="module")
def worked(
    tmp_path_factory: pytest.TempPathFactory, empty_database: object, library: object
) -> Iterator[Busy]:
    """Return one shop for all tries; what was clocked is wiped before each."""
    import shutil

    from shopcli.store.shop import open_shop

    file, clock = tmp_path_factory.mktemp("law") / "law.db", Clock(NOW)
    shutil.copy(str(empty_database), file)
    shop = open_shop(str(file), settings=SETTINGS, now=clock)
    shop.library = library  # type: ignore[assignment]
    yield fill(shop, clock)
    shop.close()


def wiped(busy: Busy) -> None:
    busy.clock.at = NOW
    with sqlite3.connect(str(busy.shop.place.file)) as connection:
        for table in ("clock_entry", "day_hours", "week_hours"):
            connection.execute(f"DELETE FROM {table}")


def carry_out(busy: Busy, act: tuple[str, int, int, int]) -> None:
    """Do one act; what the rules refuse (time over other time, a second clock) changes nothing."""
    kind, at, length, which = act
    tasks = [task.id for task in busy.view().tasks[:4]]
    by = ("Tom", "Nell")[which % 2]
    entries = [row[0] for row in busy.shop.fetch("SELECT id FROM clock_entry ORDER BY id")]
    entry = entries[which % len(entries)] if entries else 0
    try:
        if kind == "add":
            busy.do(AddClock(tasks[which], at, at + length, "forgotten"), by)
        elif kind == "correct":
            busy.do(CorrectClock(entry, at, at + length, "was later", tasks[which % 4]), "Olive")
        elif kind == "split":
            start = busy.shop.fetch("SELECT started_at FROM clock_entry WHERE id = ?", (entry,))
            moment = (start[0][0] if start else 0) + at * QUARTER
            busy.do(SplitClock(entry, moment, "two jobs", tasks[which % 4]), "Olive")
        elif kind == "on":
            busy.clock.at = datetime.fromtimestamp(at, UTC)
            busy.do(ClockOn(tasks[which]), by)
            busy.clock.at = datetime.fromtimestamp(at + length, UTC)
            busy.do(ClockOff(), by)
        else:
            last = busy.shop.fetch(
                "SELECT MAX(id) FROM journal WHERE act IN ('AddClock', 'CorrectClock', 'SplitClock')"
            )
            busy.do(TakeBack(int(last[0][0] or 0)), by)
    except ShopError:
        pass
    finally:
        busy.clock.at = NOW


def counted(shop: Shop, now: int) -> Counter[tuple[str, int, int]]:
    """Return seconds by (day, person, card): quarter by quarter, each on the day its local time shows."""
    found: Counter[tuple[str, int, int]] = Counter()
    sql = "SELECT person_id, card_id, started_at, ended_at FROM clock_entry"
    for person, card, started, ended in shop.fetch(sql):
        for quarter in range(started, now if ended is None else ended, QUARTER):
            day = datetime.fromtimestamp(quarter, UTC).astimezone(LONDON).date()
            found[day.isoformat(), person, card] += QUARTER
    return found


@given(done=acts, runs=st.none() | st.tuples(near, st.integers(0, 3)))
def test_hours_come_to_the_same_whole_by_day_week_person_and_card(
    worked: Busy, done: list[tuple[str, int, int, int]], runs: tuple[int, int] | None
) -> None:
    wiped(worked)
    shop = worked.shop
    for act in done:
        carry_out(worked, act)
    if runs is not None:
        worked.clock.at = datetime.fromtimestamp(runs[0], UTC)
        worked.do(ClockOn(worked.view().tasks[runs[1]].id), "Tom")
        worked.clock.at = NOW
    assert out_of_step(shop.fetch, LONDON) == ()
    seen, by_hand = hours(shop, WHOLE), counted(shop, shop.at())
    whole = sum(by_hand.values())
    assert seen.total.clocked_s == whole
    assert {w.key: w.clocked_s for w in seen.weeks if w.clocked_s} == by(by_hand, lambda k: week_of(k[0]))
    assert {int(p.key): p.clocked_s for p in seen.people if p.clocked_s} == by(by_hand, lambda k: k[1])
    assert sum(t.clocked_s for t in seen.templates) == sum(s.clocked_s for s in seen.systems) == whole
    rows = rows_of(shop, WHOLE, "clocked").rows
    by_day: Counter[str] = Counter()
    for row in rows:
        by_day[str(row.on)] += row.seconds or 0
    assert by_day == by(by_hand, lambda k: k[0])
    assert sum(row.seconds or 0 for row in rows if row.card_id == worked.card) == whole


def by(
    counts: Counter[tuple[str, int, int]], of: Callable[[tuple[str, int, int]], object]
) -> Counter[object]:
    found: Counter[object] = Counter()
    for key, seconds in counts.items():
        found[of(key)] += seconds
    return found


def week_of(day: str) -> str:
    year, week, _day = date.fromisoformat(day).isocalendar()
    return f"{year}-W{week:02d}"


def test_another_zone_has_its_own_midnights(worked: Busy) -> None:

    from shopcli.store.shop import open_shop

    wiped(worked)
    start = int(datetime(2026, 6, 14, 20, 0, tzinfo=UTC).timestamp())
    worked.do(AddClock(worked.view().tasks[0].id, start, start + 4 * 3600, "late"), "Tom")
    days = "SELECT day, week, seconds FROM day_hours ORDER BY day"
    assert worked.shop.fetch(days) == [("2026-06-14", "2026-W24", 10_800), ("2026-06-15", "2026-W25", 3_600)]
    file = str(worked.shop.place.file)
    east = open_shop(file, settings=SETTINGS._replace(zone="Asia/Tokyo"), now=Clock(NOW))
    assert east.fetch(days) == [("2026-06-15", "2026-W25", 14_400)]
    east.close()
    home = open_shop(file, settings=SETTINGS, now=Clock(NOW))
    assert home.fetch(days)[0] == ("2026-06-14", "2026-W24", 10_800)
    home.close()


def test_a_day_the_clocks_change_is_as_long_as_it_is(worked: Busy) -> None:

    from shopcli.shop.paid_hours import day_seconds

    always = SETTINGS._replace(hours=((0, 1440),) * 7)
    lengths = [day_seconds(always, date(2026, month, day)) for month, day in ((3, 29), (10, 25), (10, 26))]
    assert lengths == [23 * 3600, 25 * 3600, 24 * 3600]


def test_what_is_out_of_step_is_found(worked: Busy) -> None:
    wiped(worked)
    start = int((NOW - timedelta(hours=5)).timestamp())
    worked.do(AddClock(worked.view().tasks[0].id, start, start + 3600, "forgotten"), "Tom")
    with sqlite3.connect(str(worked.shop.place.file)) as connection:
        connection.execute("UPDATE day_hours SET seconds = seconds + 1")
    assert len(out_of_step(worked.shop.fetch, LONDON)) == 2
    worked.shop.reckon_weeks()
    assert out_of_step(worked.shop.fetch, LONDON) == ()
