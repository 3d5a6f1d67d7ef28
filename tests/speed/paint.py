"""How long until a person sees real rows, against the smallest application of the same framework."""

import statistics
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from shopcli.store.demo import demo_shop
from shopcli.store.reads.desk import open_cards
from tests.speed.rows import Row
from tests.speed.terminal import first_paint

ROUNDS = 9


def rows() -> Iterator[Row]:
    """Measure the first picture with a real card on it, interleaved so that both meet the same machine."""
    with tempfile.TemporaryDirectory() as folder:
        db = str(Path(folder) / "speed.db")
        shop = demo_shop(db)
        number = open_cards(shop)[0].number
        shop.close()
        ours, bare = [], []
        for round_ in range(ROUNDS + 1):
            b = first_paint([sys.executable, "-m", "tests.speed.hello"], b"HELLO-FIRST-PAINT")
            o = first_paint([sys.executable, "-m", "shopcli", "--db", db], number.encode())
            if round_:  # the first round warms the caches of both
                bare.append(b * 1000)
                ours.append(o * 1000)
    yield Row("first screen with real rows [ms]", statistics.median(ours), statistics.median(bare), 1.2)
