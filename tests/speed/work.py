"""What the core does while somebody works: a full card read, an act written for good, the largest job expanded.

Beside each its bare reference in the same run, in turns: the same SQL texts by the driver alone, the shortest possible
commit on the same disk, the reader of TOML over the same files.
"""

import os
import sqlite3
import statistics
import tempfile
import time
import tomllib
from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path

from shopcli.shop.commands import OpenCard, TakeReading
from shopcli.store.demo import demo_shop
from shopcli.store.reads import bench
from shopcli.store.shop import Shop
from shopcli.worklists.expand import expand
from shopcli.worklists.load import load_library
from shopcli.worklists.sheets import facts, lookup
from tests.speed.rows import Row

ROUNDS = 40
TASKS, READINGS = 60, 200
GAP = ("set-gap", "points gap|as left", "16 thou")
CAR = "demo-lark-1200"
LARGEST, MORE = ("engine-service",), ("engine-service", "yearly-inspection", "brakes-drum-overhaul")


def rows() -> Iterator[Row]:
    """Measure."""
    with tempfile.TemporaryDirectory() as folder:
        shop = demo_shop(str(Path(folder) / "demo.db"))
        key = full_card(shop)
        yield _reading_a_card(shop, key)
        yield from _acting(shop, key, Path(folder))
        shop.close()
    yield _expanding()


def full_card(shop: Shop) -> int:
    """Open a card of at least sixty tasks on which two hundred readings were taken."""
    who = shop.fetch("SELECT id FROM person WHERE role = 'mechanic' ORDER BY id")[0][0]
    vehicle = shop.fetch("SELECT id FROM vehicle WHERE sheet = ? ORDER BY id", (CAR,))[0][0]
    card = shop.do(OpenCard(vehicle, MORE, odometer=90_000), by=who).id
    tasks = shop.fetch("SELECT id FROM task WHERE card_id = ? ORDER BY position", (card,))
    assert len(tasks) >= TASKS, len(tasks)
    assert shop.place.file
    columns = [row[1] for row in shop.fetch("PRAGMA table_info(reading)") if row[1] != "id"]
    given = {"task_id": "?", "card_id": "?"}
    with sqlite3.connect(shop.place.file) as connection:
        for number in range(READINGS):
            task = tasks[number % len(tasks)][0]
            connection.execute(
                f"INSERT INTO reading ({', '.join(columns)}) SELECT {', '.join(given.get(c, c) for c in columns)} "
                "FROM reading ORDER BY id LIMIT 1",
                [task if c == "task_id" else card for c in columns if c in given],
            )
    return card


def _reading_a_card(shop: Shop, key: int) -> Row:
    """Compare the card as a screen has it with its SQL texts alone, as the driver says them."""
    said: list[str] = []
    held = getattr(shop.reader._local, "held", None) or shop.reader._connect()
    held[0].set_trace_callback(said.append)
    view = bench.card(shop, key)
    held[0].set_trace_callback(None)
    assert len(view.tasks) >= TASKS
    assert sum(len(t.readings) for t in view.tasks) >= READINGS
    raw = sqlite3.connect(str(shop.place.file))

    def driver() -> None:
        for sql in said:
            raw.execute(sql).fetchall()

    ours, reference = in_turns(lambda: bench.card(shop, key), driver)
    raw.close()
    return Row(f"a card of {len(view.tasks)} tasks read, the same SQL [ms]", ours, reference, 3.0)


def _acting(shop: Shop, key: int, folder: Path) -> Iterator[Row]:
    """Compare a reading written for good with the shortest commit there is, and with a forced write of one page."""
    who = shop.fetch("SELECT id FROM person WHERE role = 'mechanic' ORDER BY id")[0][0]
    task = next(t for t in bench.card(shop, key).tasks if t.task.key.endswith(GAP[0]))
    bare = sqlite3.connect(folder / "bare.db", isolation_level=None)
    for pragma in ("journal_mode=WAL", "synchronous=FULL"):
        bare.execute(f"PRAGMA {pragma}")
    bare.execute("CREATE TABLE t (id INTEGER PRIMARY KEY, x TEXT)")

    def commit() -> None:
        bare.execute("BEGIN IMMEDIATE")
        bare.execute("INSERT INTO t (x) VALUES ('x')")
        bare.execute("COMMIT")

    probe = os.open(folder / "probe", os.O_WRONLY | os.O_CREAT)

    def synced() -> None:
        os.pwrite(probe, b"x" * 4096, 0)
        os.fdatasync(probe)

    ours, reference = in_turns(lambda: shop.do(TakeReading(task.id, *GAP[1:]), by=who), commit)
    yield Row("a reading written for good, a bare commit [ms]", ours, reference, 3.0)
    ours, reference = in_turns(commit, synced)
    yield Row("a bare commit, a forced write of one page [ms]", ours, reference)
    bare.close()
    os.close(probe)


def _expanding() -> Row:
    """Compare the expansion of the largest job, the files read, with the reader of TOML over the same files."""
    folder = Path(str(files("shopcli"))).parent / "jobtemplates"
    texts = [file.read_text(encoding="utf-8") for file in sorted(folder.rglob("*.toml"))]
    library = load_library()
    known, book = facts(library, CAR), lookup(library, CAR)

    def parse() -> None:
        for text in texts:
            tomllib.loads(text)

    count = len(expand(library, LARGEST, known, book).tasks)
    ours, reference = in_turns(lambda: expand(library, LARGEST, known, book), parse, rounds=12)
    return Row(f"the largest job expanded, {count} tasks, its files parsed [ms]", ours, reference, 3.0)


def in_turns(
    ours: Callable[[], object], reference: Callable[[], object], rounds: int = ROUNDS
) -> tuple[float, float]:
    """Return the medians of both [ms]; the first three rounds warm the caches and do not count."""
    times = [(_took(ours), _took(reference)) for _ in range(rounds + 3)][3:]
    return statistics.median(a for a, _ in times), statistics.median(b for _, b in times)


def _took(work: Callable[[], object]) -> float:
    started = time.perf_counter()
    work()
    return (time.perf_counter() - started) * 1000
