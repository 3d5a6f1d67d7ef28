"""Three readers against spoilt texts: figures with units, job templates, tables. Anything but words is a fault.

A fault is printed with what brought it about; it becomes a test where its reader has its tests.
"""

import random
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path

from shopcli.errors import ShopError
from shopcli.shipped import shipped
from shopcli.store.lists.kinds import KINDS
from shopcli.store.lists.table import read
from shopcli.units import QUANTITIES
from shopcli.units.parse import parse
from shopcli.units.printed import read_printed
from shopcli.worklists.load import load_library
from shopcli.worklists.sheet_csv import read_csv
from tests.fuzz.spoiling import spoilt

CASES = 200_000
SHARE = {"figures": 0.8, "templates": 0.05, "tables": 0.15}
TYPED = ("6 thou", '.006"', "0,15 mm", "40 ftlb", "5.5 kgm", "3 1/2 L", "10 deg BTDC", "26 psi", "1:8.5", "12 st 4 lb", "0.35-0.45 mm", "20 +5/-2 Nm", "min 40 psi", "5 pints", "1/4 in", "1 gal 3 pt", "30 mpg", "14.4 V", "900 rpm", "82 °C", "2 ft 3 in", "10k")  # fmt: skip
TABLES = (
    'name,phone,address\nBea Kestrel,01632 960311,"2 Proof Road\nLittle Proof"\n',
    "registration;make;customer;year\nBEA 1;Lark;Bea Kestrel;1964\n",
    "number\tname\tcost\tstock\nX-1\tfan belt\t4,20\t2.5\n",
    "name,low,nominal,high,unit,from,document,page\npoints gap,0.35,,0.45,mm,handbook,Book,12\n",
)
Case = tuple[str, str]


def figures(chance: random.Random, count: int) -> Iterator[Case | None]:
    """Read spoilt figures, of one value and of limits."""
    kinds = sorted(QUANTITIES)
    for _ in range(count):
        text, kind = spoilt(chance.choice(TYPED), chance, TYPED), chance.choice(kinds)
        yield _tried(text, lambda text=text, kind=kind: parse(text, kind))
        yield _tried(text, lambda text=text, kind=kind: read_printed(text, kind))


def templates(chance: random.Random, count: int) -> Iterator[Case | None]:
    """Load a folder in which one file is spoilt; what is wrong is told, and nothing is thrown."""
    ours = Path(str(shipped("jobtemplates")))
    files = {f.relative_to(ours): f.read_text(encoding="utf-8") for f in ours.rglob("*.toml")}
    small = sorted(name for name, text in files.items() if name.parts[0] == "tasks" and len(text) < 3_000)
    texts = [files[name] for name in small]
    with tempfile.TemporaryDirectory(dir="/dev/shm" if Path("/dev/shm").is_dir() else None) as place:
        folder = Path(place)
        for name in ("tasks", "sheets", "kits"):
            (folder / name).mkdir()
        for name in ("tags.toml", "cautions.toml", "sheets/general.toml"):
            if Path(name) in files:
                (folder / name).write_text(files[Path(name)], encoding="utf-8")
        for _ in range(count):
            name = chance.choice(small)
            text = spoilt(files[name], chance, texts)
            at = folder / chance.choice(("tasks", "tasks", "tasks", "kits", "sheets")) / "spoilt.toml"
            at.write_bytes(text.encode("utf-8", "surrogatepass"))
            yield _tried(text, lambda: load_library(folder, with_shipped=False))
            at.unlink()


def tables(chance: random.Random, count: int) -> Iterator[Case | None]:
    """Read spoilt tables, as lists and as numbers of a sheet."""
    for _ in range(count):
        text = spoilt(chance.choice(TABLES), chance, TABLES)
        kind = chance.choice(tuple(KINDS.values()))
        yield _tried(text, lambda text=text, kind=kind: read(kind, text, {}))
        yield _tried(text, lambda text=text: tuple(read_csv(text)))


def _tried(text: str, work: Callable[[], object]) -> Case | None:
    try:
        work()
    except ShopError as error:
        return None if error.message else (text, "an error without words")
    except Exception:  # noqa: BLE001 - that is what is looked for
        return text, traceback.format_exc()
    return None


def main(cases: int = CASES, seed: int = 1) -> int:
    """Try so many; status 1 when there was a fault."""
    faults: list[Case] = []
    for kind in (figures, templates, tables):
        started, done = time.monotonic(), 0
        want = int(cases * SHARE[kind.__name__])
        each = 1 if kind is templates else 2
        for case in kind(random.Random(seed), want // each):
            done += 1
            if case is not None:
                faults.append(case)
        print(f"{kind.__name__}: {done} cases in {time.monotonic() - started:.0f} s", flush=True)
    for text, why in faults[:5]:
        print(f"✗ {text[:300]!r}\n{why}")
    print(f"{len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
