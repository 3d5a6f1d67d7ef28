"""How each cost grows with the cards behind it: a thousand, ten thousand, a hundred thousand, a million.

Processor time, so that a busy machine tells the same; the reference of a row is the same cost over a thousand cards.
It writes five gigabytes and takes minutes: it is measured only where it is named. `plot` draws it for the docs.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from math import log10
from pathlib import Path

from shopcli.shop.commands import TakeReading
from shopcli.store.reads import bench
from shopcli.store.reads.open_cards import open_cards
from shopcli.store.shop import Shop, open_shop
from tests.speed.many_cards import many_cards
from tests.speed.rows import Row
from tests.speed.terminal import Terminal
from tests.speed.work import GAP, full_card

SIZES = (1_000, 10_000, 100_000, 1_000_000)
ROUNDS = 15
LOW, HIGH, LINES_EACH = (
    -2,
    4,
    4,
)  # from a hundredth of a millisecond to ten seconds, lines of the plot a power of ten
SLOT = 14


@dataclass
class Cost:
    """One cost over every size, in milliseconds of processor."""

    what: str
    sign: str
    ms: list[float] = field(default_factory=list)


def rows() -> Iterator[Row]:
    """Measure, and print the plot behind the last row."""
    costs = measured(SIZES)
    for cost in costs:
        for size, ms in zip(SIZES[1:], cost.ms[1:], strict=True):
            yield Row(f"{cost.what}, {size:,} cards and 1,000 [ms]", ms, cost.ms[0], 2.0)
    print("\n".join(plot(costs, SIZES)))


def measured(sizes: tuple[int, ...]) -> list[Cost]:
    """Return every cost over shops of those sizes."""
    costs: dict[str, Cost] = {}
    for size in sizes:
        with tempfile.TemporaryDirectory() as folder:
            db = Path(folder) / "many.db"
            many_cards(db, size, listed_only=True)
            for what, sign, ms in _of_shop(db):
                costs.setdefault(what, Cost(what, sign)).ms.append(ms)
    return list(costs.values())


def _of_shop(db: Path) -> Iterator[tuple[str, str, float]]:
    shop = open_shop(str(db))
    number, full = open_cards(shop)[0].number, full_card(shop)
    yield "open cards read", "o", _called(lambda: open_cards(shop))
    yield "open cards that a text fits", "f", _called(lambda: open_cards(shop, "la"))
    yield "a card read for the bench", "b", _called(lambda: bench.card(shop, full))
    yield "a reading written", "w", _called(_reading(shop, full))
    shop.close()
    ours = [sys.executable, "-m", "shopcli", "--db", str(db)]
    yield "first screen", "s", statistics.median(_until(ours, number.encode()) for _ in range(5))
    yield "list from the shell", "l", statistics.median(_until([*ours, "list"], b"") for _ in range(5))


def _reading(shop: Shop, card: int) -> Callable[[], object]:
    """Return the act of writing a reading on a full card."""
    who = shop.fetch("SELECT id FROM person WHERE role = 'mechanic' ORDER BY id")[0][0]
    task = next(t.id for t in bench.card(shop, card).tasks if t.task.key.endswith(GAP[0]))
    return lambda: shop.do(TakeReading(task, *GAP[1:]), by=who)


def _called(work: Callable[[], object]) -> float:
    times = []
    for _ in range(ROUNDS):
        started = time.process_time()
        work()
        times.append((time.process_time() - started) * 1000)
    return statistics.median(times)


def _until(argv: list[str], marker: bytes) -> float:
    """Return the processor time of a command until `marker` is seen; an empty one waits for its end."""
    terminal = Terminal(argv)
    try:
        if marker:
            terminal.wait_for(marker)
            return terminal.processor_s() * 1000
        spent = 0.0
        while (now := terminal.processor_s()) >= spent:
            spent = now
            try:
                if not terminal.read():
                    break
            except OSError:  # the command has ended
                break
        return spent * 1000
    finally:
        terminal.close()


def plot(costs: list[Cost], sizes: tuple[int, ...]) -> list[str]:
    """Return the costs over the sizes, both in powers of ten: what does not grow is a level line."""
    lines = []
    for step in range(HIGH * LINES_EACH, LOW * LINES_EACH - 1, -1):
        signs = [
            "".join(c.sign for c in costs if round(log10(c.ms[nth]) * LINES_EACH) == step)
            for nth in range(len(sizes))
        ]
        name = f"{10 ** (step // LINES_EACH):g} ms" if step % LINES_EACH == 0 else ""
        lines.append(f"{name:>9} | {''.join(f'{s:<{SLOT}}' for s in signs)}".rstrip())
    while lines and lines[0].endswith("|"):
        del lines[0]
    while lines and lines[-1].endswith("|"):
        del lines[-1]
    scale = f"{'':>9} + {''.join(f'{size:<{SLOT},}' for size in sizes)}cards"
    key = "; ".join(f"{cost.sign} {cost.what}" for cost in costs)
    return [*lines, scale, f"{'':>11} {key}"]
