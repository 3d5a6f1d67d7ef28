"""What the shop knows how to do, as loaded: templates, sheets, cautions, tags, kits, and what was not usable.

A file with an error in it is left out and listed; the rest of the shop goes on working.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

from shopcli.errors import BadTemplate, NotFound
from shopcli.worklists.model import Caution, KitLine, Spec, TagKind, Template
from shopcli.worklists.words import did_you_mean

GENERAL = "general"


@dataclass(frozen=True, slots=True)
class SpecKind:
    """What a number of that name measures, whether or not any sheet knows its value."""

    name: str
    label: str
    quantity: str
    unit: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """One spec sheet as a file says it: numbers, facts of the vehicles it fits, and the next wider sheet."""

    name: str
    title: str
    file: str
    version: str
    under: str = ""
    about: str = ""
    facts: tuple[tuple[str, object], ...] = ()
    specs: tuple[Spec, ...] = ()
    kinds: tuple[SpecKind, ...] = ()


@dataclass(frozen=True)
class Library:
    """All that was loaded. `problems` says which files were left out, or what in them points nowhere."""

    templates: Mapping[str, Template] = field(default_factory=dict)
    sheets: Mapping[str, Sheet] = field(default_factory=dict)
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    tags: Mapping[str, TagKind] = field(default_factory=dict)
    kits: Mapping[str, tuple[KitLine, ...]] = field(default_factory=dict)
    problems: tuple[BadTemplate, ...] = ()

    def template(self, name: str) -> Template:
        """Return the template called `name`.

        Raises
        ------
        NotFound
            If there is none; the hint gives the nearest name, or what is wrong with its file.
        """
        if name in self.templates:
            return self.templates[name]
        broken = next((p for p in self.problems if p.file.endswith(f"{name}.toml")), None)
        if broken is not None:
            raise NotFound(f'the job template "{name}" is not usable: {broken.message}', hint=broken.hint)
        raise NotFound(f'no job template is called "{name}"', hint=did_you_mean(name, self.templates))

    def sheet(self, name: str) -> Sheet:
        """Return the spec sheet called `name`.

        Raises
        ------
        NotFound
            If there is none; the hint gives the nearest name.
        """
        if name in self.sheets:
            return self.sheets[name]
        raise NotFound(f'no spec sheet is called "{name}"', hint=did_you_mean(name, self.sheets))

    @cached_property
    def kinds(self) -> Mapping[str, SpecKind]:
        """Every name of a number any sheet knows, with what it measures; the general sheet speaks first."""
        return MappingProxyType(kinds_of(self.sheets))


def kinds_of(sheets: Mapping[str, Sheet]) -> dict[str, SpecKind]:
    """Collect the kinds of numbers of some sheets by name; the general sheet speaks first."""
    found: dict[str, SpecKind] = {}
    for sheet in sorted(sheets.values(), key=lambda s: s.name != GENERAL):
        for kind in sheet.kinds:
            found.setdefault(kind.name, kind)
    return found
