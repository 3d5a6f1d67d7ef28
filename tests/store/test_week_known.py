"""The week recovers what is known of a shop: to the penny and the second where it is arithmetic, within bands where it is not.

Every figure is reckoned here another way: with polars from the plain rows, time second by second.
"""

import json
import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from math import sqrt
from pathlib import Path
from statistics import mean, median

import polars as pl
import pytest

from shopcli.shop.week_check import out_of_step
from shopcli.shop.week_views import Period
from shopcli.store.reads.week_actuals import actuals
from shopcli.store.reads.week_flow import flow
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_money import money
from shopcli.store.reads.week_past import past_weeks
from shopcli.store.reads.week_quality import quality
from shopcli.store.shop import Shop, open_shop
from shopcli.workings.listed_times import against
from shopcli.workings.little import little
from tests.conftest import SETTINGS
from tests.known_shop import BAY_DAYS, DAY, JOBS, MARKUP, NOW, SPREAD, ZONE, Truth, known_shop

WHOLE = Period(date(2026, 3, 30), 35)  # from one change of the clocks over the other to this week
SYSTEMS = {job[0]: job[1] for job in JOBS}


@dataclass
class Known:
    shop: Shop
    truth: Truth
    file: Path

    def frame(self, table: str) -> pl.DataFrame:
        """Return a table as it lies there."""
        with sqlite3.connect(self.file) as connection:
            rows = connection.execute(f"SELECT * FROM {table}")
            names = [column[0] for column in rows.description]
            return pl.DataFrame(rows.fetchall(), schema=names, orient="row", infer_schema_length=None)


@pytest.fixture(scope="module")
def known(tmp_path_factory: pytest.TempPathFactory, empty_database: Path) -> Iterator[Known]:
    file = tmp_path_factory.mktemp("known") / "known.db"
    shutil.copy(empty_database, file)
    truth = known_shop(file)
    shop = open_shop(str(file), settings=SETTINGS, now=lambda: NOW)
    yield Known(shop, truth, file)
    shop.close()


def local(column: str) -> pl.Expr:
    """Return a moment as the clock on the shop's wall shows it."""
    return (
        pl.from_epoch(column, time_unit="s").dt.replace_time_zone("UTC").dt.convert_time_zone("Europe/London")
    )


def week(column: str) -> pl.Expr:
    """Return the ISO week of a moment there."""
    return local(column).dt.strftime("%G-W%V")


def within(frame: pl.DataFrame, column: str) -> pl.DataFrame:
    return frame.filter(local(column).dt.date().is_between(WHOLE.monday, WHOLE.last))


def sums(frame: pl.DataFrame, by: str, of: str) -> dict[object, int]:
    found = frame.group_by(by).agg(pl.col(of).sum()).filter(pl.col(of) != 0)
    return dict(zip(found[by].to_list(), found[of].to_list(), strict=True))


def test_the_tables_are_in_step(known: Known) -> None:
    assert out_of_step(known.shop.fetch, ZONE) == ()


def test_cards_through_the_shop(known: Known) -> None:
    seen, cards = flow(known.shop, WHOLE), known.frame("card")
    for column, of in (("opened_at", "opened"), ("closed_at", "closed"), ("handed_at", "left")):
        there = within(cards.drop_nulls(column), column).with_columns(
            week(column).alias("week"), one=pl.lit(1)
        )
        assert {w.week: getattr(w, of) for w in seen.weeks if getattr(w, of)} == sums(there, "week", "one")
    for one in seen.weeks:
        after = one.monday + timedelta(weeks=1)
        came = cards.filter(local("opened_at").dt.date() < after)
        assert one.in_shop == came.filter(local("handed_at").dt.date().fill_null(date.max) >= after).height
    went = within(cards.drop_nulls("handed_at"), "handed_at")
    days = went.select((pl.col("handed_at") - pl.col("opened_at")) / DAY).to_series()
    assert seen.stays == days.len()
    assert seen.median_days == pytest.approx(days.median())
    assert seen.most_days == pytest.approx(days.quantile(0.85, interpolation="linear"))
    assert seen.mean_days == pytest.approx(days.mean())


def test_littles_law_holds_of_a_settled_shop(known: Known) -> None:
    seen = flow(known.shop, WHOLE)
    assert seen.mean_days is not None
    assert little(seen.counted, seen.per_week, seen.mean_days).settled
    # Counted another way: the cards that stand here at each hour.
    cards, start, now = known.frame("card"), WHOLE.monday, int(NOW.timestamp())
    first = int(
        NOW.replace(year=start.year, month=start.month, day=start.day - 1, hour=23, minute=0).timestamp()
    )
    came, went = cards["opened_at"].to_numpy(), cards["handed_at"].fill_null(2**40).to_numpy()
    counts = [int(((came <= t) & (went > t)).sum()) for t in range(first, now, 3600)]
    assert seen.counted == pytest.approx(mean(counts), rel=0.01)


def test_where_cards_wait(known: Known) -> None:
    seen, now = flow(known.shop, WHOLE), int(NOW.timestamp())
    stays = (
        known.frame("card_stay").filter(pl.col("waits") != "").with_columns(pl.col("ended_at").fill_null(now))
    )
    first = int(local_start(WHOLE.monday))
    lasted = pl.min_horizontal("ended_at", pl.lit(now)) - pl.max_horizontal("started_at", pl.lit(first))
    there = stays.with_columns(lasted.alias("lasted")).filter(
        (pl.col("lasted") > 0) & (pl.col("started_at") < now)
    )
    assert {w.why: w.seconds for w in seen.waiting} == sums(there, "waits", "lasted")
    # Statistics: three standard errors of an exponential wait.
    bay = [seconds / DAY for seconds in known.truth.waited["bay"]]
    assert abs(mean(bay) - BAY_DAYS) < 3 * BAY_DAYS / sqrt(len(bay))
    assert (
        sum(w.now for w in seen.waiting) + sum(c.state in {"in hand", "checked"} for c in seen.cards)
        == seen.in_shop
    )


def local_start(day: date) -> float:
    from datetime import datetime, time

    return datetime.combine(day, time(), ZONE).timestamp()


def test_hours_second_by_second(known: Known) -> None:
    seen = hours(known.shop, WHOLE)
    entries = known.frame("clock_entry").join(
        known.frame("task").select(task_id="id", template="template"), on="task_id"
    )
    ticks = entries.with_columns(at=pl.int_ranges("started_at", "ended_at")).explode("at")
    ticks = within(ticks, "at").with_columns(week("at").alias("week"), one=pl.lit(1))
    ticks = ticks.with_columns(system=pl.col("template").replace_strict(SYSTEMS))
    assert seen.total.clocked_s == ticks.height
    for lines, by in ((seen.weeks, "week"), (seen.templates, "template"), (seen.systems, "system")):
        assert {line.key: line.clocked_s for line in lines if line.clocked_s} == sums(ticks, by, "one")
    by_person = {int(p.key): p.clocked_s for p in seen.people if p.clocked_s}
    assert by_person == sums(ticks, "person_id", "one")


def test_hours_paid_are_those_of_the_calendar(known: Known) -> None:
    seen = hours(known.shop, WHOLE)
    # The tests' shop opens 8:00 to 17:30 on weekdays; the period ends with the Wednesday we are on, at a quarter past ten.
    days = pl.date_range(WHOLE.monday, date(2026, 11, 24), eager=True)
    open_s = int((days.dt.weekday() <= 5).sum()) * 34_200 + 8_100
    assert {p.name: p.paid_s for p in seen.people} == {"Tom": open_s, "Nell": open_s}
    assert seen.total.paid_s == 2 * open_s == sum(w.paid_s or 0 for w in seen.weeks)
    assert seen.total.sold_of_paid == pytest.approx(
        (seen.total.clocked_of_paid or 0) * (seen.total.sold_of_clocked or 0)
    )


def sold_lines(known: Known) -> pl.DataFrame:
    """Return the lines of labour of the period's invoices, with their templates."""
    rows = [
        (bill["week"], int(x["id"][1:]), round(float(x["qty"]) * 3600), round(float(x["net"]) * 100))
        for bill in known.frame("invoice").to_dicts()
        for x in json.loads(str(bill["body"]))["lines"]
        if x["kind"] == "labour"
    ]
    lines = pl.DataFrame(rows, schema=["week", "task_id", "seconds", "minor"], orient="row")
    lines = lines.filter(pl.col("week").is_between(pl.lit(WHOLE.names[0]), pl.lit(WHOLE.names[-1])))
    return lines.join(known.frame("task").select(task_id="id", template="template"), on="task_id")


def test_hours_sold_are_those_of_the_invoices(known: Known) -> None:
    seen, lines = hours(known.shop, WHOLE), sold_lines(known)
    assert {w.key: w.sold_s for w in seen.weeks if w.sold_s} == sums(lines, "week", "seconds")
    assert {t.key: t.sold_s for t in seen.templates if t.sold_s} == sums(lines, "template", "seconds")
    whose = known.frame("clock_entry").select("task_id", "person_id")
    by_person = sums(lines.join(whose, on="task_id"), "person_id", "seconds")
    assert {int(p.key): p.sold_s for p in seen.people} == by_person


def test_money_to_the_penny(known: Known) -> None:
    seen, bills = money(known.shop, WHOLE), known.frame("invoice")
    there = bills.filter(pl.col("week").is_between(pl.lit(WHOLE.names[0]), pl.lit(WHOLE.names[-1])))
    for of, column in (
        ("net", "net_minor"),
        ("labour", "labour_minor"),
        ("parts", "parts_minor"),
        ("parts_cost", "parts_cost_minor"),
    ):
        assert {w.week: int(getattr(w, of) * 100) for w in seen.weeks if getattr(w, of)} == sums(
            there, "week", column
        )
        assert int(getattr(seen, of) * 100) == there[column].sum()
    # Nothing else is on these bills: what is missing was taken off.
    missing = there["labour_minor"].sum() + there["parts_minor"].sum() - there["net_minor"].sum()
    assert int(seen.discount * 100) == missing > 0
    assert float(seen.parts / seen.parts_cost) == pytest.approx(MARKUP, abs=0.002)
    notes = within(known.frame("credit_note"), "issued_at")
    assert int(seen.credited * 100) == notes["net_minor"].sum() > 0
    earned = sums(sold_lines(known), "template", "minor")
    assert {e.template: int(e.labour * 100) for e in seen.earnings} == earned


def test_what_is_unpaid_and_unbilled(known: Known) -> None:
    seen = money(known.shop, WHOLE)
    bills = known.frame("invoice").select("card_id", "gross_minor", "body")
    for table, column in (("credit_note", "gross_minor"), ("payment", "amount_minor")):
        less = known.frame(table).group_by("card_id").agg(pl.col(column).sum().alias(table))
        bills = bills.join(less, on="card_id", how="left").with_columns(pl.col(table).fill_null(0))
    left = bills.with_columns(due=pl.col("gross_minor") - pl.col("credit_note") - pl.col("payment"))
    owed = left.filter(pl.col("due") > 0).to_dicts()
    bands: dict[str, int] = {}
    for one in owed:
        past = (date(2026, 11, 25) - date.fromisoformat(json.loads(str(one["body"]))["due_by"])).days
        limits = ((0, "not due"), (30, "1 to 30"), (60, "31 to 60"), (90, "61 to 90"))
        name = next((name for days, name in limits if past <= days), "over 90")
        bands[name] = bands.get(name, 0) + int(one["due"])
    assert {b.name: int(b.amount * 100) for b in seen.unpaid if b.count} == bands
    assert sum(b.count for b in seen.unpaid) == len(owed) > 0
    cards = known.frame("card").filter(pl.col("state").is_in(["booked", "in hand", "held", "checked"]))
    mine = pl.col("card_id").is_in(cards["id"].to_list())
    clocked = known.frame("clock_entry").filter(mine).to_dicts()
    labour = sum(-(-((e["ended_at"] - e["started_at"]) // 60) // 6) * 600 for e in clocked)
    goods = known.frame("card_part").filter(mine & (pl.col("state") == "fitted"))
    extra = goods.filter(pl.col("old_unit_back_at").is_null())["surcharge_minor"].sum()
    assert int(seen.unbilled * 100) == labour + goods["price_minor"].sum() + extra
    units = known.frame("card_part").filter(pl.col("surcharge_minor") > 0)
    gone = known.frame("sent_back")["card_part_id"].to_list()
    assert seen.surcharge_count == units.filter(~pl.col("id").is_in(gone)).height


def test_comebacks_are_those_that_were_planted(known: Known) -> None:
    everything = Period(date(2026, 1, 5), 47)
    seen = quality(known.shop, everything)
    assert {(c.card_id, c.before_id) for c in seen.comebacks} == known.truth.comebacks
    assert len(known.truth.comebacks) >= 5
    assert len(seen.limits) == known.truth.limits > 0
    assert len(seen.waived) == known.truth.waived > 0
    assert seen.finished == known.frame("card")["closed_at"].drop_nulls().len()
    # And by a join of the cards of one vehicle, without the rest.
    cards = known.frame("card").with_columns(jobs=pl.col("title").str.split(" and ")).explode("jobs")
    cards = cards.with_columns(system=pl.col("jobs").replace_strict(SYSTEMS))
    both = cards.join(cards, on=["vehicle_id", "system"]).filter(
        pl.col("opened_at") > pl.col("closed_at_right")
    )
    days = local("opened_at").dt.date() - local("closed_at_right").dt.date()
    near = both.filter(
        (days <= timedelta(days=90)) & (pl.col("odometer") - pl.col("odometer_right") <= 3_000)
    )
    pairs = set(near.select("id", "id_right").iter_rows())
    assert pairs == known.truth.comebacks


def test_what_jobs_really_take_is_found(known: Known) -> None:
    found = {a.template: a for a in actuals(known.shop)}
    tasks = known.frame("task").filter(pl.col("state") == "done")
    clocked = (
        known.frame("clock_entry")
        .group_by("task_id")
        .agg(took=(pl.col("ended_at") - pl.col("started_at")).sum())
    )
    both = tasks.join(clocked, left_on="id", right_on="task_id", how="left").with_columns(
        pl.col("took").fill_null(0)
    )
    jobs = both.group_by("card_id", "template").agg(pl.col("minutes").sum(), pl.col("took").sum())
    closed = known.frame("card").filter(pl.col("state") == "closed")["id"].to_list()
    jobs = jobs.filter(pl.col("card_id").is_in(closed) & (pl.col("took") > 0))
    for name, _system, _minutes, factor in JOBS:
        mine = jobs.filter(pl.col("template") == name)
        ratios = [case.ratio for case in found[name].cases]
        assert sorted(ratios) == pytest.approx(sorted((mine["took"] / 60 / mine["minutes"]).to_list()))
        # Three standard errors of the median of a lognormal.
        assert abs(median(ratios) / factor - 1) < 3 * 1.2533 * SPREAD / sqrt(len(ratios))
        proposed = against(ratios).to
        assert proposed == (pytest.approx(factor, abs=0.051) if abs(factor - 1) > 0.2 else None)


def test_the_weeks_that_were(known: Known) -> None:
    seen, cards = past_weeks(known.shop), known.frame("card")
    done = cards.drop_nulls("closed_at").with_columns(day=local("closed_at").dt.date(), one=pl.lit(1))
    counts = sums(done, "day", "one")
    for nth, days in enumerate(seen.past):
        monday = seen.monday - timedelta(weeks=len(seen.past) - nth)
        assert days == tuple(counts.get(monday + timedelta(days=n), 0) for n in range(7))
        came = cards.filter(local("opened_at").dt.date() < monday)
        assert (
            seen.stood[nth] == came.filter(local("closed_at").dt.date().fill_null(date.max) >= monday).height
        )
    assert sum(seen.gone) == sum(n for day, n in counts.items() if day >= seen.monday)  # type: ignore[operator]
    assert len(seen.past) == 40
