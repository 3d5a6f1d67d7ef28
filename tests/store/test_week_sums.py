"""The sums kept by week are those of the rows they sum, whatever was clocked, sold, corrected and taken back."""

import sqlite3
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.shop.commands import ClockOff, CloseCard, OpenCard, TakeBack
from shopcli.shop.week_check import out_of_step
from shopcli.shop.week_period import Period
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_money import earnings
from shopcli.store.shop import Shop
from tests.conftest import Busy
from tests.shop.test_closing import settle_everything
from tests.store.test_week_hours_law import LONDON, NOW, WHOLE, acts, carry_out, near
from tests.store.test_week_kept import last_act

JOBS = (("oil-change",), ("points",))
visit = st.tuples(acts, near, st.sampled_from(JOBS))


def come(busy: Busy, jobs: tuple[str, ...]) -> None:
    """Open a card; the acts that follow are on it."""
    busy.card = busy.do(OpenCard(busy.vehicle, jobs, odometer=50_000), "Dora").id


def sell(busy: Busy, at: int) -> None:
    """Close the card: its labour is sold in the week of that moment."""
    for name in ("Tom", "Nell"):
        with suppress(ShopError):
            busy.do(ClockOff(), name)
    busy.clock.at = datetime.fromtimestamp(at, UTC)
    settle_everything(busy)
    busy.do(CloseCard(busy.card), "Dora")
    busy.clock.at = NOW


def rows_say(shop: Shop, table: str, period: Period) -> int:
    sql = f"SELECT COALESCE(SUM(seconds), 0) FROM {table} WHERE week >= ? AND week <= ?"
    return int(shop.fetch(sql, (period.names[0], period.names[-1]))[0][0])


@given(visits=st.lists(visit, min_size=1, max_size=2), first=st.integers(0, 44), weeks=st.integers(1, 45))
@settings(
    max_examples=3,
    derandomize=True,
    phases=[Phase.generate],  # the shop goes on from one to the next: nothing can be made smaller
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_they_are_those_of_the_rows(
    busy_shop: Busy,
    visits: list[tuple[list[tuple[str, int, int, int]], int, tuple[str, ...]]],
    first: int,
    weeks: int,
) -> None:
    """What is cut off far behind its end is read from the rows themselves: another route to the same figures."""
    shop = busy_shop.shop
    busy_shop.clock.at = NOW
    for clocked, at, jobs in visits:
        come(busy_shop, jobs)
        for act in clocked:
            carry_out(busy_shop, act)
        sell(busy_shop, at)
    assert out_of_step(shop.fetch, LONDON) == ()
    for period in (WHOLE, Period(WHOLE.monday + timedelta(weeks=first), weeks)):
        total = hours(shop, period).total
        assert total.clocked_s == rows_say(shop, "day_hours", period)
        assert total.sold_s == rows_say(shop, "sold_hours", period)
        assert earnings(shop, period) == earnings(shop, replace(period, upto=2**40))


def test_time_that_is_moved_or_taken_back_is_in_no_sum_it_was_in(busy_shop: Busy) -> None:
    busy_shop.clock.at = NOW
    noon, sums = int((NOW - timedelta(days=3)).timestamp()), "SELECT week, clocked_s FROM week_hours"
    carry_out(busy_shop, ("add", noon, 3600, 0))
    assert busy_shop.shop.fetch(sums) == [("2027-W01", 3600)]
    carry_out(busy_shop, ("correct", noon - 7 * 24 * 3600, 1800, 0))
    assert busy_shop.shop.fetch(sums) == [("2026-W53", 1800)]
    busy_shop.do(TakeBack(last_act(busy_shop)), "Olive")
    assert busy_shop.shop.fetch(sums) == [("2027-W01", 3600)]
    assert out_of_step(busy_shop.shop.fetch, LONDON) == ()


def test_a_sum_that_says_something_else_is_found_and_reckoned_anew(busy_shop: Busy) -> None:
    busy_shop.clock.at = NOW
    come(busy_shop, ("points",))
    noon = int((NOW - timedelta(days=3)).timestamp())
    for act in (("add", noon, 3600, 0), ("add", noon, 1800, 1)):
        carry_out(busy_shop, act)
    sell(busy_shop, int(NOW.timestamp()))
    shop = busy_shop.shop
    (earned,) = earnings(shop, WHOLE)
    assert (earned.cards, earned.clocked_s, earned.sold_s) == (1, 5400, rows_say(shop, "sold_hours", WHOLE))
    for sql in (
        "UPDATE week_hours SET clocked_s = clocked_s + 1",
        "UPDATE week_hours SET sold_s = 0",
        "DELETE FROM week_hours",
        "UPDATE week_jobs SET took_s = took_s + 1",
        "UPDATE week_jobs SET cards = 2",
        "INSERT INTO week_jobs VALUES ('2026-W30', 'points', 1, 1, 1, 1)",
    ):
        assert out_of_step(shop.fetch, LONDON) == ()
        with sqlite3.connect(str(shop.place.file)) as connection:
            connection.execute(sql)
        assert out_of_step(shop.fetch, LONDON), sql
        shop.reckon_weeks()
    assert out_of_step(shop.fetch, LONDON) == ()


def test_records_of_before_have_their_sums_from_the_migration(busy_shop: Busy) -> None:
    from shopcli.store.migrations.versions.v0021_week_sums import HOURS, JOBS

    busy_shop.clock.at = NOW
    come(busy_shop, ("points",))
    carry_out(busy_shop, ("add", int((NOW - timedelta(days=3)).timestamp()), 3600, 0))
    sell(busy_shop, int(NOW.timestamp()))
    kept = "SELECT * FROM week_hours CROSS JOIN week_jobs"
    before = busy_shop.shop.fetch(kept)
    with sqlite3.connect(str(busy_shop.shop.place.file)) as connection:
        for sql in ("DELETE FROM week_hours", "DELETE FROM week_jobs", HOURS, JOBS):
            connection.execute(sql)
    assert busy_shop.shop.fetch(kept) == before != []
