"""Which valves may be set now, and how far the crank turns to the next: the engine worked through in firing order.

With a cylinder at its firing dead centre both its valves are shut, whatever the cam: that much the firing order
alone tells. Fewer stops need the cam's own timing; the sum ``valve-stops`` finds them.
"""

from dataclasses import dataclass

from shopcli.errors import ShopError
from shopcli.workings.firing import CYCLE_DEG, companion_of, parse_order, turned_sequence
from shopcli.workings.say import trimmed
from shopcli.worklists.model import VehicleFacts

FOUR_STROKE = "four"


@dataclass(frozen=True, slots=True)
class ValveTurn:
    """One crank position.

    Attributes
    ----------
    cylinder : str
        The one at its firing dead centre.
    rocks : str
        The one whose valves rock meanwhile, empty with an odd number of cylinders.
    valves : tuple of str
        What may be set now, as the engine names them.
    turn_deg : float
        How far the crank turns from here to the next position, [crank deg]
    """

    cylinder: str
    rocks: str
    valves: tuple[str, ...]
    turn_deg: float

    def words(self) -> str:
        """Say where the crank stands and what may be set.

        Examples
        --------
        >>> ValveTurn("3", "2", ("3 inlet", "3 exhaust"), 180.0).words()
        'No. 3 at firing dead centre (No. 2 rocks): set 3 inlet, 3 exhaust'
        """
        rocks = f" (No. {self.rocks} rocks)" if self.rocks else ""
        return f"No. {self.cylinder} at firing dead centre{rocks}: set {', '.join(self.valves)}"

    def onward(self) -> str:
        """Say how to come to the next position."""
        return f"then turn the crank {trimmed(self.turn_deg, 1)}° forwards"


def valve_turns(facts: VehicleFacts) -> tuple[ValveTurn, ...]:
    """Return the crank positions of an evenly firing four-stroke engine, No. 1 first.

    Returns
    -------
    tuple of ValveTurn
        Empty where the facts do not tell: no firing order, no valves to set, or a two-stroke.

    Examples
    --------
    >>> facts = VehicleFacts(cylinders=("1", "2", "3", "4"), firing_order=("1", "3", "4", "2"),
    ...     valves=("1 inlet", "1 exhaust"), other=(("strokes", "four"),))
    >>> [(t.cylinder, t.rocks, t.valves) for t in valve_turns(facts)][:2]
    [('1', '4', ('1 inlet', '1 exhaust')), ('3', '2', ())]

    References
    ----------
    Geometry; common practice, no source.
    """
    if (
        not facts.firing_order
        or not facts.valves
        or dict(facts.other).get("strokes", FOUR_STROKE) != FOUR_STROKE
    ):
        return ()
    try:
        order = parse_order("-".join(facts.firing_order))
        sequence = turned_sequence(order, "forwards", order[0])
    except ShopError:  # cylinders that are not numbered 1 to n have no firing order a sum could read
        return ()
    even = len(order) % 2 == 0
    return tuple(
        ValveTurn(
            str(cylinder),
            str(companion_of(order, cylinder)) if even else "",
            tuple(v for v in facts.valves if v.partition(" ")[0] == str(cylinder)),
            CYCLE_DEG / len(order),
        )
        for cylinder in sequence
    )
