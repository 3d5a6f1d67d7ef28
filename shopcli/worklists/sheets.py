"""Spec sheets lie over one another: a vehicle's own numbers, its engine's, its family's, the general.

The nearest wins and the others stay visible: nobody has to wonder where a number came from or what it hides.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.worklists.circles import find_circle
from shopcli.worklists.facts import facts_from, facts_from_json, facts_to_json
from shopcli.worklists.library import GENERAL, Library, Sheet
from shopcli.worklists.model import Spec, VehicleFacts
from shopcli.worklists.words import did_you_mean

__all__ = ["SpecBook", "chain", "facts", "facts_from_json", "facts_to_json", "lookup"]


@dataclass(frozen=True, slots=True)
class SpecBook:
    """The numbers that hold for one vehicle: by name, all of that name, the nearest first."""

    layers: Mapping[str, tuple[Spec, ...]]

    def get(self, name: str) -> Spec | None:
        """Return the nearest number of that name, or None."""
        layers = self.layers.get(name, ())
        return layers[0] if layers else None

    def others(self, name: str) -> tuple[Spec, ...]:
        """Return the numbers of that name which the nearest one hides, nearer ones first."""
        return self.layers.get(name, ())[1:]

    @property
    def names(self) -> tuple[str, ...]:
        """Names of all numbers known, in order."""
        return tuple(sorted(self.layers))


def chain(library: Library, sheet_name: str) -> tuple[str, ...]:
    """Return the names of the sheets that lie over one another, nearest first.

    Parameters
    ----------
    library : Library
        As loaded.
    sheet_name : str
        The vehicle's sheet; empty for a vehicle without one, which leaves the general sheet.

    Raises
    ------
    NotFound
        If a sheet of the chain does not exist.
    BadInput
        If the sheets lie in a circle.
    """
    names: list[str] = []
    name = sheet_name or (GENERAL if GENERAL in library.sheets else "")
    while name:
        if name in names:
            shown = " under ".join(f'"{n}"' for n in (*names[names.index(name) :], name))
            raise BadInput(f"the sheets lie in a circle: {shown}", hint="Correct `under` in one of them.")
        names.append(name)
        under = library.sheet(name).under
        name = "" if under == GENERAL and GENERAL not in library.sheets else under
    return tuple(names)


def lookup(library: Library, sheet: str, own: Sequence[Spec] = ()) -> SpecBook:
    """Return the numbers that hold for a vehicle.

    Parameters
    ----------
    library : Library
        As loaded.
    sheet : str
        Name of the vehicle's sheet, or empty.
    own : sequence of Spec, optional
        The vehicle's own numbers, the one that counts first; they lie over every sheet.
    """
    layers: dict[str, list[Spec]] = {}
    for spec in own:
        layers.setdefault(spec.name, []).append(spec)
    for name in chain(library, sheet):
        for spec in library.sheet(name).specs:
            layers.setdefault(spec.name, []).append(spec)
    return SpecBook({name: tuple(specs) for name, specs in layers.items()})


def facts(library: Library, sheet: str, overrides: Mapping[str, object] | None = None) -> VehicleFacts:
    """Return the facts of a vehicle: its sheets', the nearest over the wider, then what was entered.

    Raises
    ------
    NotFound
        If the sheet does not exist.
    BadInput
        If an entered fact is of the wrong sort.
    """
    levels = [dict(library.sheet(name).facts) for name in reversed(chain(library, sheet))]
    return facts_from(*levels, overrides or {})


def broken_chains(sheets: Mapping[str, Sheet]) -> Iterator[tuple[str, str, str]]:
    """Yield (sheet, what is wrong, what to do) for every sheet whose chain does not reach its end.

    A circle breaks each sheet in it, and a sheet over a broken one is broken with it.
    """
    left = dict(sheets)
    while circle := find_circle({n: (s.under,) for n, s in left.items()}):
        shown = " under ".join(f'"{n}"' for n in circle)
        for name in dict.fromkeys(circle):
            yield name, f"the sheets lie in a circle: {shown}", "Correct `under` in one of them."
            del left[name]
    while lost := [s for s in left.values() if s.under and s.under != GENERAL and s.under not in left]:
        for sheet in lost:
            gone = sheet.under in sheets
            hint = (
                f'Put "{sheet.under}" right first.'
                if gone
                else did_you_mean(sheet.under, left.keys() - {sheet.name})
            )
            what = "is not usable" if gone else "does not exist"
            yield sheet.name, f'lies under "{sheet.under}", which {what}', hint
            del left[sheet.name]
