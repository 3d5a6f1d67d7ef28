"""Who acts, when, under which operation id, with which settings and library: handed to every rule.

Rules never read the clock, the settings or the disk on their own, so a test can run them at any hour.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from shopcli.errors import ShopError
from shopcli.shop.pin_hash import Argon
from shopcli.shop.settings import Settings

if TYPE_CHECKING:
    from shopcli.worklists.library import Library


@dataclass(frozen=True, slots=True)
class Act:
    """The circumstances of one act. `at` is in whole seconds UTC; `read_library` is asked by the acts that need it.

    `hasher` is what PINs are told by.
    """

    by: int
    at: int
    op: str
    settings: Settings
    read_library: Callable[[], "Library"]
    hasher: Argon = field(default_factory=Argon)

    @property
    def library(self) -> "Library":
        """What the shop knows how to do."""
        return self.read_library()

    def today(self) -> date:
        """Return the date in the shop's zone."""
        return datetime.fromtimestamp(self.at, UTC).astimezone(self.settings.tz()).date()


@dataclass(frozen=True, slots=True)
class Done:
    """What an act answers: the record it made or changed, and what to tell the person, or a refusal that was kept."""

    id: int
    said: tuple[str, ...] = ()
    refusal: ShopError | None = None


@dataclass(slots=True)
class Change:
    """What a rule hands back for the journal: subject, before and after, and the answer.

    A rule that refuses raises, and nothing stays of it; a `refusal` handed back stays in the records before it is
    raised (a wrong PIN is counted). What is `unwritten` changes no record of the shop and is not in the journal.
    """

    subject: str
    id: int
    card_id: int | None = None
    before: Mapping[str, object] = field(default_factory=dict)
    after: Mapping[str, object] = field(default_factory=dict)
    said: tuple[str, ...] = ()
    refusal: ShopError | None = None
    unwritten: bool = False
