"""The power fails in the middle of a write: the files as they were at that moment, their unwritten end torn.

A terminal is stopped at a random moment and its files are copied. What was written after the last whole transaction
has not been promised to anybody: there the copy is cut, or filled with rubbish, as a disk may leave it. The copy must
open, and hold every act that was acknowledged before the moment. ``python -m tests.trials torn [TIMES]``
"""

import os
import random
import shutil
import signal
import struct
import tempfile
import time
from pathlib import Path

from shopcli.store.shop import open_shop
from tests.conftest import SETTINGS, Clock, fill
from tests.trials.checker import complaints, told
from tests.trials.kills import start

HEAD, FRAME_HEAD = 32, 24
EACH = 12  # so many copies of a terminal, then of another one


def promised(wal: bytes) -> int:
    """Return where the last whole transaction of a write-ahead log ends (its format: https://sqlite.org/fileformat2.html)."""
    if len(wal) < HEAD:
        return 0
    (page,) = struct.unpack(">I", wal[8:12])
    salt, end, at = wal[16:24], HEAD, HEAD
    while at + FRAME_HEAD + page <= len(wal):
        (size,) = struct.unpack(">I", wal[at + 4 : at + 8])
        if wal[at + 8 : at + 16] != salt:
            break  # left over from before the log was begun anew
        at += FRAME_HEAD + page
        if size:
            end = at
    return end


def tear(wal: Path, chance: random.Random) -> str:
    """Spoil what was not promised yet; return how."""
    data = bytearray(wal.read_bytes()) if wal.exists() else bytearray()
    end = promised(bytes(data))
    how = chance.choice(("as it was", "cut", "rubbish", "begun"))
    if how == "cut":
        data = data[: chance.randint(end, max(len(data), end))]
    elif how == "rubbish":
        data[end:] = chance.randbytes(max(len(data) - end, chance.randint(0, 9_000)))
    elif how == "begun" and end > HEAD:
        data[end:] = data[HEAD : HEAD + chance.randint(1, 4_000)]  # the beginning of one more frame
    wal.write_bytes(data)
    return how


def run(times: int, folder: Path) -> list[str]:
    """Stop, copy and tear so many times; return what is wrong."""
    place, chance = folder / "shop.db", random.Random(3)
    shop = open_shop(str(place), settings=SETTINGS, now=Clock())
    fill(shop, Clock())
    shop.close()
    wrong: list[str] = []
    hows: dict[str, int] = {}
    child = 0
    acts = 0
    for number in range(times):
        if not child:
            role = ("desk", "mechanic", "owner")[number // EACH % 3]
            child = start(place, role, number, folder / f"terminal-{number}.txt")
            time.sleep(0.5)
        time.sleep(chance.uniform(0.005, 0.12))
        os.kill(child, signal.SIGSTOP)
        copy = folder / f"copy-{number}"
        copy.mkdir()
        for file in folder.glob("shop.db*"):
            shutil.copy(file, copy / file.name)
        said = told(folder.glob("terminal-*.txt"))
        os.kill(child, signal.SIGCONT)
        (copy / "shop.db-shm").unlink(missing_ok=True)  # memory: gone with the power
        how = tear(copy / "shop.db-wal", chance)
        hows[how] = hows.get(how, 0) + 1
        shop = open_shop(str(copy / "shop.db"), settings=SETTINGS)
        wrong += [f"copy {number} ({how}): {what}" for what in complaints(shop, said)]
        acts = len(said.acknowledged)
        shop.close()
        shutil.rmtree(copy)
        if number % EACH == EACH - 1 or number == times - 1:
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            child = 0
    print(f"torn copies: {times} {hows}, {acts} acts acknowledged in the last")
    return wrong


def main(words: list[str]) -> int:
    """Run; status 1 when anything is wrong."""
    with tempfile.TemporaryDirectory() as folder:
        wrong = run(int(words[0]) if words else 100, Path(folder))
    print("\n".join(f"✗ {what}" for what in wrong) or "✓ every copy opens and holds what was acknowledged")
    return 1 if wrong else 0
