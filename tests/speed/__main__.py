"""Prints one table: what, ours, the reference in the same run, ratio, goal. ``python -m tests.speed [part ...]``.

The parts ``million``, ``growth`` and ``week`` run only when they are named: they take minutes, the former four gigabytes.
"""

import importlib
import sys

from tests.speed.rows import heading, lines

PARTS = ("paint", "start", "keys", "work", "staying", "planner", "shims", "papers", "ahead")


def main() -> None:
    """Measure the parts named, or all, and print each as it comes."""
    print(heading())
    for part in sys.argv[1:] or PARTS:
        for line in lines(importlib.import_module(f"tests.speed.{part}").rows()):
            print(line, flush=True)


if __name__ == "__main__":
    main()
