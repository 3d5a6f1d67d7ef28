"""From a key to the last of what it paints, at the bench on a full card and at the desk, with twenty thousand cards behind.

A key's picture is there when nothing more has come for a while; the time is that of the last byte before it. An act
is there when its answer stands on the screen, written to the disk; a reading's is measured by `work`.

Every key of the bare echo paints, for it types a letter and takes it away in turns: one that paints nothing would
be given the time of the next blink of the cursor. The first turns of both are left out, what they load is told by
other benchmarks. Esc alone has a row of its own: the framework waits a tenth of a second whether it is the beginning
of an arrow key. Where others use the machine too the processor's time of a key tells more than the clock.
"""

import statistics
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.speed.many_cards import many_cards
from tests.speed.rows import Row
from tests.speed.terminal import Terminal

CARDS, WARM_UP, TURNS = 20_000, 3, 20
DOWN, UP, BACK, ENTER, ESC, F5 = b"\x1b[B", b"\x1b[A", b"\x7f", b"\r", b"\x1b", b"\x1b[15~"
QUIET_S = 0.08
FULL_CARD = b"J00029"
WITHOUT_A_CLOCK = "Idris Vaughan"
ANOTHER, FIRST, FIGURE, LEAVE = "bench, another task", "bench, first figure", "bench, figure", "bench, Esc"
LETTER, CARD, ECHO = "desk, letter of a search", "desk, another card", "bare echo"
# On the task in hand, which takes a reading: up and down the list, and a figure typed and taken away again.
AT_BENCH = (
    (ANOTHER, UP),
    (ANOTHER, DOWN),
    (ANOTHER, DOWN),
    (ANOTHER, UP),
    (FIRST, b"3"),
    (FIGURE, b"0"),
    (FIGURE, BACK),
    (FIGURE, b"1"),
    (LEAVE, ESC),
)
ACTS = (
    ("bench, clock on, to its answer", b"c", b"Clock running on"),
    ("bench, clock off, to its answer", b"c", b"Clock stopped on"),
)
AT_DESK = (
    (LETTER, b"2"),
    (LETTER, b"9"),
    (LETTER, BACK),
    (LETTER, BACK),
    (CARD, DOWN),
    (CARD, DOWN),
    (CARD, UP),
    (CARD, UP),
)
DESK_GOAL, SETTLED_MS = 3.0, 150.0
Times = dict[str, list[float]]


class Taken:
    """What was measured: by the clock, and of the processor where the system tells."""

    def __init__(self) -> None:
        self.clock: Times = {}
        self.processor: Times = {}

    def press(self, what: str, terminal: Terminal, key: bytes) -> None:
        """Press a key and keep what it took, unless it painted nothing."""
        before = terminal.processor_s()
        took = terminal.key_to_paint(key, QUIET_S)
        if took:
            self.clock.setdefault(what, []).append(took * 1000)
            self.processor.setdefault(what, []).append((terminal.processor_s() - before) * 1000)

    def act(self, what: str, terminal: Terminal, key: bytes, answer: bytes) -> None:
        """Press a key that acts and keep how long its answer took."""
        self.clock.setdefault(what, []).append(terminal.key_until(key, answer) * 1000)
        terminal.settled(0.4)


def rows() -> Iterator[Row]:
    """Measure both in turns, so that they meet the same machine."""
    with tempfile.TemporaryDirectory() as folder:
        db = Path(folder) / "many.db"
        many_cards(db, CARDS)
        ours = Terminal([sys.executable, "-m", "shopcli", "--db", str(db), "--by", WITHOUT_A_CLOCK])
        bare = Terminal([sys.executable, "-m", "tests.speed.echo"])
        try:
            ours.wait_for(FULL_CARD)
            bare.wait_for(b"READY-TO-TYPE")
            to_the_card(ours)
            taken = _at_bench(ours, bare)
            _at_desk(ours, taken)
        finally:
            ours.close()
            bare.close()
    yield from _told(taken)


def desk_rows(db: Path, behind: str) -> Iterator[Row]:
    """Measure the desk alone over whatever shop: a letter of a search until the list stands, and the cards under it."""
    ours = Terminal([sys.executable, "-m", "shopcli", "--db", str(db), "--by", WITHOUT_A_CLOCK])
    bare = Terminal([sys.executable, "-m", "tests.speed.echo"])
    taken = Taken()
    try:
        ours.wait_for(FULL_CARD)
        bare.wait_for(b"READY-TO-TYPE")
        ours.settled(0.4)
        _turns_at_desk(ours, taken, bare)
    finally:
        ours.close()
        bare.close()
    echo = statistics.median(taken.clock[ECHO])
    for what in (LETTER, CARD):
        yield Row(
            f"{what}, {behind}, p50 [ms], bare echo", statistics.median(taken.clock[what]), echo, DESK_GOAL
        )
    yield Row(f"{LETTER}, {behind}, p95 [ms], against 150 ms", _p95(taken.clock[LETTER]), SETTLED_MS, 1.0)


def to_the_card(ours: Terminal) -> None:
    """Open the full card at the bench, on a task that takes a reading."""
    ours.settled(0.4)
    for key in FULL_CARD[-2:].decode():
        ours.press(key.encode())
        ours.settled(0.4)
    ours.key_until(ENTER, b"Bench  " + FULL_CARD)
    ours.settled(0.4)
    ours.key_until(DOWN, b"Next: sump plug torque")
    ours.settled(0.4)


def _at_bench(ours: Terminal, bare: Terminal) -> Taken:
    letters = 0
    for turn in range(WARM_UP + TURNS):
        if turn in {0, WARM_UP}:
            taken = Taken()
        for what, key in AT_BENCH:
            taken.press(what, ours, key)
            taken.press(ECHO, bare, BACK if letters % 2 else b"x")
            letters += 1
        for act in ACTS:
            taken.act(act[0], ours, *act[1:])
    return taken


def _at_desk(ours: Terminal, taken: Taken) -> None:
    ours.key_until(F5, b"Desk")
    ours.settled(0.4)
    for key in (BACK, BACK):  # what was looked for to find the card
        ours.key_to_paint(key, QUIET_S)
    _turns_at_desk(ours, taken)


def _turns_at_desk(ours: Terminal, taken: Taken, bare: Terminal | None = None) -> None:
    for turn in range(WARM_UP + TURNS):
        keeping = taken if turn >= WARM_UP else Taken()
        for n, (what, key) in enumerate(AT_DESK):
            keeping.press(what, ours, key)
            if bare:
                keeping.press(ECHO, bare, BACK if n % 2 else b"x")


def _told(taken: Taken) -> Iterator[Row]:
    clock, bare = taken.clock, taken.clock[ECHO]
    yield Row("bare echo, p95 [ms], its own p50", _p95(bare), statistics.median(bare))
    mostly = [took for what in (ANOTHER, FIRST, FIGURE) for took in clock[what]]
    yield Row("bench, key to paint, p50 [ms], against 20 ms", statistics.median(mostly), 20.0, 1.0)
    yield Row("bench, key to paint, p95 [ms], against 50 ms", _p95(mostly), 50.0, 1.0)
    yield Row(
        "bench, key to paint, p50 [ms], bare echo", statistics.median(mostly), statistics.median(bare), 3.0
    )
    for what, took in clock.items():
        if what != ECHO:
            yield Row(f"{what}, p50 [ms], bare echo", statistics.median(took), statistics.median(bare))
            yield Row(f"{what}, p95 [ms], bare echo", _p95(took), _p95(bare))
    for what, took in taken.processor.items():
        if what != ECHO and any(took):
            yield Row(
                f"{what}, processor, p50 [ms], bare echo",
                statistics.median(took),
                statistics.median(taken.processor[ECHO]),
            )


def _p95(times: list[float]) -> float:
    return sorted(times)[int(len(times) * 0.95)]
