"""A library small enough to read at a glance, and what it takes to vary one file of it."""

from collections.abc import Mapping
from pathlib import Path

from shopcli.worklists.expand import expand
from shopcli.worklists.library import Library
from shopcli.worklists.load import load_library
from shopcli.worklists.model import WorkList
from shopcli.worklists.sheets import facts, lookup

CAUTIONS = '[caution."high tension"]\ntext = "Ignition off before touching leads."\n'
TAGS = '[tag."sump dry"]\nsays = "No oil in the sump."\nbars = ["start"]\n'
GENERAL = """title = "General"
[facts]
heads = "iron"
[spec.points_gap]
label = "points gap"
nominal = 16
unit = "thou"
from = "practice"
[spec.plug_gap]
label = "plug gap"
low = 0.6
high = 0.7
unit = "mm"
from = "practice"
[spec.oil_fill]
label = "oil fill"
unit = "L"
"""
SPEC = 'title = "Lark"\n[spec.idle_speed]\nnominal = 800\nunit = "rpm"\nfrom = "demo"\n'
HEAD = 'title = "Points"\nsystem = "ignition"\n'


def put(folder: Path, files: Mapping[str, str | bytes]) -> Path:
    """Write files below a folder; texts as UTF-8."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return folder


def small_library(folder: Path, files: Mapping[str, str | bytes]) -> Library:
    """Load a library of its own from the base above and the files given."""
    base = {"cautions.toml": CAUTIONS, "tags.toml": TAGS, "sheets/general.toml": GENERAL}
    return load_library(put(folder, {**base, **files}), with_shipped=False)


def task(body: str = "", name: str = "fit", head: str = HEAD) -> str:
    """Return a template of one task; the task starts on line 3, `body` on line 6."""
    return f'{head}[[task]]\nid = "{name}"\ntitle = "Fit"\n{body}\n'


CAR = {
    "cylinders": 2,
    "ignition": "contact breaker",
    "drive_belt": "split pulley",
    "firing_order": "1-2",
    "volts": 6,
    "heads": "aluminium",
}
CLEARANCES = """[spec.gap_in]
nominal = 6
unit = "thou"
state = "cold"
from = "demo"
[spec.gap_ex]
nominal = 8
unit = "thou"
state = "hot"
from = "demo"
"""


def run(library: Library, *names: str, sheet: str = "", **more: object) -> WorkList:
    """Expand templates for the small car."""
    return expand(library, names, facts(library, sheet, {**CAR, **more}), lookup(library, sheet))


def step(name: str, body: str = "", title: str = "") -> str:
    """Return one block of a template."""
    return f'[[task]]\nid = "{name}"\ntitle = "{title or name}"\n{body}\n'


def keys(work: WorkList) -> list[str]:
    """Return the keys of a list in its order."""
    return [t.key for t in work.tasks]
