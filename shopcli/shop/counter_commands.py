"""What may be asked at the counter beside the cards themselves: a call noted, a car handed over."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class NoteCall(Command):
    """Note a call to a customer. `about` is the key of what it was about, from the list of whom to ring.

    `reached` is empty when nobody was; `next_on` is the day to ring again, empty when nothing more is to be said.
    """

    rule: ClassVar[str] = "calls:note_call"
    customer_id: int
    about: str
    reached: str = ""
    said: str = ""
    next_on: str = ""
    card_id: int | None = None


@dataclass(frozen=True, slots=True)
class HandOver(Command):
    """Hand a car over to whoever fetched it, once its card is closed."""

    rule: ClassVar[str] = "handing:hand_over"
    card_id: int
    to: str = ""
