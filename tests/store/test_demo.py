"""The invented shop: it is made by the shop's own commands, holds together, and is the same every time."""

import json
import sqlite3
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest

from shopcli.papers.render import summary_text
from shopcli.shipped import shipped
from shopcli.shop.amounts import from_minor
from shopcli.shop.hindrances import hindrances
from shopcli.shop.money import total
from shopcli.shop.pricing import bill_lines, paid
from shopcli.shop.stock import out_of_step, wrong_suppliers
from shopcli.store.demo import demo_shop
from shopcli.store.reads import bench, desk, people, summary
from shopcli.store.reads.buying import purchases, to_order
from shopcli.store.reads.outwork import exchanges, outwork
from shopcli.store.reads.stock import part_story, stocked, suppliers
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.reads.week_flow import flow
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_money import money_weeks
from shopcli.store.shop import Shop

NOW = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)  # a Wednesday
STATES = {"booked": 3, "in hand": 4, "held": 3, "checked": 1, "closed": 22, "void": 1}
# What hinders each open card, by the kinds of the closing check; open tasks and wanted parts aside.
HINDERED = {
    "PND 20": set(),
    "TRH 618": {"tag", "owed"},
    "KTW 904": {"tag", "second", "finding"},
    "YFN 481": {"tag", "owed", "reading", "clock", "authority"},
    "WRN 9": {"tag", "reading"},
    "SJB 302": {"held"},
    "GGR 835": {"tag", "finding", "held"},
    "AMB 1A": {"tag", "outwork", "held"},
    "FHX 233": set(),
    "HLM 35": {"owed"},
    "OVW 77K": set(),
}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    shop = demo_shop(tmp_path_factory.mktemp("demo") / "demo.db", now=lambda: NOW)
    yield shop
    shop.close()


def one(shop: Shop, sql: str, *params: object) -> int:
    return int(shop.fetch(sql, params)[0][0])


def open_card(shop: Shop, registration: str) -> int:
    return next(row.id for row in desk.open_cards(shop) if row.registration == registration)


def test_the_shop_is_full(demo: Shop) -> None:
    assert one(demo, "SELECT COUNT(*) FROM customer") == 12
    assert one(demo, "SELECT COUNT(*) FROM vehicle") == 18
    assert one(demo, "SELECT COUNT(*) FROM part") == 40
    assert {p.role: p.units for p in people.people(demo)}.keys() == {"owner", "mechanic", "desk"}
    assert Counter(p.units for p in people.people(demo)) == {"metric": 3, "imperial": 2}
    assert dict(demo.fetch("SELECT state, COUNT(*) FROM card GROUP BY state")) == STATES
    sheets = {row[0] for row in demo.fetch("SELECT sheet FROM vehicle")}
    assert {"demo-lark-1200", "demo-brindle-1600", "demo-corvane-24", "demo-hallam-35"} < sheets
    assert {row[0] for row in demo.fetch("SELECT distance_unit FROM vehicle")} == {"mi", "km"}


def test_every_number_it_shows_is_invented_or_says_it_is_practice(demo: Shop) -> None:
    kinds = {row[0] for row in demo.fetch("SELECT DISTINCT provenance FROM reading")}
    assert kinds <= {"demo", "practice"}


def test_thirteen_weeks_have_work_in_them(demo: Shop) -> None:
    last = this_week(demo, 13)
    cards, sums = flow(demo, last).weeks, money_weeks(demo, last)
    assert len(cards) == len(sums) == 13
    assert all(week.clocked_s > 0 for week in hours(demo, last).weeks)
    assert sum(week.closed for week in cards) >= 15
    assert all(paid.net > 0 for week, paid in zip(cards, sums, strict=True) if week.closed)


def test_hours_on_a_closed_card_are_those_of_a_small_shop(demo: Shop) -> None:
    sql = (
        "SELECT SUM(e.ended_at - e.started_at) FROM clock_entry e JOIN card c ON c.id = e.card_id"
        " WHERE c.state = 'closed' GROUP BY c.id"
    )
    hours = [row[0] / 3600 for row in demo.fetch(sql)]
    assert len(hours) == STATES["closed"]
    assert min(hours) >= 1
    assert 10 < max(hours) <= 14


def test_clocks_keep_shop_hours_and_never_overlap(demo: Shop) -> None:
    by_person: dict[int, list[tuple[datetime, datetime]]] = {}
    sql = "SELECT person_id, started_at, ended_at FROM clock_entry WHERE ended_at IS NOT NULL"
    for person, started, ended in demo.fetch(sql + " ORDER BY person_id, started_at"):
        start, end = demo.local(started), demo.local(ended)
        assert start.date() == end.date()
        assert start.weekday() < 5
        assert start.time().hour >= 8
        assert end.time() <= datetime(2026, 1, 1, 17, 30).time()  # noqa: DTZ001 - a time of the wall clock
        assert start < end
        by_person.setdefault(person, []).append((start, end))
    assert len(by_person) == 3
    for entries in by_person.values():
        assert all(earlier[1] <= later[0] for earlier, later in pairwise(entries))


def test_one_clock_runs_now_and_somebody_had_two_cards_on_one_day(demo: Shop) -> None:
    (running,) = people.running_clocks(demo)
    assert (running.person, NOW - running.since) == ("Tom Pellow", timedelta(minutes=25))
    cards: dict[tuple[int, str], set[int]] = {}
    for person, card, started in demo.fetch("SELECT person_id, card_id, started_at FROM clock_entry"):
        cards.setdefault((person, demo.local(started).date().isoformat()), set()).add(card)
    assert max(len(some) for some in cards.values()) >= 2


def test_every_card_reads_whole_and_its_summary_adds_up(demo: Shop) -> None:
    keys = [row[0] for row in demo.fetch("SELECT id FROM card ORDER BY id")]
    for key in keys:
        view = bench.card(demo, key)
        assert view.tasks
        text = summary_text(summary.summary(demo, key))  # refuses figures that do not add up
        assert view.number in text


def test_invoices_are_what_their_cards_come_to(demo: Shop) -> None:
    rows = demo.fetch(
        "SELECT card_id, issued_at, net_minor, vat_minor, gross_minor, body FROM invoice ORDER BY number"
    )
    assert len(rows) == STATES["closed"]
    for key, at, net, vat, gross, body in rows:
        lines = bill_lines(demo.fetch, key, demo.settings, at)
        sums = total(lines)
        assert (sums.without_vat, sums.vat, sums.with_vat) == tuple(from_minor(m) for m in (net, vat, gross))
        assert sum((line.net for line in lines), Decimal(0)) == Decimal(json.loads(body)["line_net"])
        assert paid(demo.fetch, key) == from_minor(gross)
    numbers = [row[0] for row in demo.fetch("SELECT number FROM invoice ORDER BY issued_at, number")]
    assert numbers == list(range(1, len(rows) + 1))


def test_nothing_hindered_a_closed_card(demo: Shop) -> None:
    acts = one(demo, "SELECT COUNT(*) FROM journal WHERE act = 'CloseCard'")
    assert acts == STATES["closed"]
    for key, at in demo.fetch("SELECT id, closed_at FROM card WHERE state = 'closed'"):
        found = hindrances(demo.fetch, key, demo.settings, at)
        own = {row[0] for row in demo.fetch("SELECT id FROM tag WHERE card_id = ?", (key,))}
        # A tag a later card hung on the same car is that card's business.
        assert [h for h in found if h.where != "tag" or h.where_id in own] == []


@pytest.mark.parametrize("registration", list(HINDERED))
def test_open_cards_are_hindered_as_the_story_says(demo: Shop, registration: str) -> None:
    found = bench.hindrances(demo, open_card(demo, registration))
    assert {h.key.partition(":")[0] for h in found} - {"task", "part"} == HINDERED[registration]


def test_what_stands_half_finished(demo: Shop) -> None:
    hanging = {row.registration: set(row.open_tags) for row in desk.open_cards(demo) if row.open_tags}
    assert "sump dry" in hanging["TRH 618"]
    assert "wheel nuts hand-tight" in hanging["KTW 904"]
    (sump,) = (t for t in bench.card(demo, open_card(demo, "TRH 618")).tags if t.name == "sump dry")
    assert sump.hung_at.date() < demo.local(demo.at()).date()
    held = {row.registration: row.held_for for row in desk.open_cards(demo) if row.state == "held"}
    assert len(set(held.values())) == 3
    assert one(demo, "SELECT COUNT(*) FROM owed WHERE state = 'owed' AND before = 'hand-over'") >= 5
    on_order = demo.fetch("SELECT description FROM card_part WHERE state = 'on order'")
    assert on_order == [("drive belt",)]


def test_what_else_happens_in_a_shop(demo: Shop) -> None:
    severities = dict(
        demo.fetch("SELECT severity, COUNT(*) FROM finding WHERE state = 'open' GROUP BY severity")
    )
    assert set(severities) == {"stop", "soon", "watch"}
    assert {row[0] for row in demo.fetch("SELECT state FROM finding")} == {"open", "done", "declined"}
    assert {row[0] for row in demo.fetch("SELECT kind FROM payment")} == {"deposit", "payment"}
    assert sorted(row[0] != "" for row in demo.fetch("SELECT back FROM outwork")) == [False, True]
    assert one(demo, "SELECT COUNT(*) FROM waiver") == 1
    assert one(demo, "SELECT COUNT(*) FROM task WHERE second_by IS NOT NULL") >= 10
    assert one(demo, "SELECT COUNT(*) FROM task WHERE second AND state = 'done' AND second_by IS NULL") == 1
    assert one(demo, "SELECT COUNT(*) FROM card_part WHERE surcharge_minor > 0 AND state = 'fitted'") >= 2
    assert one(demo, "SELECT COUNT(*) FROM vehicle_spec") == 1


def test_readings_are_typed_as_people_type(demo: Shop) -> None:
    rows = demo.fetch("SELECT phase, standing, typed, unit FROM reading")
    standing = Counter((phase, how) for phase, how, _typed, _unit in rows)
    assert standing["as found", "low"] >= 10
    assert standing["as found", "high"] >= 3
    assert standing["as found", "in"] >= 10
    assert standing["as left", "in"] >= 80
    assert standing["as left", "high"] == 2  # one waived, one open
    typed = [row[2] for row in rows]
    for sign in (" thou", '"', "0,", " mm", " lb", "Nm", "btdc", "imp pt"):
        assert any(sign in text for text in typed), sign
    assert {row[3] for row in rows} >= {"thou", "in", "mm", "Nm", "lbf.ft", "L", "pt_imp", "bar", "sg", "V"}


def test_the_shelf(demo: Shop) -> None:
    rows = demo.fetch("SELECT name, stock_milli, reorder_milli, unit FROM part")
    assert all(stock >= 0 for _name, stock, _reorder, _unit in rows)
    assert 4 <= sum(stock < reorder for _name, stock, reorder, _unit in rows) <= 12
    assert {name for name, _stock, _reorder, unit in rows if unit == "L"} >= {"engine oil", "coolant"}
    lost = demo.fetch(
        "SELECT DISTINCT description FROM card_part WHERE part_id IS NULL AND NOT customers_own"
    )
    assert len(lost) <= 2, "a kit line of the story was not found in stock"
    oil = demo.fetch("SELECT qty_milli, unit FROM card_part WHERE description = 'engine oil'")
    assert {unit for _qty, unit in oil} == {"L"}
    assert max(qty for qty, _unit in oil) < 7_000  # pints of the sheets became litres of the shelf


def test_the_stores_are_alive(demo: Shop) -> None:
    assert out_of_step(demo.fetch) == wrong_suppliers(demo.fetch) == ()
    assert all(s.phone.startswith("01632 960") for s in suppliers(demo)), "numbers kept for fiction"
    orders = {o.supplier.name: o for o in purchases(demo)}
    late, sent, drafted = (orders[n] for n in ("Hoseley Rubber", "Ambleton Motor Factors", "Fennick Oils"))
    assert (late.state, late.late) == ("part in", True)
    belt = next(line for line in sent.lines if line.name == "drive belt")
    assert (sent.state, sent.late, any("SJB 302" in card for card in belt.cards)) == ("sent", False, True)
    assert drafted.state == "drafted"
    assert 3 <= len(to_order(demo)) <= 10
    assert {x.stands for x in exchanges(demo)} == {"customer owes", "credit to come"}
    assert [(o.what[:6], o.ring) for o in outwork(demo)] == [("Dynamo", "01632 960154")]
    story = part_story(demo, stocked(demo, "TL-2005").id)
    assert {m.why for m in story.moves} == {"stock-taking", "goods in", "fitted"}
    assert [p.cost for p in story.prices] == [Decimal("2.45"), Decimal("2.35")]


def test_the_journal_tells_it_in_order(demo: Shop) -> None:
    times = [row[0] for row in demo.fetch("SELECT at FROM journal ORDER BY id")]
    assert times == sorted(times)
    assert times[-1] <= demo.at()
    assert (
        one(demo, "SELECT COUNT(*) FROM journal WHERE person_id IS NULL") == 1
    )  # the owner, by nobody; she took on the others
    assert len(times) < 1_150  # an act costs milliseconds, and the demo is waited for


def rows_of(file: Path) -> dict[str, list[tuple[object, ...]]]:
    """Return every table of a shop's file, without the ids of operations."""
    connection = sqlite3.connect(file)
    try:
        names = [
            row[0]
            for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY 1")
        ]
        found = {}
        for name in names:
            columns = [c[1] for c in connection.execute(f"PRAGMA table_info({name})") if c[1] != "op"]
            found[name] = connection.execute(f"SELECT {', '.join(columns)} FROM {name} ORDER BY 1").fetchall()
        return found
    finally:
        connection.close()


def test_the_same_morning_gives_the_same_shop(demo: Shop, tmp_path: Path) -> None:
    shop = demo_shop(tmp_path / "again.db", now=lambda: NOW)
    shop.close()
    first, again = rows_of(Path(str(demo.place.file))), rows_of(tmp_path / "again.db")
    assert set(first) == set(again)
    for name, rows in first.items():
        assert again[name] == rows, name


@pytest.mark.long
@pytest.mark.parametrize(
    "now",
    [
        datetime(2026, 11, 30, 0, 5, tzinfo=UTC),  # five past midnight, a Monday
        datetime(2026, 10, 25, 1, 30, tzinfo=UTC),  # the hour that comes twice
    ],
)
def test_it_is_of_this_week_whenever_it_is_opened(now: datetime, tmp_path: Path) -> None:
    shop = demo_shop(tmp_path / "demo.db", now=lambda: now)
    assert dict(shop.fetch("SELECT state, COUNT(*) FROM card GROUP BY state")) == STATES
    assert all(week.clocked_s > 0 for week in hours(shop, this_week(shop, 13)).weeks)
    test_clocks_keep_shop_hours_and_never_overlap(shop)
    test_nothing_hindered_a_closed_card(shop)
    test_the_journal_tells_it_in_order(shop)
    (running,) = people.running_clocks(shop)
    assert running.since.date() == shop.local(shop.at()).date()
    opened = [shop.local(row[0]) for row in shop.fetch("SELECT opened_at FROM card WHERE state = 'closed'")]
    assert all(8 <= at.hour < 18 for at in opened)
    shop.close()


def test_the_settings_file_shows_every_key() -> None:
    import tomllib

    from shopcli.shop.settings import Settings

    table = tomllib.loads((shipped("sample_data") / "shop.toml").read_text(encoding="utf-8"))
    assert set(table) == set(Settings._fields)


def test_the_week_is_in_step_with_what_was_done(demo: Shop) -> None:
    from shopcli.shop.week_check import out_of_step as weeks_out_of_step

    assert one(demo, "SELECT COUNT(*) FROM job_times") > 20
    assert weeks_out_of_step(demo.fetch, demo.settings.tz()) == ()
