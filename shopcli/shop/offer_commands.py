"""What may be asked of offers: made, accepted, declined, a card opened from one."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command

# How an answer comes.
HOWS = ("phone", "mail", "in person", "signed")


@dataclass(frozen=True, slots=True)
class MakeOffer(Command):
    """Make an offer for jobs on a vehicle, or for more work on its open card; it stays as it is made.

    `extras` are work sent out, sundries and fees known beforehand: (what, price before VAT in minor units, kind).
    `days` is how long it holds, the shop's own where it is 0.
    """

    rule: ClassVar[str] = "offers:make_offer"
    knows: ClassVar[bool] = True
    vehicle_id: int
    templates: tuple[str, ...]
    card_id: int | None = None
    words: str = ""
    extras: tuple[tuple[str, int, str], ...] = ()
    days: int = 0


@dataclass(frozen=True, slots=True)
class AcceptOffer(Command):
    """The customer says yes: who said it, how it came, up to what sum with VAT; else up to the offer's highest.

    An offer for an open card puts its jobs on that card, and raises the card's authority.
    """

    rule: ClassVar[str] = "offers:accept_offer"
    knows: ClassVar[bool] = True
    offer_id: int
    said_by: str
    how: str
    amount_minor: int | None = None


@dataclass(frozen=True, slots=True)
class DeclineOffer(Command):
    """The customer says no, and why where they say so."""

    rule: ClassVar[str] = "offers:decline_offer"
    offer_id: int
    said_by: str
    how: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class OpenFromOffer(Command):
    """Open the card of an accepted offer, with its jobs and its authority."""

    rule: ClassVar[str] = "offers:open_from_offer"
    knows: ClassVar[bool] = True
    offer_id: int
    words: str = ""
    odometer: int | None = None
    left_with: str = ""
    promised: str = ""
    take: tuple[str, ...] = ()
    odometer_why: str = ""
