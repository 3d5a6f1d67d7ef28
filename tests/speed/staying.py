"""What a terminal costs that stays open: memory while somebody works, processor while nobody does, bytes on the wire a key.

Beside each the smallest application of the same framework, on a terminal of its own.
"""

import select
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from tests.speed.keys import AT_BENCH, BACK, WITHOUT_A_CLOCK, to_the_card
from tests.speed.many_cards import many_cards
from tests.speed.rows import Row
from tests.speed.terminal import Terminal

CARDS = 2_000
HOUR = 60  # rounds of scripted keys; somebody at the bench presses about as many in an hour
IDLE_S = 20.0
QUIET_S = 0.1


def rows() -> Iterator[Row]:
    """Measure."""
    with tempfile.TemporaryDirectory() as folder:
        db = Path(folder) / "many.db"
        many_cards(db, CARDS)
        ours = Terminal([sys.executable, "-m", "shopcli", "--db", str(db), "--by", WITHOUT_A_CLOCK])
        ticking = Terminal([sys.executable, "-m", "tests.speed.ticking"])
        echo = Terminal([sys.executable, "-m", "tests.speed.echo"])
        try:
            ours.wait_for(b"J00029")
            ticking.wait_for(b"TICKING")
            echo.wait_for(b"READY-TO-TYPE")
            to_the_card(ours)
            yield from _bytes(ours, echo)
            yield from _memory(ours, echo)
            ours.key_until(b"c", b"Clock running on")
            ours.settled(1.0)
            yield _idle(ours, ticking)
        finally:
            for terminal in (ours, ticking, echo):
                terminal.close()


def _heard(terminal: Terminal, key: bytes) -> int:
    """Return how many bytes come for a key."""
    terminal.press(key)
    count = 0
    while select.select([terminal.fd], [], [], QUIET_S)[0]:
        count += len(terminal.read())
    return count


def _bytes(ours: Terminal, echo: Terminal) -> Iterator[Row]:
    heard: dict[str, list[int]] = {}
    bare: list[int] = []
    for turn in range(8):
        for number, (what, key) in enumerate(AT_BENCH):
            heard.setdefault(what, []).append(_heard(ours, key))
            bare.append(_heard(echo, BACK if (turn * len(AT_BENCH) + number) % 2 else b"x"))
    for what, counts in heard.items():
        yield Row(f"{what}, bytes on the wire, bare echo", statistics.median(counts), statistics.median(bare))


def _memory(ours: Terminal, echo: Terminal) -> Iterator[Row]:
    sizes = []
    for round_ in range(HOUR):
        for _what, key in AT_BENCH:
            ours.press(key)
            ours.settled(0.03)
        if round_ in {HOUR // 3, HOUR - 1}:
            ours.settled(0.5)
            sizes.append(ours.memory_mb())
    yield Row("memory after an hour at the bench [MB], bare echo", sizes[-1], echo.memory_mb(), 2.2)
    yield Row("memory after an hour, after twenty minutes [MB]", sizes[-1], sizes[0], 1.03)


def _idle(ours: Terminal, ticking: Terminal) -> Row:
    """Compare the processor had while a clock runs and nobody presses a key with that of one timer."""
    before = ours.processor_s(), ticking.processor_s()
    end = time.monotonic() + IDLE_S
    while time.monotonic() < end:
        for terminal in (ours, ticking):
            if select.select([terminal.fd], [], [], 0.05)[0]:
                terminal.read()
    spent, bare = ours.processor_s() - before[0], ticking.processor_s() - before[1]
    return Row(
        "idle, a clock running [ms of processor a second], one timer",
        spent / IDLE_S * 1000,
        bare / IDLE_S * 1000,
        1.5,
    )
