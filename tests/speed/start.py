"""How long until there is something to see: the first screen over many cards, help, the version, the list in the shell.

A reference beside each, in turns, so that both meet the same machine: the smallest application of the same framework,
the interpreter that does nothing, and a script that asks the same of the driver and prints it.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from shopcli.store.reads.open_cards import OPEN_CARDS, OPEN_TAGS, OWED, RUNNING, open_cards
from shopcli.store.shop import open_shop
from tests.speed.many_cards import many_cards
from tests.speed.rows import Row
from tests.speed.terminal import first_paint

CARDS = 20_000
ROUNDS, ASKED = 9, 60
PYTHON = [sys.executable]
NOTHING = [*PYTHON, "-c", "pass"]
OURS = [*PYTHON, "-m", "shopcli"]
BARE = [*PYTHON, "-m", "tests.speed.hello"]
RAW = Path(__file__).with_name("raw_list.py")


def rows() -> Iterator[Row]:
    """Measure over twenty thousand cards."""
    with tempfile.TemporaryDirectory() as folder:
        db = Path(folder) / "many.db"
        many_cards(db, CARDS)
        yield first_screen(db, "20,000 cards", 1.2)
        yield of_command("--help", [*OURS, "--help"], "python -c pass", NOTHING, 3.0)
        yield of_command("--version", [*OURS, "--version"], "python -c pass", NOTHING, 3.0)
        yield listing(db, "20,000 cards")


def first_screen(db: Path, behind: str, goal: float) -> Row:
    """Compare the first picture with a real card on it with the first picture of the smallest application."""
    shop = open_shop(str(db))
    number = open_cards(shop)[0].number.encode()
    shop.close()
    ours, bare = in_turns(
        lambda: first_paint([*OURS, "--db", str(db)], number), lambda: first_paint(BARE, b"HELLO-FIRST-PAINT")
    )
    return Row(f"first screen, {behind} behind it [ms]", ours, bare, goal)


def listing(db: Path, behind: str) -> Row:
    """Compare the list in the shell with a script that asks the driver for the same rows and prints them."""
    raw = [*PYTHON, str(RAW), str(db), OPEN_CARDS.format(narrow=""), OPEN_TAGS, OWED, RUNNING]
    return of_command(f"list, {behind}", [*OURS, "list", "--db", str(db)], "raw sqlite3", raw, 1.8)


def of_command(what: str, ours: Sequence[str], than: str, reference: Sequence[str], goal: float) -> Row:
    """Compare two commands from their start to their end."""
    return Row(f"shell: {what}, {than} [ms]", *in_turns(lambda: run(ours), lambda: run(reference)), goal)


def question(few: Path, many: Path, goal: float) -> Row:
    """Compare the reading of the open cards over many with the same over few, in this process."""
    shops = [open_shop(str(path)) for path in (many, few)]
    ours, reference = in_turns(*(lambda shop=shop: asked(shop) for shop in shops))  # type: ignore[misc]
    for shop in shops:
        shop.close()
    return Row("open cards read, 1,000,000 and 20,000 behind them [ms]", ours, reference, goal)


def asked(shop: object) -> float:
    """Return the seconds one reading takes, of many in a row."""
    started = time.perf_counter()
    for _ in range(ASKED):
        open_cards(shop)  # type: ignore[arg-type]
    return (time.perf_counter() - started) / ASKED


def run(argv: Sequence[str]) -> float:
    """Return the seconds a command takes."""
    started = time.perf_counter()
    subprocess.run(argv, stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - started


def in_turns(ours: Callable[[], float], reference: Callable[[], float]) -> tuple[float, float]:
    """Return the medians of both, in milliseconds; the first round warms the caches and does not count."""
    times = [(ours(), reference()) for _ in range(ROUNDS + 1)][1:]
    return statistics.median(a for a, _ in times) * 1000, statistics.median(b for _, b in times) * 1000
