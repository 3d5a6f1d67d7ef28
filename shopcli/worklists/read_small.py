"""Read the small libraries: cautions, tags and parts kits."""

from shopcli.worklists.model import Caution, KitLine, TagKind
from shopcli.worklists.read_values import Known, read_kit
from shopcli.worklists.toml_read import Table
from shopcli.worklists.words import ACTS, HAND_OVER


def read_cautions(table: Table) -> dict[str, Caution]:
    """Return the cautions of a file; one that cannot be used is left out with a complaint."""
    table.only("caution")
    found: dict[str, Caution] = {}
    block = table.table("caution", example='{ ... }, or better a block [caution."hot oil"]')
    for name in () if block is None else block.data:
        inner = block.table(name, example='{ text = "..." }') if block else None
        if inner is None:
            continue
        before = len(table.found)
        inner.only("text")
        text = inner.note("text")
        if not text and len(table.found) == before:
            inner.bad(f'the caution "{name}" says nothing', 'Write: text = "..."')
        if len(table.found) == before:
            found[name] = Caution(name, text)
    return found


def read_tags(table: Table) -> dict[str, TagKind]:
    """Return the tags of a file; every tag bars handing the vehicle over, written or not."""
    table.only("tag")
    found: dict[str, TagKind] = {}
    block = table.table("tag", example='{ ... }, or better a block [tag."sump dry"]')
    for name in () if block is None else block.data:
        inner = block.table(name, example='{ says = "...", bars = ["start"] }') if block else None
        if inner is None:
            continue
        before = len(table.found)
        inner.only("says", "bars")
        says = inner.text("says", needed=True, example="No oil in the sump: do not turn the engine.")
        bars = inner.known("bars", ACTS, "act", example="start")
        if len(table.found) == before:
            found[name] = TagKind(name, says, tuple(dict.fromkeys((*bars, HAND_OVER))))
    return found


def read_kit_file(table: Table, known: Known) -> tuple[KitLine, ...] | None:
    """Return the lines of a parts kit, or None after complaints."""
    before = len(table.found)
    table.only("title", "kit")
    table.text("title", needed=True, example="Ignition set")
    lines = read_kit(table, known)
    if not lines and len(table.found) == before:
        table.bad("the kit has no lines", 'Write: kit = [{ part = "contact set", qty = 1 }]')
    return lines if len(table.found) == before else None
