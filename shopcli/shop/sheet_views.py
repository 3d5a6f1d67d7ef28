"""What is shown of a spec sheet or of a vehicle's numbers: every layer, which one counts, and what speaks against it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from shopcli.units.printed import Printed
from shopcli.worklists.model import Spec

VEHICLE, SHEET, FILE = "vehicle", "sheet", "file"


@dataclass(frozen=True, slots=True)
class LayerView:
    """One of the sheets that lie over one another; `key` is 0 for a shipped one."""

    where: str
    key: int
    name: str
    title: str


@dataclass(frozen=True, slots=True)
class Standing:
    """A number in its layer; `row` is its entry in the records, 0 for a shipped one; `past` one was put aside since."""

    layer: LayerView
    row: int
    spec: Spec
    printed: Printed
    past: bool = False


@dataclass(frozen=True, slots=True)
class NumberView:
    """All that is known under one name, the nearest first; `against` are those that disagree with the nearest."""

    name: str
    label: str
    quantity: str
    unit: str
    layers: tuple[Standing, ...] = ()
    against: tuple[Standing, ...] = ()
    entries: int = 0

    @property
    def shown(self) -> Standing | None:
        """The number that counts, or None when nothing is known."""
        return self.layers[0] if self.layers else None

    @property
    def to_confirm(self) -> bool:
        """Whether it is common practice that nobody confirmed: it judges nothing."""
        return bool(self.layers) and self.layers[0].spec.provenance.to_confirm


@dataclass(frozen=True, slots=True)
class SheetView:
    """A sheet, or a vehicle with its sheets: layers from the nearest to the widest, facts, numbers.

    `facts` are its own, `inherited` what the wider layers say; texts as a form takes them.
    """

    where: str
    key: int
    name: str
    title: str
    version: int
    about: str = ""
    layers: tuple[LayerView, ...] = ()
    facts: Mapping[str, str] = field(default_factory=dict)
    inherited: Mapping[str, str] = field(default_factory=dict)
    numbers: tuple[NumberView, ...] = ()
    trouble: str = ""

    @property
    def own(self) -> bool:
        """Whether it can be changed here: shipped sheets are files and cannot."""
        return self.where != FILE

    @property
    def under(self) -> str:
        """The name of the sheet it lies under."""
        return self.layers[1].name if len(self.layers) > 1 else ""

    def number(self, name: str) -> NumberView | None:
        """Return the number of that name."""
        return next((n for n in self.numbers if n.name == name), None)


@dataclass(frozen=True, slots=True)
class EntryView:
    """An entry of the history: who entered what when and why, and who put it aside."""

    row: int
    spec: Spec
    printed: Printed
    entered_by: str
    entered: datetime
    why: str
    put_aside_by: str = ""
    put_aside: datetime | None = None
    withdrawn_for: str = ""


@dataclass(frozen=True, slots=True)
class SheetChoice:
    """Something that has numbers: an own sheet, a shipped one, a vehicle."""

    where: str
    key: int
    name: str
    title: str
    numbers: int
    under: str = ""
