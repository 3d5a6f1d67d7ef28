"""Prints one table: what, ours, the bare reference in the same run, ratio, goal."""

import statistics
import sys
import tempfile
from pathlib import Path

from shopcli.store.demo import demo_shop
from shopcli.store.reads.desk import open_cards
from tests.speed.terminal import first_paint

ROUNDS = 9


def paint_times() -> tuple[float, float]:
    """Return median first paint of ours and of the bare reference, interleaved so that both meet the same machine."""
    with tempfile.TemporaryDirectory() as folder:
        db = str(Path(folder) / "speed.db")
        shop = demo_shop(db)
        row = open_cards(shop)[0]
        shop.close()
        ours, bare = [], []
        for round_ in range(ROUNDS + 1):
            b = first_paint([sys.executable, "-m", "tests.speed.hello"], b"HELLO-FIRST-PAINT")
            o = first_paint([sys.executable, "-m", "shopcli", "--db", db], row.number.encode())
            if round_:  # the first round warms the caches of both
                bare.append(b)
                ours.append(o)
    return statistics.median(ours), statistics.median(bare)


def main() -> None:
    """Measure and print."""
    ours, bare = paint_times()
    print(f"{'what':<38}{'ours ms':>10}{'bare ms':>10}{'ratio':>8}{'goal':>8}")
    print(
        f"{'first screen with real rows':<38}{ours * 1000:>10.0f}{bare * 1000:>10.0f}{ours / bare:>8.2f}{1.5:>8}"
    )


if __name__ == "__main__":
    main()
