"""Prints one table: what, ours, the reference in the same run, ratio, goal. ``python -m tests.speed [--times N] [part ...]``.

With ``--times`` everything is measured so many times over, each printed as it comes, and at the end the medians.

The parts ``million``, ``growth`` and ``week`` run only when they are named: they take minutes, the former four gigabytes.
"""

import argparse
import importlib
import statistics
from collections.abc import Sequence

from tests.speed.rows import Row, heading, lines

PARTS = ("paint", "start", "keys", "work", "staying", "planner", "shims", "papers", "ahead")


def main() -> None:
    """Measure the parts named, or all, and print each as it comes."""
    asked = argparse.ArgumentParser(prog="python -m tests.speed")
    asked.add_argument("--times", type=int, default=1)
    asked.add_argument("parts", nargs="*", default=PARTS)
    said = asked.parse_args()
    runs = [_measured(said.parts) for _ in range(said.times)]
    if said.times > 1:
        print(f"\nMedians of {said.times} runs\n" + heading())
        print("\n".join(lines(map(_median, zip(*runs, strict=True)))))


def _measured(parts: Sequence[str]) -> list[Row]:
    print(heading())
    found = []
    for part in parts:
        for row in importlib.import_module(f"tests.speed.{part}").rows():
            print(*lines([row]), flush=True)
            found.append(row)
    return found


def _median(same: Sequence[Row]) -> Row:
    """Ours and the reference by themselves, so their ratio is that of the medians."""
    return same[0]._replace(
        ours=statistics.median(row.ours for row in same),
        reference=statistics.median(row.reference for row in same),
    )


if __name__ == "__main__":
    main()
