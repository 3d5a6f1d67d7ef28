"""What may be asked of a card as a whole: opened, added to, changed, moved, closed."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class OpenCard(Command):
    """Open a card for a vehicle and expand templates for it.

    `take` names what earlier visits left and this one takes on, like ``finding:3`` or ``owed:5``. `odometer_why` says
    why an odometer shows less than it did before.
    """

    rule: ClassVar[str] = "cards:open_card"
    knows: ClassVar[bool] = True
    vehicle_id: int
    templates: tuple[str, ...] = ()
    words: str = ""
    title: str = ""
    odometer: int | None = None
    left_with: str = ""
    authority_minor: int | None = None
    authority_by: str = ""
    promised: str = ""
    number: str = ""
    take: tuple[str, ...] = ()
    authority_how: str = ""
    car_keys: str = ""
    fuel: str = ""
    damage: str = ""
    odometer_why: str = ""


@dataclass(frozen=True, slots=True)
class TakeOn(Command):
    """Take on an open card what earlier visits left, like ``finding:3`` or ``owed:5``."""

    rule: ClassVar[str] = "taking_on:take_on"
    knows: ClassVar[bool] = True
    card_id: int
    take: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AddTemplates(Command):
    """Expand further templates onto an open card."""

    rule: ClassVar[str] = "cards:add_templates"
    knows: ClassVar[bool] = True
    card_id: int
    templates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChangeCard(Command):
    """Change what the desk wrote on a card; fields left None stay."""

    rule: ClassVar[str] = "cards:change_card"
    card_id: int
    version: int
    words: str | None = None
    title: str | None = None
    odometer: int | None = None
    left_with: str | None = None
    authority_minor: int | None = None
    authority_by: str | None = None
    promised: str | None = None
    authority_how: str | None = None
    car_keys: str | None = None
    fuel: str | None = None
    damage: str | None = None
    odometer_why: str = ""
    seen: Seen = ()


@dataclass(frozen=True, slots=True)
class MoveCard(Command):
    """Move a card to another state: take in hand, hold (with a reason), check, void.

    One held `for_parts` is in hand again by itself when the last part on order for it has come in.
    """

    rule: ClassVar[str] = "cards:move_card"
    card_id: int
    state: str
    reason: str = ""
    for_parts: bool = False


@dataclass(frozen=True, slots=True)
class CloseCard(Command):
    """Close a checked card: refused while anything hinders; issues the invoice in the same transaction."""

    rule: ClassVar[str] = "closing:close_card"
    card_id: int


@dataclass(frozen=True, slots=True)
class Waive(Command):
    """Set a hindrance aside by name, with a reason. `hindrance` is its key from the closing check."""

    rule: ClassVar[str] = "closing:waive"
    card_id: int
    hindrance: str
    reason: str
