"""Real processes on one file: no lost act, no gap in numbers, nothing acknowledged is lost to ``kill -9``."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from shopcli.store.reads import bench, people
from shopcli.store.whole.examining import examine
from tests.conftest import Busy

WRITER = """
import sys
from shopcli.store.shop import open_shop
from shopcli.errors import StoreTrouble
from shopcli.shop.commands import OpenCard
shop = open_shop(sys.argv[1])
for n in range(int(sys.argv[2])):
    op = f"w{sys.argv[3]}-{n}"
    while True:  # somebody who waited in vain on a slow machine asks again: the same act, done once
        try:
            done = shop.do(OpenCard(1, (), title=op, odometer=50_000), by=1, op=op)
            break
        except StoreTrouble:
            pass
    print(done.id, flush=True)
"""

BENCH = """
import sys
from shopcli.store.shop import open_shop
from shopcli.shop.commands import ClockOn, TakeReading
shop = open_shop(sys.argv[1])
shop.do(ClockOn(int(sys.argv[2])), by=2)
print("clock", flush=True)
shop.do(TakeReading(int(sys.argv[3]), "points gap|as left", "16 thou"), by=2)
print("reading", flush=True)
import time
time.sleep(60)
"""


def start(code: str, *args: object) -> subprocess.Popen[str]:
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, args)], stdout=subprocess.PIPE, text=True, env=env
    )


def test_four_processes_number_their_cards_without_gap_or_double(busy_shop: Busy) -> None:
    file = busy_shop.shop.place.file
    writers = [start(WRITER, file, 12, n) for n in range(4)]
    told = [line for w in writers for line in w.communicate(timeout=120)[0].split()]
    assert [w.returncode for w in writers] == [0] * 4
    numbers = [row[0] for row in busy_shop.shop.fetch("SELECT number FROM card ORDER BY number")]
    assert numbers == [f"J{n:05d}" for n in range(1, 50)]
    assert len(set(told)) == 48


def test_kill_9_loses_neither_the_clock_nor_the_reading(busy_shop: Busy) -> None:
    first, gap = busy_shop.view().tasks[0], busy_shop.task("points:set-gap")
    process = start(BENCH, busy_shop.shop.place.file, first.id, gap.id)
    assert process.stdout is not None
    assert process.stdout.readline() == "clock\n"
    assert process.stdout.readline() == "reading\n"
    process.send_signal(signal.SIGKILL)
    process.wait(timeout=10)
    assert [c.task_id for c in people.running_clocks(busy_shop.shop)] == [first.id]
    assert [r.typed for r in busy_shop.task("points:set-gap").readings] == ["16 thou"]
    assert busy_shop.shop.fetch("PRAGMA integrity_check") == [("ok",)]


def test_another_terminals_act_is_seen_at_once(busy_shop: Busy) -> None:
    first, gap = busy_shop.view().tasks[0], busy_shop.task("points:set-gap")
    process = start(BENCH, busy_shop.shop.place.file, first.id, gap.id)
    try:
        assert process.stdout is not None
        assert process.stdout.readline() == "clock\n"
        deadline = time.monotonic() + 5
        while not bench.card(busy_shop.shop, busy_shop.card).tasks[0].running and time.monotonic() < deadline:
            time.sleep(0.01)
        assert bench.card(busy_shop.shop, busy_shop.card).tasks[0].running == ("Tom",)
    finally:
        process.kill()
        process.wait()


SAME_CLOCK = """
import sys
from shopcli.store.shop import open_shop
from shopcli.shop.commands import ClockOn
shop = open_shop(sys.argv[1])
shop.warm()
print("ready", flush=True)
sys.stdin.readline()
for task in sys.argv[2:]:
    print(*shop.do(ClockOn(int(task)), by=2).said, flush=True)
"""


def test_a_clock_started_at_two_terminals_is_one_clock(busy_shop: Busy) -> None:
    """Tom presses the key at both at once: on one task it is one entry, on two the later stops the earlier."""
    shop, (first, second) = busy_shop.shop, [t.id for t in busy_shop.view().tasks[:2]]
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    for tasks in ((first,), (second, first)):
        shop_at = str(shop.place.file or shop.place.url)
        words = [sys.executable, "-c", SAME_CLOCK, shop_at, *map(str, tasks)]
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
        both = [subprocess.Popen(words, text=True, env=env, **pipes) for _ in range(2)]
        assert [p.stdout.readline() for p in both if p.stdout] == ["ready\n"] * 2
        for terminal in both:
            assert terminal.stdin
            terminal.stdin.write("\n")
            terminal.stdin.flush()
        said = "".join(p.communicate(timeout=120)[0] for p in both)
        assert [p.returncode for p in both] == [0, 0]
        running = shop.fetch("SELECT person_id, task_id FROM clock_entry WHERE ended_at IS NULL")
        assert running == [(2, first)]
        if tasks == (first,):
            assert said.count("Your clock already runs on this task.") == 1
            assert shop.fetch("SELECT COUNT(*) FROM clock_entry") == [(1,)]
    assert examine(shop) == ()
