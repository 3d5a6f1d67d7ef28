"""What the first picture shows: rows of cards, people and clocks.

Apart from the views of a whole card and from what is known of a vehicle, because the first screen is painted from
these alone: neither the language of work lists nor a view nobody has asked for yet is loaded for it.
"""

from datetime import date, datetime

from shopcli.tuples import NamedTuple


class PersonView(NamedTuple):
    """Somebody who works here."""

    id: int
    name: str
    role: str
    units: str


NOBODY = PersonView(-1, "nobody", "", "metric")
"""Who stands at a terminal nobody has signed in at: has no role, sees nothing and may do nothing."""


class CardRow(NamedTuple):
    """One open card in the list of the desk; `on_order` parts are to come, `arrived` ones came and are not fitted.

    Of the checks `owed` so many are `overdue`: left by an earlier visit for a day or a distance that has come.
    """

    id: int
    number: str
    customer_id: int
    customer: str
    phone: str
    vehicle_id: int
    registration: str
    vehicle: str
    title: str
    state: str
    held_for: str
    promised: date | None
    opened: datetime
    expected_minutes: int
    clocked_seconds: int
    tasks: int
    tasks_settled: int
    running: tuple[str, ...]
    open_tags: tuple[str, ...]
    owed: int
    on_order: int = 0
    arrived: int = 0
    overdue: int = 0

    @property
    def holds(self) -> str:
        """What holds the card up, in words; empty when nothing does."""
        parts = [self.held_for] if self.state == "held" and self.held_for else []
        parts += list(self.open_tags)
        return ", ".join(parts)


class ClockView(NamedTuple):
    """A clock that is running, or a break from the task it ran on."""

    entry_id: int
    person_id: int
    person: str
    card_id: int
    card: str
    task_id: int
    task: str
    since: datetime
    on_break: bool = False
