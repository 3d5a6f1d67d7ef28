"""The units a task is read in: those its tools are marked in, else those of whoever stands there."""

from dataclasses import dataclass

from shopcli.units import Preferences, unit_named
from shopcli.worklists.model import ReadingSlot, Task
from shopcli.worklists.tool_choice import named, tool_for
from shopcli.worklists.tools import OwnedTool


@dataclass(frozen=True, slots=True)
class WithTools(Preferences):
    """Somebody's preferences with tools in hand: pairs of a number's name and the unit its tool is marked in."""

    marked: tuple[tuple[str, str], ...] = ()

    def for_number(self, name: str) -> Preferences:
        """Return what holds for a number, or for a reading without one, of that name."""
        unit = dict(self.marked).get(name, "")
        return self.changed(unit_named(unit).quantity, unit) if unit else Preferences(self.units)


def with_tools(prefs: Preferences, task: Task, owned: tuple[OwnedTool, ...], chosen: str = "") -> Preferences:
    """Return the preferences for a task: what a tool is set to or read off stands in the unit of its scale.

    Parameters
    ----------
    prefs : Preferences
        Of whoever stands at the bench.
    task : Task
        As it is frozen into the card.
    owned : tuple of OwnedTool
        The register.
    chosen : str, optional
        Name of the tool somebody took instead of the one that is named for the task.
    """
    taken = next((named(tool) for tool in owned if tool.name == chosen), None)
    spoken_of = {s.spec for s in task.readings}
    slots = [*task.readings]
    slots += [
        ReadingSlot(s.name, s.label, "", "", spec=s.name) for s in task.specs if s.name not in spoken_of
    ]
    marked: dict[str, str] = {}
    for slot in slots:
        spec = task.spec(slot.spec) if slot.spec else None
        quantity = spec.limits.quantity if spec else slot.quantity
        told = taken or tool_for(task, slot, owned, prefs)
        if told is not None and told.unit and unit_named(told.unit).quantity == quantity:
            marked[number_name(slot)] = told.unit
    return WithTools(prefs.units, tuple(marked.items())) if marked else prefs


def number_name(slot: ReadingSlot) -> str:
    """Return under which name the unit of a reading is looked up: its number's, else its own."""
    return slot.spec or slot.name
