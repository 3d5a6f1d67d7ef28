"""What whoever opens a sum has in hand: the task, what was read on it, the vehicle. All of it may be missing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from shopcli.errors import ShopError
from shopcli.screens.dialogs import Choice
from shopcli.shop.views import CardView, TaskView
from shopcli.store.reads.vehicle_facts import vehicle_facts
from shopcli.store.shop import Shop
from shopcli.units import IMPERIAL, METRIC, Preferences
from shopcli.workings.frame import Working
from shopcli.worklists.derived import taken_by_name
from shopcli.worklists.known_inputs import Known, known_inputs
from shopcli.worklists.model import Task, VehicleFacts
from shopcli.worklists.workings_at_hand import every_working

OWN = "▸ This task"


@dataclass(frozen=True, slots=True)
class Hand:
    """A task with its readings, and the facts of the vehicle."""

    task: Task | None = None
    readings: Mapping[str, Sequence[float]] = field(default_factory=dict)
    facts: VehicleFacts | None = None

    @property
    def own_working(self) -> str:
        """Name of the task's own sum, or nothing."""
        return self.task.working.name if self.task and self.task.working else ""

    def known(self, working: Working, units: str) -> dict[str, Known]:
        """Return what a form for the sum can be filled in with, in somebody's units."""
        return known_inputs(
            working, facts=self.facts, task=self.task, readings=self.readings, prefs=preferences(units)
        )


def preferences(units: str) -> Preferences:
    """Return the units somebody reads in."""
    return IMPERIAL if units == "imperial" else METRIC


def hand_of(shop: Shop, view: CardView | None, task: TaskView | None) -> Hand:
    """Return what is in hand at the bench; a vehicle whose sheet has gone has no facts."""
    facts = None
    if view is not None:
        try:
            facts = vehicle_facts(shop, view.vehicle_id)
        except ShopError:
            facts = None
    if task is None:
        return Hand(facts=facts)
    taken = {reading.slot: reading.value for reading in task.readings}
    return Hand(task.task, taken_by_name(task.task, taken), facts)


def choices(hand: Hand) -> list[Choice]:
    """Return every sum to pick from, a line each, subject after subject; the task's own comes first."""
    own = hand.own_working
    every = sorted(every_working().values(), key=lambda w: w.name != own)
    return [Choice(w.name, f"{OWN if w.name == own else w.subject.capitalize()}: {w.title}") for w in every]
