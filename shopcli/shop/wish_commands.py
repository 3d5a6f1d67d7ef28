"""What may be wished of the order of work."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command, Seen


@dataclass(frozen=True, slots=True)
class PinTask(Command):
    """Wish for a place of a task in the order of work, or for who does it; a newer wish of the kind takes its place.

    `kind` is ``next``, ``place`` (the n-th of what is not begun: `place`), ``last``, ``after`` (`other_id`) or ``by``
    (`person_id`).
    """

    rule: ClassVar[str] = "wishes:pin_task"
    knows: ClassVar[bool] = True
    task_id: int
    kind: str
    place: int = 0
    other_id: int | None = None
    person_id: int | None = None


@dataclass(frozen=True, slots=True)
class GiveBack(Command):
    """Give back every wish for a task, or without one every wish on the card."""

    rule: ClassVar[str] = "wishes:give_back"
    card_id: int
    task_id: int | None = None


@dataclass(frozen=True, slots=True)
class SetHands(Command):
    """Say how many people work on a card; None goes back to what the shop usually has."""

    rule: ClassVar[str] = "wishes:set_hands"
    card_id: int
    hands: int | None = None
    seen: Seen = ()
