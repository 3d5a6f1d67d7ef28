"""Load what the shop knows how to do from one or several folders.

A shop's own folder comes after the shipped one and needs only the files it wants to be different: a job
template, sheet or kit of the same file name takes the place of ours, a caution or tag of the same name
likewise. Nobody has to touch our files, so an update never overwrites the shop's work.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from importlib.resources.abc import Traversable
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from shopcli.errors import BadTemplate
from shopcli.shipped import shipped
from shopcli.worklists.check import usable
from shopcli.worklists.facts import FACT_NAMES
from shopcli.worklists.library import Library, Sheet, kinds_of
from shopcli.worklists.model import KitLine, TagKind, Template
from shopcli.worklists.read_sheet import read_sheet
from shopcli.worklists.read_small import read_cautions, read_kit_file, read_tags
from shopcli.worklists.read_template import read_template
from shopcli.worklists.read_values import Known
from shopcli.worklists.sheets import broken_chains
from shopcli.worklists.toml_read import NAME, Table, read_toml
from shopcli.worklists.words import STATES

T = TypeVar("T")
Opened = dict[str, tuple[Table, str]]


def load_library(*folders: Path | Traversable, with_shipped: bool = True) -> Library:
    """Load the job templates, sheets, cautions, tags and kits, later folders over earlier ones.

    Parameters
    ----------
    *folders : Path or Traversable
        The shop's own folders, laid out like the shipped one; they lie over it.
    with_shipped : bool, optional
        False leaves the shipped folder out, so that the given ones stand alone.

    Returns
    -------
    Library
        What is usable; what is not is in ``problems`` with file, line and remedy.
    """
    ours = (shipped("jobtemplates"),) if with_shipped else ()
    places: tuple[Path | Traversable, ...] = tuple(dict.fromkeys((*ours, *folders)))
    found: list[BadTemplate] = [
        BadTemplate(str(place), 1, "is not a folder", hint="Make it, or correct the setting.")
        for place in places
        if not place.is_dir()
    ]
    cautions = _merged(places, "cautions.toml", read_cautions, found)
    tags = _merged(places, "tags.toml", read_tags, found)
    sheets = _sheets(places, found)
    facts = (key.replace(" ", "_") for sheet in sheets.values() for key, _ in sheet.facts)
    names = tuple(dict.fromkeys((*FACT_NAMES, *facts)))
    known = Known(tuple(cautions), tuple(tags), facts=names, specs=kinds_of(sheets))
    kits = _kits(places, found, known)
    templates = _templates(places, found, replace(known, kits=kits), spared=ours)
    return Library(
        MappingProxyType(templates),
        MappingProxyType(sheets),
        MappingProxyType(cautions),
        MappingProxyType(tags),
        MappingProxyType(kits),
        tuple(sorted(found, key=lambda p: (p.file, p.line))),
    )


def load_tags(*folders: Path | Traversable) -> Mapping[str, TagKind]:
    """Load the kinds of tags alone, ours and the shop's own: the order of work asks for nothing else."""
    return MappingProxyType(_merged((shipped("jobtemplates"), *folders), "tags.toml", read_tags, []))


def _merged(
    places: tuple[Path | Traversable, ...],
    name: str,
    read: Callable[[Table], dict[str, T]],
    found: list[BadTemplate],
) -> dict[str, T]:
    """Read one small library from every folder, entry over entry."""
    merged: dict[str, T] = {}
    for place in places:
        entry = place.joinpath(name)
        if entry.is_file() and (opened := read_toml(entry, found)) is not None:
            merged.update(read(opened[0]))
    return dict(sorted(merged.items()))


def _entries(places: tuple[Path | Traversable, ...], folder: str) -> dict[str, Traversable | Path]:
    """Return the files of one kind by name, those of the later folder over those of the earlier."""
    entries: dict[str, Traversable | Path] = {}
    for place in places:
        inside = place.joinpath(folder)
        if inside.is_dir():
            entries.update(
                (entry.name.removesuffix(".toml"), entry)
                for entry in inside.iterdir()
                if entry.name.endswith(".toml") and not entry.name.startswith(".") and entry.is_file()
            )
    return dict(sorted(entries.items()))


def _opened(
    places: tuple[Path | Traversable, ...], folder: str, found: list[BadTemplate]
) -> Iterator[tuple[str, Table, str]]:
    for name, entry in _entries(places, folder).items():
        if not NAME.fullmatch(name):
            hint = "Name it with small letters, figures and hyphens: oil-change.toml"
            found.append(BadTemplate(str(entry), 1, f'"{name}" cannot be a name', hint=hint))
        elif (opened := read_toml(entry, found)) is not None:
            yield name, *opened


def _kits(
    places: tuple[Path | Traversable, ...], found: list[BadTemplate], known: Known
) -> dict[str, tuple[KitLine, ...]]:
    read = {name: read_kit_file(table, known) for name, table, _ in _opened(places, "kits", found)}
    return {name: lines for name, lines in read.items() if lines is not None}


def _sheets(places: tuple[Path | Traversable, ...], found: list[BadTemplate]) -> dict[str, Sheet]:
    read: dict[str, tuple[Sheet, Table]] = {}
    for name, table, text in _opened(places, "sheets", found):
        sheet = read_sheet(name, table, text)
        if sheet is not None:
            read[name] = (sheet, table)
    sheets = {name: sheet for name, (sheet, _) in read.items()}
    for name, message, hint in broken_chains(sheets):
        read[name][1].bad(message, hint, "under")
        del sheets[name]
    return sheets


def _templates(
    places: tuple[Path | Traversable, ...],
    found: list[BadTemplate],
    known: Known,
    spared: tuple[Path, ...] = (),
) -> dict[str, Template]:
    """Read the templates; the sums named in the `spared` folders, our own, are proved by the tests."""
    opened = {name: (table, text) for name, table, text in _opened(places, "tasks", found)}
    known = replace(known, states=tuple(dict.fromkeys((*STATES, *_made_states(opened)))))
    read: dict[str, tuple[Template, Table]] = {}
    for name, (table, text) in opened.items():
        template = read_template(name, table, text, replace(known, sums=not _is_of(table, spared)))
        if template is not None:
            read[name] = (template, table)
    return usable(read, frozenset(opened), frozenset(name for name in read if _is_of(read[name][1], spared)))


def _is_of(table: Table, folders: tuple[Path, ...]) -> bool:
    """Whether a file lies in one of the folders."""
    return any(Path(table.file).is_relative_to(folder) for folder in folders)


def _made_states(opened: Opened) -> Iterator[str]:
    """States of the shop's own: whatever some step brings about may be asked for by another."""
    for table, _ in opened.values():
        blocks = table.data.get("task", [])
        for block in blocks if isinstance(blocks, list) else []:
            makes = block.get("makes", []) if isinstance(block, dict) else []
            yield from (m for m in makes if isinstance(m, str)) if isinstance(makes, list) else ()
