"""One place that owns the clock, the records and the settings of the tests. SQLite files are real and temporary."""

import gc
import json
import os
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from uuid import uuid4

import hypothesis
import pytest

from shopcli.shop.commands import AddCustomer, AddPart, AddVehicle, OpenCard
from shopcli.shop.fetching import for_server
from shopcli.shop.settings import Settings, Staff, VatRate
from shopcli.shop.views import CardView, TaskView
from shopcli.store.reads import bench, people
from shopcli.store.shop import Shop, open_shop
from shopcli.worklists.library import Library
from shopcli.worklists.load import load_library
from tests import parsed_once
from tests.long_walks import is_long
from tests.postgres import cluster, postgres_url
from tests.told_once import told_once

__all__ = ["cluster", "postgres_url"]

parsed_once.install()

# Laws are tried ten times at each run; HYPOTHESIS_PROFILE=thorough tries them five hundred times. A test that names
# its own number keeps it. No test is timed: a busy machine is no fault of the law.
hypothesis.settings.register_profile("usual", max_examples=10, deadline=None)
hypothesis.settings.register_profile("thorough", max_examples=500, deadline=None)
hypothesis.settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "usual"))

# Hundreds of applications come and go in one process: looking for garbage after every 700 new objects would take a
# sixth of the whole time.
gc.set_threshold(100_000, 20, 100)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is walked before a release only, before it is chosen what runs."""
    here = Path(__file__).parent
    for item in items:
        if item.path.is_relative_to(here) and is_long(item.path.relative_to(here).as_posix(), item.name):
            item.add_marker(pytest.mark.long)
        only = item.get_closest_marker("sqlite_only")
        if only is not None and item.config.getoption("--engine") == "server":
            item.add_marker(pytest.mark.skip(reason=f"on a file only: {only.args[0]}"))


def pytest_collection_finish() -> None:
    """What was collected stays to the end: looking through it for garbage again and again finds none."""
    gc.collect()
    gc.freeze()


START = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)

SETTINGS = Settings(
    shop_name="Test Lane Motors",
    address=("1 Test Lane", "Little Proof"),
    currency="GBP",
    vat_rates=(VatRate("standard", Decimal(20)), VatRate("zero", Decimal(0), "Z")),
    labour_minor=6000,
    labour_unit_minutes=6,
    zone="Europe/London",
    staff=(
        Staff("Olive", "owner", "metric"),
        Staff("Tom", "mechanic", "imperial"),
        Staff("Nell", "mechanic", "metric"),
        Staff("Dora", "desk", "metric"),
    ),
)


@dataclass
class Clock:
    """A clock that moves only when a test says so."""

    at: datetime = START

    def __call__(self) -> datetime:
        return self.at

    def forward(self, **kwargs: float) -> None:
        self.at += timedelta(**kwargs)


@dataclass
class Busy:
    """A shop with something in it, and the ids a test needs."""

    shop: Shop
    clock: Clock
    people: dict[str, int]
    customer: int
    vehicle: int
    card: int
    more: dict[str, int] = field(default_factory=dict)

    def do(self, command: object, by: str = "Tom") -> object:
        return self.shop.do(command, by=self.people[by])  # type: ignore[arg-type]

    def behind(self, sql: str, *params: object) -> None:
        """Change the records behind the program's back, on either engine; parameters are written ``?``."""
        with self.shop.engine.begin() as connection:
            wanted = sql if self.shop.place.file else for_server(sql)
            connection.exec_driver_sql(wanted, params)

    def view(self) -> CardView:
        return bench.card(self.shop, self.card)

    def task(self, key: str) -> TaskView:
        return next(t for t in self.view().tasks if t.task.key == key)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(scope="session")
def empty_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a database brought up once by the real migrations; tests work on copies of it."""
    path = tmp_path_factory.mktemp("empty") / "empty.db"
    open_shop(str(path), settings=SETTINGS, now=Clock()).close()
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return path


@pytest.fixture(scope="session")
def library() -> Library:
    """Return the shipped library, read once."""
    return load_library()


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the tests of the records run on a server instead of files."""
    parser.addoption("--engine", choices=("file", "server"), default="file")


@pytest.fixture(scope="session")
def empty_on_server(request: pytest.FixtureRequest) -> str:
    """Return the name of a database brought up once on the tests' own server; tests work on copies of it."""
    server = request.getfixturevalue("cluster")
    open_shop(server.make("empty"), settings=SETTINGS, now=Clock()).close()
    return "empty"


@pytest.fixture
def make_shop(
    request: pytest.FixtureRequest, tmp_path: Path, empty_database: Path, library: Library
) -> Iterator[Callable[..., Shop]]:
    """Return a maker of shops on real files, or on a real server (``--engine server``), let go of at the end."""
    made: list[Shop] = []
    on_server = request.config.getoption("--engine") == "server"
    dropped: list[str] = []

    def place(name: str) -> str:
        if on_server:
            server, database = request.getfixturevalue("cluster"), f"shop_{uuid4().hex}"
            dropped.append(database)
            return server.make(database, request.getfixturevalue("empty_on_server"))
        shutil.copy(empty_database, tmp_path / name)
        return str(tmp_path / name)

    def make(
        name: str = "shop.db", now: Callable[[], datetime] | None = None, settings: Settings = SETTINGS
    ) -> Shop:
        shop = open_shop(place(name), settings=settings, now=now or Clock())
        shop.library = library
        made.append(shop)
        return shop

    yield make
    for shop in made:
        shop.close()
    for database in dropped:
        request.getfixturevalue("cluster").drop(database)


@pytest.fixture
def shop(make_shop: Callable[..., Shop], clock: Clock) -> Shop:
    return make_shop(now=clock)


def fill(shop: Shop, clock: Clock) -> Busy:
    """Put a customer, a car, a few parts and a card into an empty shop."""
    who, *ids = told_once(shop, "busy", lambda: _filled(shop))
    return Busy(shop, clock, dict(who), *ids)


def _filled(shop: Shop) -> tuple[dict[str, int], int, int, int]:
    who = {p.name: p.id for p in people.people(shop)}
    with shop.many() as run:
        dora = who["Dora"]
        customer = run.do(
            AddCustomer("Ada Lark", "01234 567890", address="2 Proof Road\nLittle Proof"), by=dora
        ).id
        vehicle = run.do(
            AddVehicle(customer, "LRK 120", "Lark", "1200", 1964, sheet="demo-lark-1200", distance_unit="mi"),
            by=dora,
        ).id
        for number, name, cost, stock in (
            ("T-001", "engine oil 20W-50", 450, 20_000),
            ("T-002", "contact set", 620, 2_000),
            ("T-003", "condenser", 380, 1_000),
        ):
            run.do(AddPart(number, name, cost, stock_milli=stock, reorder_milli=1_000, bin="A1"), by=dora)
        card = run.do(
            OpenCard(
                vehicle,
                ("oil-change", "points"),
                words="Runs roughly when warm.",
                odometer=48_213,
                authority_minor=40_000,
                authority_by="Ada Lark, by phone",
                promised="2026-11-27",
            ),
            by=dora,
        ).id
    return who, customer, vehicle, card


@pytest.fixture
def busy_shop(shop: Shop, clock: Clock) -> Busy:
    return fill(shop, clock)


@pytest.fixture(autouse=True)
def _plain_environment(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Tests never see the machine's own shop, colours or animation settings, nor what a terminal remembers there.

    The folders are named and not made: most of these thousands of tests need none.
    """
    own = tmp_path_factory.getbasetemp() / f"own-{uuid4().hex}"
    for name in ("SHOPCLI_DB", "SHOPCLI_SETTINGS", "SHOPCLI_BY", "SHOPCLI_ASCII", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    monkeypatch.setenv("XDG_STATE_HOME", str(own / "state"))
    monkeypatch.setenv("XDG_DATA_HOME", str(own / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(own / "config"))
    monkeypatch.setenv("XDG_CACHE_HOME", os.environ.get("XDG_CACHE_HOME", str(own / "cache")))


def journal_acts(shop: Shop) -> list[str]:
    """Return the acts in the journal, oldest first."""
    return [row[0] for row in shop.fetch("SELECT act FROM journal ORDER BY id")]


def journal_after(shop: Shop, act: str) -> list[dict[str, object]]:
    """Return what the journal kept of acts of a kind."""
    rows = shop.fetch("SELECT after FROM journal WHERE act = ? ORDER BY id", (act,))
    return [json.loads(row[0]) for row in rows]
