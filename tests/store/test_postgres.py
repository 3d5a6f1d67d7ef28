"""The same acts leave the same records on a server as in a file, what is fixed is fixed there too, and it is read alike."""

import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shopcli.errors import Refused, StoreTrouble
from shopcli.papers.week.export import report_data
from shopcli.papers.week.giving import report_for
from shopcli.shop.commands import (
    AddCustomer,
    AddOutwork,
    AddToBill,
    ClockOff,
    ClockOn,
    CloseCard,
    CountStock,
    CreditInvoice,
    GiveDiscount,
    LeaveOut,
    MakeOffer,
    MovePart,
    OpenCard,
    OutworkBack,
    PutPart,
    Refund,
    ReversePayment,
    TakeBack,
    TakePayment,
)
from shopcli.store.reads import (
    ahead,
    bench,
    desk,
    lately,
    made_offers,
    people,
    prices,
    promises,
    stock,
    summary,
)
from shopcli.store.reads.found import find_customers
from shopcli.store.reads.history import history
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.shop import Shop, open_shop
from shopcli.store.trouble import told
from shopcli.store.watching import watch
from shopcli.worklists.library import Library
from tests.conftest import SETTINGS, Busy, Clock, fill

FIXED = ("journal", "invoice", "credit_note", "payment", "stock_move", "price_change", "offer")
# What no two runs have in common; words to find by are numbered as they come.
ALWAYS_ANOTHER = {"journal": {"op"}, "find_word": {"id"}}


def a_day(busy: Busy) -> None:
    """Do a bit of everything that writes: work, parts, an offer, an act taken back, money, and the card closed."""
    busy.do(MakeOffer(busy.vehicle, ("oil-change",)), "Dora")
    first = busy.view().tasks[0]
    busy.do(ClockOn(first.id))
    busy.clock.forward(minutes=37)
    busy.do(ClockOff())
    (known,) = busy.shop.fetch("SELECT id FROM part WHERE number = 'T-002'")[0]
    busy.do(PutPart(busy.card, known, "contact set", 1_000))
    busy.do(MovePart(busy.view().parts[-1].id, "fitted"))
    busy.do(MovePart(busy.view().parts[0].id, "fitted"))
    (act,) = busy.shop.fetch("SELECT MAX(id) FROM journal")[0]
    busy.do(TakeBack(act))
    (part,) = busy.shop.fetch("SELECT id FROM part WHERE number = 'T-003'")[0]
    busy.do(CountStock(((part, 4_000),)), "Dora")
    outwork = busy.do(AddOutwork(busy.card, "Skim the drums", "Fell & Co", 5_000, 8_650)).id
    busy.do(OutworkBack(outwork, ""))
    busy.do(AddToBill(busy.card, "sundry", "Rags and grease", 350), "Dora")
    busy.do(GiveDiscount(busy.card, "Old customer", rate_hundredths=250), "Dora")
    busy.do(TakePayment(busy.card, 5_000, "deposit", "card"), "Dora")
    for task in busy.view().tasks:
        if task.state == "open":
            busy.do(LeaveOut(task.id, "not on this visit"))
    for one in busy.view().parts:
        if one.state == "wanted":
            busy.do(MovePart(one.id, "not used"))
    busy.do(CloseCard(busy.card), "Dora")
    wrong = busy.do(TakePayment(busy.card, 1_000, "payment", "cash"), "Dora").id
    busy.do(ReversePayment(wrong, "was the other card's"), "Dora")
    busy.do(TakePayment(busy.card, 9_000, "payment", "transfer", over="kept"), "Dora")
    busy.do(CreditInvoice(busy.card, "not skimmed after all", lines=((f"O{outwork}", 0),)), "Dora")
    busy.do(Refund(busy.card, 500, "not skimmed after all"), "Dora")
    busy.do(OpenCard(busy.vehicle, ("points",), authority_minor=9_000, promised="2026-11-26"), "Dora")


@pytest.fixture(scope="module")
def on_server(cluster: object, library: Library) -> Iterator[Busy]:
    """Return a shop on a server with a day behind it."""
    shop = open_shop(cluster.make("a_day"), settings=SETTINGS, now=(clock := Clock()))  # type: ignore[attr-defined]
    shop.library = library
    busy = fill(shop, clock)
    a_day(busy)
    yield busy
    shop.close()


@pytest.fixture(scope="module")
def in_file(
    empty_database: Path, library: Library, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Busy]:
    """Return a shop in a file with the same day behind it."""
    file = tmp_path_factory.mktemp("in_file") / "shop.db"
    shutil.copy(empty_database, file)
    shop = open_shop(str(file), settings=SETTINGS, now=(clock := Clock()))
    shop.library = library
    busy = fill(shop, clock)
    a_day(busy)
    yield busy
    shop.close()


def tables(shop: Shop) -> dict[str, list[str]]:
    """Return the columns of every table of a file, by the table's name."""
    names = shop.fetch(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!'"
        " AND sql NOT LIKE '%VIRTUAL%' AND name NOT LIKE '%!_data' ESCAPE '!'"
    )
    return {name: [c[1] for c in shop.fetch(f"PRAGMA table_info({name})")] for (name,) in names}


def rows(shop: Shop, table: str, columns: list[str]) -> list[tuple[object, ...]]:
    kept = ", ".join(f'"{c}"' for c in columns if c not in ALWAYS_ANOTHER.get(table, ()))
    return sorted(shop.fetch(f'SELECT {kept} FROM "{table}"'), key=repr)


def see_the_same_records(server: Shop, file: Shop) -> int:
    """Compare every table, row by row (true and false are 1 and 0 in a file, and equal); return how many have rows."""
    known = {name for (name,) in server.fetch("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")}
    here = tables(file)
    assert known - set(here) == set()
    filled = 0
    for table in sorted(known):
        ours = rows(file, table, here[table])
        assert rows(server, table, here[table]) == ours, table
        filled += bool(ours)
    return filled


def test_the_same_acts_leave_the_same_records(on_server: Busy, in_file: Busy) -> None:
    assert see_the_same_records(on_server.shop, in_file.shop) >= 18


@pytest.mark.long
def test_three_months_of_the_invented_shop_are_the_same_on_a_server(
    postgres_url: str, tmp_path: Path
) -> None:
    from shopcli.store.demo import demo_shop

    server, file = (demo_shop(place, now=Clock()) for place in (postgres_url, tmp_path / "demo.db"))
    try:
        assert see_the_same_records(server, file) >= 20
    finally:
        server.close()
        file.close()


def test_a_server_says_when_somebody_wrote(on_server: Busy, in_file: Busy) -> None:
    eye = watch(on_server.shop.place)
    try:
        assert [eye.changed(), eye.changed()] == [False, False]
        for one in (on_server, in_file):  # the others still find the same in both
            one.do(AddCustomer("Cy Finch"), "Dora")
        assert [eye.changed(), eye.changed()] == [True, False]
    finally:
        eye.close()


READS: dict[str, Callable[[Busy], object]] = {
    "card": lambda b: bench.card(b.shop, b.card),
    "summary": lambda b: summary.summary(b.shop, b.card),
    "open cards": lambda b: desk.open_cards(b.shop),
    "customers found": lambda b: find_customers(b.shop, "ada"),
    "vehicles found": lambda b: desk.find_vehicles(b.shop, "LRK"),
    "parts found": lambda b: desk.find_parts(b.shop, "contact"),
    "history": lambda b: history(b.shop, b.vehicle),
    "stock": lambda b: stock.stock(b.shop),
    "last acts": lambda b: lately.last_acts(b.shop, b.people["Tom"], b.card),
    "clocks": lambda b: people.running_clocks(b.shop),
    "report of the week": lambda b: report_data(report_for(b.shop, this_week(b.shop), "owner")),
    "past times": lambda b: prices.past(b.shop),
    "price": lambda b: prices.price_for(b.shop, ("oil-change",), b.vehicle),
    "promise": lambda b: promises.promise_for(b.shop, ("oil-change",), b.vehicle),
    "what is ahead": lambda b: ahead.ahead(b.shop),
    "offers": lambda b: made_offers.made_offers(b.shop),
}


@pytest.mark.parametrize("name", READS)
def test_it_is_read_alike(name: str, on_server: Busy, in_file: Busy) -> None:
    assert READS[name](on_server) == READS[name](in_file)


def over_a_taken_id(shop: Shop, table: str) -> str:
    """Return the statement that puts a row over one that is there, in the engine's own words."""
    if shop.place.file:
        return f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}"
    return f"INSERT INTO {table} SELECT * FROM {table} ON CONFLICT (id) DO UPDATE SET id = EXCLUDED.id"


@pytest.mark.parametrize("table", FIXED)
@pytest.mark.parametrize("where", ["on_server", "in_file"])
def test_what_is_fixed_is_fixed_in_the_records_themselves(
    where: str, table: str, request: pytest.FixtureRequest
) -> None:
    shop = request.getfixturevalue(where).shop
    before = shop.fetch(f"SELECT * FROM {table} ORDER BY id")
    assert before
    statements = [f"UPDATE {table} SET id = id + 1000", f"DELETE FROM {table}", over_a_taken_id(shop, table)]
    if shop.place.file is None:
        statements.append(f"TRUNCATE {table} CASCADE")
    for statement in statements:
        with pytest.raises(Refused, match="fixed for good"), told(), shop.engine.begin() as connection:
            connection.exec_driver_sql(statement)
    assert shop.fetch(f"SELECT * FROM {table} ORDER BY id") == before


def test_a_server_that_threw_us_out_is_asked_again(on_server: Busy) -> None:
    shop = on_server.shop
    (mine,) = shop.fetch("SELECT pg_backend_pid()")[0]
    with shop.engine.begin() as connection:
        connection.exec_driver_sql(f"SELECT pg_terminate_backend({mine}, 10000)")
    assert shop.fetch("SELECT COUNT(*) FROM invoice") == [(1,)]
    assert shop.fetch("SELECT pg_backend_pid()") != [(mine,)]
    with pytest.raises(StoreTrouble):
        shop.fetch("SELECT nothing FROM nowhere")


def test_who_waits_too_long_for_another_writer_is_told(on_server: Busy) -> None:
    engine = on_server.shop.engine
    with engine.begin(), engine.connect() as other:
        hasty = other.connection.driver_connection
        assert hasty is not None
        hasty.execute("SET lock_timeout = 50")
        with pytest.raises(StoreTrouble, match="another terminal is writing"), told():
            hasty.execute("SELECT pg_advisory_xact_lock(1936224112)")
        hasty.rollback()


def test_nobody_answers_there() -> None:
    with pytest.raises(StoreTrouble, match="server cannot be reached") as said:
        open_shop("postgresql://nobody@/nothing?host=/nowhere")
    assert "Is it running" in said.value.hint


def test_without_the_driver_it_says_what_to_install(tmp_path: Path) -> None:
    (tmp_path / "psycopg.py").write_text(
        "raise ModuleNotFoundError(\"No module named 'psycopg'\", name='psycopg')"
    )
    out = subprocess.run(
        [sys.executable, "-m", "shopcli", "list", "--db", "postgresql://me@nowhere/shop"],
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(tmp_path), "PATH": "", "HOME": str(tmp_path)},
    )
    assert out.returncode != 0
    assert "shopcli[postgres]" in out.stderr
    assert "Traceback" not in out.stderr
