"""Every figure of the week opens to rows that come to it, and a server gives the same figures as a file."""

import shutil
import sqlite3
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from shopcli.errors import NotFound
from shopcli.papers.week.seen import TREND
from shopcli.papers.week.trend import Weeks, trend_of
from shopcli.shop.week_check import out_of_step
from shopcli.shop.week_to_do import PLACES
from shopcli.shop.week_views import Period
from shopcli.store.reads.week_actuals import actuals
from shopcli.store.reads.week_bounds import bounds, same_part, this_week
from shopcli.store.reads.week_flow import flow, flow_weeks
from shopcli.store.reads.week_hours import hours, hours_weeks
from shopcli.store.reads.week_money import money, money_weeks
from shopcli.store.reads.week_paid import workers
from shopcli.store.reads.week_past import past_weeks
from shopcli.store.reads.week_quality import quality
from shopcli.store.reads.week_rows import rows_of
from shopcli.store.reads.week_to_do import to_do
from shopcli.store.shop import Shop, open_shop
from tests.conftest import SETTINGS
from tests.known_shop import NOW, ZONE, Drawn, Size, drawn

PERIOD = Period(date(2026, 10, 5), 8)
SMALL = Size(weeks=12)
Figure = tuple[str, str, object]


@pytest.fixture(scope="module")
def rows() -> Drawn:
    return drawn(SMALL)


@pytest.fixture(scope="module")
def known(rows: Drawn, tmp_path_factory: pytest.TempPathFactory, empty_database: Path) -> Iterator[Shop]:
    file = tmp_path_factory.mktemp("rows") / "known.db"
    shutil.copy(empty_database, file)
    rows.write(file)
    shop = open_shop(str(file), settings=SETTINGS, now=lambda: NOW)
    yield shop
    shop.close()


def of_flow(shop: Shop, period: Period) -> Iterator[Figure]:
    seen = flow(shop, period)
    for week in seen.weeks:
        for key, count in (("opened", week.opened), ("closed", week.closed), ("left", week.left)):
            yield f"{key}:{week.week}", "count", count
        yield f"in-shop:{week.week}", "count", week.in_shop
    for key in ("opened", "closed", "left", "stays"):
        yield key, "count", getattr(seen, key)
    yield "in-shop", "count", seen.in_shop
    yield "queue", "count", past_weeks(shop).open_now
    for one in seen.waiting:
        yield f"waits:{one.why}", "seconds", one.seconds
        yield f"waiting:{one.why}", "count", one.now
    for card in seen.cards:
        yield f"card:{card.card_id}", "seconds", sum(s.seconds for s in card.spent)


def of_hours(shop: Shop, period: Period) -> Iterator[Figure]:
    seen = hours(shop, period)
    kinds = {"week": seen.weeks, "person": seen.people, "template": seen.templates, "system": seen.systems}
    for kind, line in ((kind, line) for kind, lines in kinds.items() for line in lines):
        yield f"clocked:{kind}:{line.key}", "seconds", line.clocked_s
        yield f"sold:{kind}:{line.key}", "seconds", line.sold_s
        if line.paid_s is not None:
            yield f"paid:{kind}:{line.key}", "seconds", line.paid_s
    for key in ("clocked", "sold", "paid"):
        yield key, "seconds", getattr(seen.total, f"{key}_s")
    for who in seen.unclocked:
        yield f"unclocked:person:{who.person_id}", "seconds", who.rest_s


def of_money(shop: Shop, period: Period) -> Iterator[Figure]:
    seen = money(shop, period)
    for week in seen.weeks:
        for key, amount in (("invoiced", week.net), ("discount", week.discount), ("credited", week.credited)):
            yield f"{key}:{week.week}", "amount", amount
    for key in ("discount", "credited", "unbilled", "stock", "surcharges", "labour"):
        yield key, "amount", getattr(seen, key)
    yield "invoiced", "amount", seen.net
    yield "parts", "amount", seen.parts_margin
    yield "unpaid", "amount", sum((band.amount for band in seen.unpaid), Decimal(0))
    for band in seen.unpaid:
        yield f"unpaid:{band.name}", "amount", band.amount
    for earning in seen.earnings:
        yield f"earned:template:{earning.template}", "amount", earning.labour


def of_the_rest(shop: Shop, period: Period) -> Iterator[Figure]:
    seen = quality(shop, period)
    for key in ("comebacks", "limits", "waived", "practice", "tools"):
        yield key, "count", len(getattr(seen, key))
    for job in actuals(shop):
        yield f"actuals:template:{job.template}", "count", len(job.cases)
    for line in to_do(shop):
        if line.kind not in {"listed", "loses", "unclocked"} and line.card is None:
            yield line.key, "count", line.count


def figures(shop: Shop, period: Period) -> Iterator[Figure]:
    """Yield the key of each figure, which part of its rows comes to it, and the figure."""
    for read in (of_flow, of_hours, of_money, of_the_rest):
        yield from read(shop, period)


def test_every_figure_opens_to_rows_that_come_to_it(known: Shop) -> None:
    told = 0
    for key, part, figure in figures(known, PERIOD):
        assert getattr(rows_of(known, PERIOD, key), part) == figure, key
        told += bool(figure)
    assert told > 100


@pytest.mark.parametrize("key", ["", "cards", "opened:never", "opened:2026-W99", "clocked:person:x", "waits"])
def test_a_key_of_no_figure_says_so(known: Shop, key: str) -> None:
    with pytest.raises(NotFound):
        rows_of(known, PERIOD, key)


def test_the_monday_list_is_short_and_in_order(known: Shop) -> None:
    lines = to_do(known)
    assert 0 < len(lines) <= sum(places for _ranks, places in PLACES)
    assert [x.rank for x in lines] == sorted(x.rank for x in lines)
    for line in lines:
        if line.key.startswith("card:"):
            assert line.card
            opened = rows_of(known, PERIOD, line.key).rows
            assert {row.card for row in opened} == {line.card.number}


def test_a_period_that_runs_is_held_against_the_same_part_of_the_one_before(known: Shop) -> None:
    """The part before is reckoned here from the plain records, moment by moment."""
    week = this_week(known)
    before = same_part(known, week)
    start, cut = bounds(known, before)
    assert known.local(cut) == known.local(known.at()) - timedelta(weeks=1)
    assert same_part(known, week.before) == week.before.before
    entries = known.fetch("SELECT started_at, ended_at FROM clock_entry WHERE ended_at IS NOT NULL")
    clocked = sum(max(0, min(end, cut) - max(began, start)) for began, end in entries)
    assert 0 < clocked == hours(known, before).total.clocked_s < hours(known, week.before).total.clocked_s
    within = f"issued_at >= {start} AND issued_at < {cut}"
    sold = known.fetch(
        f"SELECT SUM(seconds) FROM sold_hours WHERE invoice_id IN (SELECT id FROM invoice WHERE {within})"
    )
    assert hours(known, before).total.sold_s == (sold[0][0] or 0)
    net = known.fetch(f"SELECT SUM(net_minor) FROM invoice WHERE {within}")[0][0] or 0
    assert money(known, before).net == Decimal(net) / 100
    off = known.fetch(
        f"SELECT SUM(minor) FROM taken_off WHERE invoice_id IN (SELECT id FROM invoice WHERE {within})"
    )
    assert money(known, before).discount == Decimal(off[0][0] or 0) / 100
    opened = known.fetch(f"SELECT COUNT(*) FROM card WHERE opened_at >= {start} AND opened_at < {cut}")
    assert flow(known, before).opened == opened[0][0]


def test_paid_hours_of_a_running_week_are_counted_to_now(known: Shop) -> None:
    week, paid = this_week(known), hours(known, this_week(known)).total.paid_s or 0
    whole = [worker.paid.paid_s for worker in workers(known, week.before) if worker.days]
    # Wednesday a quarter past ten: two days and the part of the third that has gone by, of the five.
    assert 0 < paid < sum(whole) * 3 / 5
    assert same_part(known, week).upto
    then = hours(known, same_part(known, week)).total.paid_s or 0
    assert then == pytest.approx(paid, rel=0.2)
    assert sum(row.seconds or 0 for row in rows_of(known, week, "paid").rows) == paid


@pytest.mark.parametrize("owner", [True, False])
def test_weeks_kept_while_periods_are_looked_through_are_those_read_at_once(
    known: Shop, *, owner: bool
) -> None:
    kept: Weeks = {}
    # A week back, one more, on again, over a gap, longer ones, and before the first card.
    for back, weeks in ((0, 1), (1, 1), (2, 1), (0, 4), (9, 1), (4, 4), (0, 52), (20, 13), (5, 1)):
        period = Period(this_week(known).monday - timedelta(weeks=back + weeks - 1), weeks)
        views = (hours(known, period), money(known, period)) if owner else (None, None)
        trend = trend_of(known, flow(known, period), *views, kept)
        last = Period(period.until - timedelta(weeks=TREND), TREND)
        assert trend.flow == flow_weeks(known, last)
        assert trend.hours == (hours_weeks(known, last) if owner else ())
        assert trend.money == (money_weeks(known, last) if owner else ())


def test_a_server_gives_the_same_figures(known: Shop, rows: Drawn, postgres_url: str) -> None:
    import psycopg

    open_shop(postgres_url, settings=SETTINGS, now=lambda: NOW).close()
    with sqlite3.connect(str(known.place.file)) as plain, psycopg.connect(postgres_url) as server:
        server.execute("SET session_replication_role = replica")
        for table in rows.rows:
            sql, filled = rows.filled(plain, table)
            server.cursor().executemany(sql.replace("?", "%s"), list(filled))
        server.execute("DELETE FROM week_zone")
    there = open_shop(postgres_url, settings=SETTINGS, now=lambda: NOW)
    try:
        assert out_of_step(there.fetch, ZONE) == ()
        cut = same_part(known, this_week(known))
        assert same_part(there, this_week(there)) == cut
        for read in (flow, hours, money, quality):
            assert read(there, PERIOD) == read(known, PERIOD)
            assert read(there, cut) == read(known, cut)
        assert actuals(there) == actuals(known)
        assert past_weeks(there) == past_weeks(known)
        assert to_do(there) == to_do(known)
        keys = list(dict.fromkeys(key for key, _part, _figure in figures(known, PERIOD)))
        for key in keys[:: max(1, len(keys) // 40)]:
            assert rows_of(there, PERIOD, key) == rows_of(known, PERIOD, key), key
        for key in (
            "stock",
            "surcharges",
            "unbilled",
            "unpaid",
            "credited",
            "comebacks",
            "clocked:system:brakes",
        ):
            assert rows_of(there, PERIOD, key) == rows_of(known, PERIOD, key), key
    finally:
        there.close()
