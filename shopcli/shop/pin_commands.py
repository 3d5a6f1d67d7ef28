"""What may be asked of PINs. What is typed stands in no journal, and in no text a command is shown as."""

from dataclasses import dataclass, field
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class SignIn(Command):
    """Say who stands here and prove it; only wrong tries are written down."""

    rule: ClassVar[str] = "pins:sign_in"
    secret: ClassVar[tuple[str, ...]] = ("pin",)
    person_id: int
    pin: str = field(repr=False)


@dataclass(frozen=True, slots=True)
class SetPin(Command):
    """Give somebody a PIN; one's own wants the `old` one, somebody else's an owner."""

    rule: ClassVar[str] = "pins:set_pin"
    secret: ClassVar[tuple[str, ...]] = ("pin", "old")
    person_id: int
    pin: str = field(repr=False)
    old: str = field(default="", repr=False)


@dataclass(frozen=True, slots=True)
class ClearPin(Command):
    """Let somebody be chosen without a PIN again; under the same conditions as setting one."""

    rule: ClassVar[str] = "pins:clear_pin"
    secret: ClassVar[tuple[str, ...]] = ("old",)
    person_id: int
    old: str = field(default="", repr=False)
