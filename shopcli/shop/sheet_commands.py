"""What may be asked about the shop's own spec sheets and about the numbers and facts on them, as plain frozen data."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen

Facts = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class EnterSpec(Command):
    """Give a vehicle a number of its own, or confirm one: always with its provenance.

    `low`, `nominal`, `high` are typed texts with a unit, `also` a second print of the same limits; `unit` is that
    of bare figures. `confirm` takes the number the sheets have now. A number no sheet knows yet brings its `label`
    and `quantity`. `who` and `on` are told only where a file brings an older entry along.
    """

    rule: ClassVar[str] = "specs:enter_spec"
    knows: ClassVar[bool] = True
    vehicle_id: int
    name: str
    low: str = ""
    nominal: str = ""
    high: str = ""
    state: str = ""
    kind: str = "handbook"
    document: str = ""
    page: str = ""
    confirm: bool = False
    also: str = ""
    note: str = ""
    why: str = ""
    label: str = ""
    quantity: str = ""
    unit: str = ""
    who: str = ""
    on: str = ""


@dataclass(frozen=True, slots=True)
class MakeSheet(Command):
    """Make a spec sheet of the shop's own. `under` names the wider sheet it lies under; empty is the general one.

    `facts` are (name, text) and hold for every vehicle that names the sheet; what is left out comes from `under`.
    """

    rule: ClassVar[str] = "sheets:make_sheet"
    knows: ClassVar[bool] = True
    name: str
    title: str
    under: str = ""
    about: str = ""
    facts: Facts = ()


@dataclass(frozen=True, slots=True)
class ChangeSheet(Command):
    """Change an own sheet; fields left None stay. `version` is the one that was on the screen, `facts` all of its own."""

    rule: ClassVar[str] = "sheets:change_sheet"
    knows: ClassVar[bool] = True
    sheet_id: int
    version: int
    title: str | None = None
    under: str | None = None
    about: str | None = None
    facts: Facts | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class ChangeVehicleFacts(Command):
    """Say which sheet a vehicle lies under, and what of its facts differs; fields left None stay."""

    rule: ClassVar[str] = "sheets:change_vehicle_facts"
    knows: ClassVar[bool] = True
    vehicle_id: int
    version: int
    sheet: str | None = None
    facts: Facts | None = None
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class EnterOnSheet(Command):
    """Give an own sheet a number, or confirm the one it has; the fields are those of `EnterSpec`."""

    rule: ClassVar[str] = "specs:enter_on_sheet"
    knows: ClassVar[bool] = True
    sheet_id: int
    name: str
    low: str = ""
    nominal: str = ""
    high: str = ""
    state: str = ""
    kind: str = "handbook"
    document: str = ""
    page: str = ""
    confirm: bool = False
    also: str = ""
    note: str = ""
    why: str = ""
    label: str = ""
    quantity: str = ""
    unit: str = ""
    who: str = ""
    on: str = ""


@dataclass(frozen=True, slots=True)
class WithdrawNumber(Command):
    """Withdraw a number that is wrong, with the reason; it stays in the history.

    `where` is ``vehicle`` or ``sheet``. One that was replaced already can be withdrawn too: what a document said
    then no longer speaks against the number that stands.
    """

    rule: ClassVar[str] = "specs:withdraw_number"
    where: str
    number_id: int
    reason: str
