"""A terminal is killed at a random moment, again and again: nothing acknowledged is lost, the records open each time.

``python -m tests.trials kills [TIMES]``
"""

import os
import random
import signal
import tempfile
import time
from contextlib import redirect_stdout
from pathlib import Path

from shopcli.store.shop import open_shop
from tests.conftest import SETTINGS, Clock, fill
from tests.trials.checker import complaints, told
from tests.trials.worker import work

LONGEST_START = 20.0  # a terminal that was killed before it began tries nothing; how long that takes depends on the machine


def start(place: Path, role: str, seed: int, said: Path) -> int:
    """Start a terminal that has all it needs at hand, and return its process."""
    child = os.fork()
    if child == 0:
        try:
            with Path(os.devnull).open("w") as nowhere, redirect_stdout(nowhere):
                work(str(place), role, seed, str(said), 60)
        finally:
            os._exit(1)
    return child


def run(times: int, folder: Path) -> list[str]:
    """Kill so many times; return what is wrong."""
    place, chance = folder / "shop.db", random.Random(2)
    shop = open_shop(str(place), settings=SETTINGS, now=Clock())
    fill(shop, Clock())
    shop.warm()
    shop.close()
    wrong: list[str] = []
    for number in range(times):
        role = ("desk", "mechanic", "owner")[number % 3]
        said = folder / f"terminal-{number}.txt"
        child = start(place, role, number, said)
        begun = time.monotonic()
        while time.monotonic() - begun < LONGEST_START and not (said.exists() and said.stat().st_size):
            time.sleep(0.002)
        time.sleep(chance.uniform(0.0, 0.3))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        shop = open_shop(str(place), settings=SETTINGS)
        if shop.fetch("PRAGMA quick_check") != [("ok",)]:
            wrong.append(f"kill {number}: the file is damaged")
        shop.close()
    shop = open_shop(str(place), settings=SETTINGS)
    heard = told(folder.glob("terminal-*.txt"))
    wrong += complaints(shop, heard)
    unsaid = {op for (op,) in shop.fetch("SELECT op FROM journal")} & heard.meant - heard.acknowledged
    print(
        f"kills: {times}, {len(heard.meant)} acts meant, {len(heard.acknowledged)} acknowledged, "
        f"{len(unsaid)} done and never acknowledged"
    )
    shop.close()
    return wrong


def main(words: list[str]) -> int:
    """Run; status 1 when anything is wrong."""
    with tempfile.TemporaryDirectory() as folder:
        wrong = run(int(words[0]) if words else 300, Path(folder))
    print(
        "\n".join(f"✗ {what}" for what in wrong) or "✓ nothing acknowledged is lost, the records always open"
    )
    return 1 if wrong else 0
