"""Fewest crank positions at which every valve of an engine can be set, worked out from the cam.

A handbook's two-stop chart is one answer of this sum. Where the handbook has no chart, or the camshaft is
another one, the sum gives the stops, and says how far each valve is from moving when it is set.
"""

from collections.abc import Iterable

from shopcli.errors import OutOfRange
from shopcli.workings.cam_events import KINDS, CamEvents, Valve, valve_in_hand_deg
from shopcli.workings.firing import CYCLE_DEG
from shopcli.workings.say import listed, within

USUAL_MARGIN_DEG = 20.0
LEAST_MARGIN_DEG = 10.0
MOST_MARGIN_DEG = 60.0
WHY_MARGIN = (
    "near its events a valve is already on the slow ramp of the cam, where the clearance is being taken up;"
    " handbooks quote events at some lift or clearance, so the real ones lie further out"
)


def all_valves(cylinders: int) -> tuple[Valve, ...]:
    """Inlet and exhaust of every cylinder.

    Parameters
    ----------
    cylinders : int
        How many, [-]

    Returns
    -------
    tuple of Valve
        Inlets first.

    Examples
    --------
    >>> [str(valve) for valve in all_valves(2)]
    ['I1', 'I2', 'E1', 'E2']
    """
    return tuple(Valve(kind, number) for kind in KINDS for number in range(1, cylinders + 1))


def adjustable(
    cam: CamEvents, order: tuple[int, ...], crank_deg: float, margin_deg: float = USUAL_MARGIN_DEG
) -> tuple[Valve, ...]:
    """Valves that can be set at one crank position.

    Parameters
    ----------
    cam : CamEvents
        Valve timing, the same for every cylinder.
    order : tuple of int
        Cylinder numbers in firing order, evenly firing.
    crank_deg : float
        Crank position from the firing dead centre of the first in the order, [crank deg]
    margin_deg : float, optional
        Distance from opening and closing to keep, 0 to 60, [crank deg]

    Returns
    -------
    tuple of Valve
        Shut, and at least the margin away from moving.

    Raises
    ------
    OutOfRange
        If the margin is outside 0 to 60 degrees.

    Notes
    -----
    A margin of 0 counts valves that stand on the ramp of the cam; it is there to show the error, not for use.

    Examples
    --------
    >>> cam = CamEvents(9, 50, 47, 12)
    >>> [str(valve) for valve in adjustable(cam, (1, 3, 4, 2), 0.0)]
    ['I1', 'I2', 'E1', 'E3']

    References
    ----------
    Four-cylinder chart: TM 5-3895-383-24 p. 6-60. Margin: common practice, no source.
    """
    within("margin", margin_deg, 0.0, MOST_MARGIN_DEG, "deg")
    hands = ((valve, valve_in_hand_deg(cam, order, valve, crank_deg)) for valve in all_valves(len(order)))
    return tuple(valve for valve, hand in hands if hand > 0 and hand >= margin_deg)


def candidate_stops(cylinders: int, step_deg: int | None = None) -> tuple[float, ...]:
    """Crank positions a person can find.

    Parameters
    ----------
    cylinders : int
        How many, evenly firing, [-]
    step_deg : int, optional
        Graduation of a degree wheel, 1 to 120; without it only dead centres count, [crank deg]

    Returns
    -------
    tuple of float
        From the firing dead centre of No. 1, [crank deg]

    Raises
    ------
    OutOfRange
        If the step does not divide 720 degrees.

    Examples
    --------
    >>> candidate_stops(4)
    (0.0, 180.0, 360.0, 540.0)

    References
    ----------
    Geometry.
    """
    marks = {place * CYCLE_DEG / cylinders for place in range(cylinders)}
    if step_deg is not None:
        if not 1 <= step_deg <= 120 or 720 % step_deg:  # noqa: PLR2004 - a whole wheel, usefully fine
            raise OutOfRange("step", step_deg, "1 to 120 degrees, a whole part of 720")
        marks |= {float(angle) for angle in range(0, 720, step_deg)}
    return tuple(sorted(marks))


Hands = dict[float, dict[Valve, float]]


def _sets(hands: Hands, least_deg: float) -> dict[float, frozenset[Valve]]:
    """Valves each stop can take with at least so much in hand; a stop no better than another is left out."""
    first_with: dict[frozenset[Valve], float] = {}
    for stop, hand in hands.items():
        valves = frozenset(valve for valve, deg in hand.items() if deg > 0 and deg >= least_deg)
        first_with.setdefault(valves, stop)
    return {stop: held for held, stop in first_with.items() if not any(held < other for other in first_with)}


def _cover(
    sets: dict[float, frozenset[Valve]], wanted: frozenset[Valve], size: int
) -> frozenset[float] | None:
    """Up to `size` stops that hold all wanted valves between them, or None when there are none."""
    if not wanted:
        return frozenset()
    if not size:
        return None
    scarce = min(wanted, key=lambda valve: (sum(valve in held for held in sets.values()), valve))
    for stop, held in sets.items():
        if scarce in held:
            more = _cover(sets, wanted - held, size - 1)
            if more is not None:
                return more | {stop}
    return None


def _plan(hands: Hands, size: int, least_deg: float, first: float | None) -> frozenset[float] | None:
    """Plan of `size` stops that keeps so much in hand and, if told so, begins at `first`."""
    wanted = frozenset(valve for hand in hands.values() for valve in hand)
    sets = _sets(hands, least_deg)
    if first is None:
        return _cover(sets, wanted, size)
    here = frozenset(valve for valve, deg in hands[first].items() if deg > 0 and deg >= least_deg)
    rest = _cover(sets, wanted - here, size - 1)
    return None if rest is None else rest | {first}


def _roomiest(hands: Hands, size: int, margin_deg: float, first: float | None) -> tuple[float, ...]:
    """Of all plans of that size the one whose worst valve is furthest from moving."""
    levels = sorted({deg for hand in hands.values() for deg in hand.values() if deg > margin_deg})
    best, low, high = _plan(hands, size, margin_deg, first), 0, len(levels)
    while low < high:  # more in hand never makes a plan easier, so halving finds the most
        middle = (low + high) // 2
        better = _plan(hands, size, levels[middle], first)
        if better is None:
            high = middle
        else:
            best, low = better, middle + 1
    return tuple(sorted(best or ()))


def fewest_stops(
    cam: CamEvents,
    order: tuple[int, ...],
    margin_deg: float = USUAL_MARGIN_DEG,
    candidates: Iterable[float] | None = None,
) -> tuple[float, ...]:
    """Fewest crank positions at which every valve can be set once.

    Parameters
    ----------
    cam : CamEvents
        Valve timing, the same for every cylinder.
    order : tuple of int
        Cylinder numbers in firing order, evenly firing.
    margin_deg : float, optional
        Distance from opening and closing to keep, 0 to 60, [crank deg]
    candidates : iterable of float, optional
        Positions that can be found; dead centres when left out, [crank deg]

    Returns
    -------
    tuple of float
        Positions from the firing dead centre of No. 1, rising, [crank deg]

    Raises
    ------
    OutOfRange
        If some valve cannot be set at any of the positions.

    Notes
    -----
    Exact: every choice of one stop is tried, then of two, and so on. Among equals, one that takes in the
    firing dead centre of No. 1, then the one whose worst valve is furthest from moving.

    Examples
    --------
    >>> fewest_stops(CamEvents(9, 50, 47, 12), (1, 5, 3, 6, 2, 4))
    (0.0, 360.0)

    References
    ----------
    Set covering, solved by trying; two-stop charts: TM 5-3895-383-24 p. 6-60.
    """
    stops = sorted(candidates if candidates is not None else candidate_stops(len(order)))
    valves = all_valves(len(order))
    hands = {stop: {valve: valve_in_hand_deg(cam, order, valve, stop) for valve in valves} for stop in stops}
    within("margin", margin_deg, 0.0, MOST_MARGIN_DEG, "deg")
    lost = [
        valve
        for valve in valves
        if all(not hand[valve] > 0 or hand[valve] < margin_deg for hand in hands.values())
    ]
    if lost:
        raise OutOfRange(
            "margin",
            margin_deg,
            f"less: {listed(lost)} can be set at none of the positions",
            hint="allow a finer step",
        )
    begins = (0.0, None) if 0.0 in hands else (None,)
    for size in range(1, len(valves) + 1):
        for first in begins:
            if _plan(hands, size, margin_deg, first) is not None:
                return _roomiest(hands, size, margin_deg, first)
    raise AssertionError("every valve can be set somewhere")  # pragma: no cover - refused above


def shared_out(
    cam: CamEvents, order: tuple[int, ...], stops: Iterable[float]
) -> dict[Valve, tuple[float, float]]:
    """Give every valve to the stop where it has most in hand.

    Parameters
    ----------
    cam : CamEvents
        Valve timing, the same for every cylinder.
    order : tuple of int
        Cylinder numbers in firing order, evenly firing.
    stops : iterable of float
        Crank positions, [crank deg]

    Returns
    -------
    dict
        Stop and crank degrees in hand for each valve; ties go to the earlier stop.

    Examples
    --------
    >>> shared_out(CamEvents(9, 50, 47, 12), (1, 3, 4, 2), (0.0, 360.0))[Valve("E", 3)]
    (0.0, 168.0)

    References
    ----------
    Geometry.
    """
    rising = sorted(stops)
    shares = {}
    for valve in all_valves(len(order)):
        hands = [(valve_in_hand_deg(cam, order, valve, stop), -stop) for stop in rising]
        hand, minus_stop = max(hands)
        shares[valve] = (-minus_stop, hand)
    return shares
