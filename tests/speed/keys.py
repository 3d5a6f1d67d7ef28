"""From a key to the last of what it paints, at the bench on a full card, with twenty thousand cards behind it.

A key's picture is there when nothing more has come for a while; the time is that of the last byte before it.
"""

import statistics
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.speed.many_cards import many_cards
from tests.speed.rows import Row
from tests.speed.terminal import Terminal

CARDS, WARM_UP = 20_000, 8
DOWN, UP, BACK, ENTER = b"\x1b[B", b"\x1b[A", b"\x7f", b"\r"
QUIET_S = 0.08
FULL_CARD = b"J00029"
# Up and down the list, and a figure typed and taken away again.
AT_BENCH = (DOWN, DOWN, UP, DOWN, b"1", b"6", BACK, BACK, b"\x1b", UP, UP)


def rows() -> Iterator[Row]:
    """Measure both in turns, so that they meet the same machine."""
    with tempfile.TemporaryDirectory() as folder:
        db = Path(folder) / "many.db"
        many_cards(db, CARDS)
        bench = Terminal([sys.executable, "-m", "shopcli", "--db", str(db), "--by", "Tom Pellow"])
        bare = Terminal([sys.executable, "-m", "tests.speed.echo"])
        try:
            bench.wait_for(FULL_CARD)
            bare.wait_for(b"READY-TO-TYPE")
            bench.settled(0.4)
            for key in (FULL_CARD[-2:], ENTER, b"\x1b"):
                bench.press(key)
                bench.settled(0.4)
            ours, reference = _both(bench, bare)
        finally:
            bench.close()
            bare.close()
    yield Row("bench key to paint, p50 [ms], against 20 ms", statistics.median(ours), 20.0, 1.0)
    yield Row("bench key to paint, p95 [ms], against 50 ms", _p95(ours), 50.0, 1.0)
    yield Row(
        "bench key to paint, p50 [ms], bare echo", statistics.median(ours), statistics.median(reference), 3.0
    )
    yield Row("bench key to paint, p95 [ms], bare echo", _p95(ours), _p95(reference))


def _p95(times: Sequence[float]) -> float:
    return sorted(times)[int(len(times) * 0.95)]


def _both(bench: Terminal, bare: Terminal) -> tuple[list[float], list[float]]:
    ours, reference = [], []
    for turn in range(WARM_UP + 14):
        for number, key in enumerate(AT_BENCH):
            here = bench.key_to_paint(key, QUIET_S)
            there = bare.key_to_paint(b"x" if number % 2 else BACK, QUIET_S)
            if turn >= WARM_UP and here:
                ours.append(here * 1000)
            if turn >= WARM_UP and there:
                reference.append(there * 1000)
    return ours, reference
