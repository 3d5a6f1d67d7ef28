"""A library small enough to read at a glance, and what it takes to vary one file of it."""

from collections.abc import Mapping
from pathlib import Path

from shopcli.worklists.library import Library
from shopcli.worklists.load import load_library

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
