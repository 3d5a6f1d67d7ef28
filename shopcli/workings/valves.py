"""Valve setting by the firing order: who rocks when whom is set, and what comes up next at the crank."""

from typing import Literal

from shopcli.errors import BadInput
from shopcli.workings.firing import (
    CYCLE_DEG,
    Direction,
    companion_of,
    companions,
    order_text,
    parse_order,
    turned_sequence,
)
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, trimmed, within

EngineState = Literal["cold", "hot"]
STATES = ("cold", "hot")
DIRECTIONS = ("forwards", "backwards")
ENGINE_OFF = "Ignition off and out of gear before the crank is turned by hand; plugs out make it easy."
_NUMBERING = "Which cylinder is No. 1, and the firing order, is the handbook's word."


def may_judge(found_state: EngineState, limit_state: EngineState) -> bool:
    """Tell whether a clearance found in one state may be held against limits for the other.

    Parameters
    ----------
    found_state, limit_state : {"cold", "hot"}
        State of the engine when the gap was measured, and the state the limits are given for.

    Returns
    -------
    bool
        True only when both are the same.

    Raises
    ------
    BadInput
        If a state is neither cold nor hot.

    Notes
    -----
    The gap grows in one engine as it warms (head and block longer than the pushrods) and shrinks in another
    (valve stems longer than the head); the amount is the maker's measurement, never an estimate.

    Examples
    --------
    >>> may_judge("cold", "cold"), may_judge("hot", "cold")
    (True, False)

    References
    ----------
    Common practice, no source.
    """
    for state in (found_state, limit_state):
        if state not in STATES:
            raise BadInput(f"engine state {state!r}", hint="cold or hot")
    return found_state == limit_state


def _run_firing_companions(*, firing_order: str, cylinder: int | None = None) -> Worked:
    order = parse_order(firing_order)
    pairs = companions(order)
    names = tuple(f"{one}/{other}" for one, other in pairs)
    results = [Result("pairs", "companions", names, "", ", ".join(names))]
    steps = [
        f"{order_text(order)}: companions stand {len(order) // 2} places apart in it, 360° of the crank",
        *(f"No. {other} rocks: set No. {one}; No. {one} rocks: set No. {other}" for one, other in pairs),
    ]
    verdict = ""
    if cylinder is not None:
        mate = companion_of(order, cylinder)
        results.append(Result("companion", f"companion of No. {cylinder}", mate, "", f"No. {mate}"))
        verdict = f"to set No. {cylinder}, turn until the valves of No. {mate} rock"
    return Worked(
        tuple(results),
        tuple(steps),
        ("Rocking: exhaust just closing, inlet just opening. Turn slowly to the middle between them.",),
        verdict,
    )


def _run_valve_sequence(*, firing_order: str, direction: Direction = "forwards", start: int = 1) -> Worked:
    order = parse_order(firing_order)
    sequence = turned_sequence(order, direction, start)
    turn = CYCLE_DEG / len(order)
    turned = tuple(place * turn for place in range(len(sequence)))
    rocking = tuple(companion_of(order, c) for c in sequence) if len(order) % 2 == 0 else ()
    steps = []
    for place, cylinder in enumerate(sequence):
        mate = f" (No. {rocking[place]} rocks)" if rocking else ""
        move = f"turn {trimmed(turn, 2)}° {direction}" if place else f"No. {start} at firing dead centre"
        steps.append(f"{move}: set both valves of No. {cylinder}{mate}")
    cautions = ["The piston must be at the top of compression, not of exhaust: both valves closed and loose."]
    if direction == "backwards":
        cautions.append(
            "Turn backwards only where the handbook allows it: a belt or chain tensioner may not."
        )
    angles = ", ".join(f"{trimmed(angle, 2)}°" for angle in turned)
    results = [
        Result("sequence", "cylinders as they come up", sequence, "", order_text(sequence)),
        Result("turned_deg", "crank turned from the start", turned, "deg_crank", angles),
    ]
    if rocking:
        results.append(Result("rocking", "rocking meanwhile", rocking, "", order_text(rocking)))
    return Worked(tuple(results), tuple(steps), tuple(cautions))


def _standing(found_mm: float, low_mm: float | None, high_mm: float | None) -> str:
    if low_mm is not None and found_mm < low_mm:
        return f"tight by {figure(low_mm - found_mm, 2)} mm"
    if high_mm is not None and found_mm > high_mm:
        return f"wide by {figure(found_mm - high_mm, 2)} mm"
    return "in limits"


def _run_clearance_hot_cold(
    *,
    found_mm: float,
    found_state: EngineState,
    limit_state: EngineState,
    low_mm: float | None = None,
    high_mm: float | None = None,
) -> Worked:
    if low_mm is None and high_mm is None:
        raise BadInput("no limit given", hint="give the handbook's low, high or both")
    within("found", found_mm, 0.0, 5.0, "mm")
    allowed = may_judge(found_state, limit_state)
    standing = _standing(found_mm, low_mm, high_mm) if allowed else "not judged"
    if allowed:
        verdict = f"{figure(found_mm, 2)} mm {found_state}: {standing}"
        cautions: tuple[str, ...] = ()
    else:
        verdict = f"measured {found_state}, limits are for a {limit_state} engine: not judged"
        cautions = (
            "Clearance changes as the engine warms, up in some engines and down in others.",
            f"Measure again {limit_state}, or find the handbook's figure for a {found_state} engine.",
        )
    return Worked(
        results=(
            Result("may_judge", "may be judged", allowed, "", "yes" if allowed else "no"),
            Result("standing", "standing", standing, "", standing),
        ),
        steps=(
            f"found {figure(found_mm, 2)} mm on a {found_state} engine",
            f"limits are given for a {limit_state} engine",
        ),
        cautions=cautions,
        verdict=verdict,
    )


_ORDER = Input("firing_order", "Firing order", "text", help="1-3-4-2")

FIRING_COMPANIONS = Working(
    name="firing-companions",
    title="Companion cylinders and rocking valves",
    subject="valves",
    inputs=(
        _ORDER,
        Input("cylinder", "Cylinder to set", "whole", quantity="count", low=1, high=12, required=False),
    ),
    run=_run_firing_companions,
    source="geometry; TM 5-6115-400-12 (No. 1 with No. 6), TM 10-3930-671-24 (No. 4 rocks, set No. 1)",
    good_for="four-stroke engines with an even number of evenly firing cylinders",
    cautions=(ENGINE_OFF, _NUMBERING),
)

VALVE_SEQUENCE = Working(
    name="valve-sequence",
    title="Cylinders as they come up for valve setting",
    subject="valves",
    inputs=(
        _ORDER,
        Input(
            "direction", "Turning the crank", "choice", default="forwards", required=False, choices=DIRECTIONS
        ),
        Input(
            "start", "Cylinder at firing dead centre now", "whole", low=1, high=12, default=1, required=False
        ),
    ),
    run=_run_valve_sequence,
    source="geometry",
    good_for="four-stroke, evenly firing, 2 to 12 cylinders; a cylinder at its firing dead centre",
    cautions=(ENGINE_OFF, _NUMBERING),
)


def _clearance(name: str, label: str, *, required: bool = False) -> Input:
    return Input(name, label, quantity="length", unit="mm", low=0.0, high=5.0, required=required)


CLEARANCE_HOT_COLD = Working(
    name="clearance-hot-cold",
    title="Valve clearance found hot or cold against its limits",
    subject="valves",
    inputs=(
        _clearance("found_mm", "Clearance found", required=True),
        Input("found_state", "Measured on an engine that is", "choice", choices=STATES),
        Input("limit_state", "Limits are for an engine that is", "choice", choices=STATES),
        _clearance("low_mm", "Low limit"),
        _clearance("high_mm", "High limit"),
    ),
    run=_run_clearance_hot_cold,
    source="common practice, no source",
    good_for="same state only; a gap is never carried from hot to cold by arithmetic",
    cautions=(ENGINE_OFF, "Hot engine: manifold, oil and coolant burn."),
)

WORKINGS = (FIRING_COMPANIONS, VALVE_SEQUENCE, CLEARANCE_HOT_COLD)
