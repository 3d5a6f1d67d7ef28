"""A guard, not a benchmark: ratios against references in the same turns, with a wide margin over the goals of `tests/speed`.

What is compared is processor time, so that a busy machine is no fault of ours; each the least of a few turns.
"""

import os
import resource
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest
from sqlalchemy import event

from shopcli.shop.commands import TakeReading
from shopcli.store.reads import bench
from shopcli.worklists.expand import expand
from shopcli.worklists.library import Library
from shopcli.worklists.sheets import facts, lookup
from tests.conftest import Busy
from tests.speed.terminal import Terminal

MARGIN, TURNS = 1.5, 3
CAR = "demo-lark-1200"


def least(*works: Callable[[], float]) -> list[float]:
    """Return the least each takes, done in turns; the first turn warms the caches."""
    turns = [[work() for work in works] for _ in range(TURNS + 1)][1:]
    return [min(column) for column in zip(*turns, strict=True)]


def of_child(*argv: str) -> float:
    """Return the processor time a command has had."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    subprocess.run([sys.executable, *argv], stdout=subprocess.DEVNULL, check=True, env=environment)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def of_call(work: Callable[[], object]) -> float:
    """Return the processor time a call has had."""
    started = time.process_time()
    work()
    return time.process_time() - started


def of_screen(marker: bytes, *argv: str) -> float:
    """Return the processor time a command has had when `marker` is on its way to the screen."""
    terminal = Terminal([sys.executable, *argv])
    try:
        terminal.wait_for(marker, timeout=60)
        return terminal.processor_s()
    finally:
        terminal.close()


def test_help_stays_near_a_bare_interpreter() -> None:
    ours, bare = least(lambda: of_child("-m", "shopcli", "--help"), lambda: of_child("-c", "pass"))
    assert ours / bare < 2 * MARGIN


def test_the_first_screen_stays_near_the_smallest_application(busy_shop: Busy) -> None:
    number = busy_shop.view().number.encode()
    db = str(busy_shop.shop.place.file)
    ours, bare = least(
        lambda: of_screen(number, "-m", "shopcli", "--db", db),
        lambda: of_screen(b"HELLO-FIRST-PAINT", "-m", "tests.speed.hello"),
    )
    if not bare:
        pytest.skip("the system does not tell the processor time of a thread")
    assert ours / bare < 1.2 * MARGIN


def test_the_largest_job_is_expanded_sooner_than_its_files_are_parsed(library: Library) -> None:
    folder = Path(str(files("shopcli"))).parent / "jobtemplates"
    texts = [file.read_text(encoding="utf-8") for file in sorted(folder.rglob("*.toml"))]
    known, book = facts(library, CAR), lookup(library, CAR)
    ours, parsed = least(
        lambda: of_call(lambda: expand(library, ("engine-service",), known, book)),
        lambda: of_call(lambda: [tomllib.loads(text) for text in texts]),
    )
    assert ours / parsed < 0.5  # a twentieth, where three times would do


def test_a_card_is_read_in_a_few_times_its_sql(busy_shop: Busy) -> None:
    shop, said = busy_shop.shop, list[str]()
    assert shop.place.file
    bench.card(shop, busy_shop.card)  # opens the connection
    connection = shop.reader._local.held[0]
    connection.set_trace_callback(said.append)
    bench.card(shop, busy_shop.card)
    connection.set_trace_callback(None)

    def driver() -> None:
        for sql in said:
            connection.execute(sql).fetchall()

    many = 20
    ours, bare = least(
        lambda: of_call(lambda: [bench.card(shop, busy_shop.card) for _ in range(many)]),
        lambda: of_call(lambda: [driver() for _ in range(many)]),
    )
    assert ours / bare < 3 * MARGIN


def test_a_reading_is_written_with_seven_statements(busy_shop: Busy) -> None:
    """Who, the task with its card, the reading before it, that one struck, this one, the journal; and the beginning."""
    busy_shop.do(TakeReading(busy_shop.task("points:set-gap").id, "points gap|as left", "16 thou"))
    said: list[str] = []
    event.listen(busy_shop.shop.engine, "before_cursor_execute", lambda *told: said.append(told[2]))
    busy_shop.do(TakeReading(busy_shop.task("points:set-gap").id, "points gap|as left", "15 thou"))
    assert len(said) == 7, said
