"""Eight terminals act at random while one is killed every second; a server is stopped twice under them as well.

``python -m tests.trials mixed [SECONDS [file|server]]``
"""

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from shopcli.store.place import find_place
from shopcli.store.shop import open_shop
from tests.conftest import SETTINGS, Clock, fill
from tests.postgres import Cluster, found_or_skip
from tests.trials.checker import complaints, told

ROOT = Path(__file__).parents[2]
ROLES = ("mechanic", "mechanic", "mechanic", "mechanic", "desk", "desk", "desk", "owner")


class Crowd:
    """The terminals, each with a file of what it was told."""

    def __init__(self, place: str, folder: Path, seconds: float) -> None:
        self._place, self._folder, self._end = place, folder, time.monotonic() + seconds
        self._count = 0
        self.killed = 0
        self.running = [self._start(role) for role in ROLES]

    def _start(self, role: str) -> tuple[str, subprocess.Popen[str]]:
        self._count += 1
        left = max(self._end - time.monotonic(), 0.2)
        file = self._folder / f"terminal-{self._count}.txt"
        words = [self._place, role, str(self._count), str(file), str(left)]
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.trials.worker", *words],
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
            stderr=(self._folder / f"trouble-{self._count}.txt").open("w"),
            text=True,
        )
        return role, process

    def kill_one(self, chance: random.Random) -> None:
        """Kill one in the middle of whatever it does, and put another in its place."""
        at = chance.randrange(len(self.running))
        role, process = self.running[at]
        if process.poll() is None:
            process.send_signal(signal.SIGKILL)
            self.killed += 1
        process.wait()
        self.running[at] = self._start(role)

    def finish(self) -> list[str]:
        """Wait for all; return what they stumbled over."""
        for _role, process in self.running:
            process.wait(timeout=120)
        files = sorted(self._folder.glob("trouble-*.txt"))
        return [f"{f.name}: {f.read_text().strip().splitlines()[-1]}" for f in files if f.read_text().strip()]


def run(place: str, folder: Path, seconds: float, server: Cluster | None) -> list[str]:
    """Let the crowd work on an empty place and return everything that is wrong afterwards."""
    shop = open_shop(place, settings=SETTINGS, now=Clock())
    fill(shop, Clock())
    shop.close()
    crowd, chance = Crowd(place, folder, seconds), random.Random(1)
    begun, restarts = time.monotonic(), 0
    while (gone := time.monotonic() - begun) < seconds:
        time.sleep(1)
        crowd.kill_one(chance)
        if server is not None and restarts < 2 and gone > seconds * (restarts + 1) / 3:
            server.again()
            restarts += 1
    trouble = crowd.finish()
    shop = open_shop(place, settings=SETTINGS)
    said = told(folder.glob("terminal-*.txt"))
    wrong = complaints(shop, said)
    counts = {
        t: shop.fetch(f"SELECT COUNT(*) FROM {t}")[0][0]
        for t in ("card", "invoice", "credit_note", "payment")
    }
    why: dict[str, int] = {}
    for reason in said.refused.values():
        kind = reason.split(" ", 1)[0]
        why[kind] = why.get(kind, 0) + 1
    print(
        f"{find_place(place).label.split('/')[0] or 'file'}: {seconds:.0f} s, {crowd.killed} killed, {restarts} restarts, "
        f"{len(said.meant)} acts meant, {len(said.acknowledged)} acknowledged, {why} not; {counts}"
    )
    shop.close()
    return trouble + wrong


def main(words: list[str]) -> int:
    """Run on a file, a server or both; status 1 when anything is wrong."""
    seconds = float(words[0]) if words else 60.0
    wrong: list[str] = []
    if words[1:] != ["server"]:
        with tempfile.TemporaryDirectory() as folder:
            wrong += run(f"{folder}/shop.db", Path(folder), seconds, None)
    if words[1:] != ["file"]:
        cluster = Cluster(found_or_skip(), durable=True)
        try:
            cluster.start()
            with tempfile.TemporaryDirectory() as folder:
                wrong += run(cluster.make("trial"), Path(folder), seconds, cluster)
        finally:
            cluster.stop()
    print("\n".join(f"✗ {what}" for what in wrong) or "✓ nothing lost, nothing doubled, everything holds")
    return 1 if wrong else 0
