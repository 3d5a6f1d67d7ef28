"""The sum rule of valve setting, and whether this engine is one it holds for.

"Nine (or thirteen) less the number of the valve that is fully down" picks the valve to set without thinking
of the firing order. It needs a camshaft that is its own mirror image from end to end, so it is worked out
here for the layout at hand and never taken for granted.
"""

from typing import Literal

from shopcli.errors import OutOfRange
from shopcli.workings.cam_events import (
    CAM_INPUTS,
    CamEvents,
    Valve,
    full_lift_deg,
    parse_layout,
    valve_in_hand_deg,
)
from shopcli.workings.firing import MOST_CYLINDERS, firing_angle_deg, order_text, parse_order
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, trimmed
from shopcli.workings.valve_plan import LEAST_MARGIN_DEG, MOST_MARGIN_DEG, USUAL_MARGIN_DEG
from shopcli.workings.valves import ENGINE_OFF

Engine = Literal["inline", "vee", "flat"]
ENGINES = ("inline", "vee", "flat")
USUAL_EYE_DEG = 20.0


def sum_rule_partner(valve: int, cylinders: int) -> int:
    """Valve to set when another is fully open, by the sum rule.

    Parameters
    ----------
    valve : int
        Number of the open valve, counted from the front, 1 to 2n, [-]
    cylinders : int
        Cylinders in the row, n, 1 to 12, [-]

    Returns
    -------
    int
        Number of the valve to set.

    Raises
    ------
    OutOfRange
        If there is no such valve.

    Notes
    -----
    Says nothing about whether the rule holds: see `sum_rule_in_hand_deg`.

    Examples
    --------
    >>> sum_rule_partner(1, 4), sum_rule_partner(5, 6)
    (8, 8)

    References
    ----------
    Pairs 1-8, 2-7, 4-5 of a four read on a public page with camshaft photographs.
    """
    if not 1 <= cylinders <= MOST_CYLINDERS:
        raise OutOfRange("cylinders", cylinders, f"1 to {MOST_CYLINDERS}")
    if not 1 <= valve <= 2 * cylinders:
        raise OutOfRange("valve", valve, f"1 to {2 * cylinders}")
    return 2 * cylinders + 1 - valve


def sum_rule_in_hand_deg(
    layout: tuple[Valve, ...], order: tuple[int, ...], cam: CamEvents
) -> tuple[float, ...]:
    """How far the partner is from moving while each valve in turn is at full lift.

    Parameters
    ----------
    layout : tuple of Valve
        Valves from the front, two to each cylinder.
    order : tuple of int
        Cylinder numbers in firing order, evenly firing.
    cam : CamEvents
        Valve timing, the same for every cylinder.

    Returns
    -------
    tuple of float
        One for each open valve, valve 1 first; zero or below where the partner is open, [crank deg]

    Raises
    ------
    BadInput
        If layout and order are not of one engine.

    Examples
    --------
    >>> cam = CamEvents(9, 50, 47, 12)
    >>> min(sum_rule_in_hand_deg(parse_layout("EIIEEIIE", 4), (1, 3, 4, 2), cam))
    240.5
    >>> min(sum_rule_in_hand_deg(parse_layout("EIEIEIEI", 4), (1, 3, 4, 2), cam))
    22.5

    References
    ----------
    Geometry; valve timing of a published 134 cu in side-valve four.
    """
    hands = []
    for number, valve in enumerate(layout, start=1):
        crank = firing_angle_deg(order, valve.cylinder) + full_lift_deg(cam, valve.kind)
        partner = layout[sum_rule_partner(number, len(order)) - 1]
        hands.append(valve_in_hand_deg(cam, order, partner, crank))
    return tuple(hands)


def _steps(layout: tuple[Valve, ...], hands: tuple[float, ...]) -> tuple[str, ...]:
    total = len(layout) + 1
    return (
        f"valves from the front: {' '.join(str(valve) for valve in layout)}",
        *(
            f"valve {number} ({valve}) fully open: {total} - {number} = {total - number}"
            f" ({layout[total - number - 1]}), {figure(hand, 1)}° from moving"
            for number, (valve, hand) in enumerate(zip(layout, hands, strict=True), start=1)
        ),
    )


def _run_valve_sum_rule(
    *,
    firing_order: str,
    layout: str,
    ivo_deg: float,
    ivc_deg: float,
    evo_deg: float,
    evc_deg: float,
    engine: Engine = "inline",
    margin_deg: float = USUAL_MARGIN_DEG,
    eye_deg: float = USUAL_EYE_DEG,
) -> Worked:
    order = parse_order(firing_order)
    row = parse_layout(layout, len(order))
    hands = sum_rule_in_hand_deg(row, order, CamEvents(ivo_deg, ivc_deg, evo_deg, evc_deg))
    worst, needed = min(hands), margin_deg + eye_deg
    holds = engine == "inline" and worst >= needed
    if engine != "inline":
        verdict = "the rule is for one row numbered from the front: not for this engine, use the stops"
    elif holds:
        verdict = f"the rule holds: set valve {2 * len(order) + 1} less the number of the one fully open"
    else:
        short = f"{figure(worst, 1)}° in hand, {trimmed(needed, 1)}° needed"
        verdict = f"the rule does not hold: {short}; use the stops"
    return Worked(
        results=(
            Result("holds", "rule holds", holds, "", "yes" if holds else "no"),
            Result("sum", "sum", 2 * len(order) + 1, "", str(2 * len(order) + 1)),
            Result(
                "least_in_hand_deg",
                "worst partner is from moving",
                worst,
                "deg_crank",
                f"{figure(worst, 1)}°",
            ),
        ),
        steps=(
            *_steps(row, hands),
            f"needed: margin {trimmed(margin_deg, 1)}° + finding full lift by eye {trimmed(eye_deg, 1)}°",
        ),
        cautions=(f"Worked out for {order_text(order)} and this layout only: another head, another answer.",),
        verdict=verdict,
    )


def _angle(name: str, label: str, low: float, default: float, help_text: str) -> Input:
    return Input(
        name,
        label,
        quantity="crank angle",
        unit="deg_crank",
        low=low,
        high=MOST_MARGIN_DEG,
        default=default,
        required=False,
        help=help_text,
    )


VALVE_SUM_RULE = Working(
    name="valve-sum-rule",
    title="Sum rule for valve setting: does it hold here?",
    subject="valves",
    inputs=(
        Input("firing_order", "Firing order", "text", help="1-3-4-2"),
        Input("layout", "Valves from the front", "text", help="I and E as they stand: EIIEEIIE"),
        *CAM_INPUTS,
        Input("engine", "Engine", "choice", default="inline", required=False, choices=ENGINES),
        _angle(
            "margin_deg",
            "Keep away from opening and closing by",
            LEAST_MARGIN_DEG,
            USUAL_MARGIN_DEG,
            "the ramps of the cam",
        ),
        _angle(
            "eye_deg", "Full lift is found to within", 0.0, USUAL_EYE_DEG, "a flat maximum is hard to see"
        ),
    ),
    run=_run_valve_sum_rule,
    source="geometry; pairs 1-8, 2-7, 4-5 from a public page; margin and eye: common practice, no source",
    good_for="one row of cylinders numbered from the front, two valves each, evenly firing",
    cautions=(ENGINE_OFF,),
)

WORKINGS = (VALVE_SUM_RULE,)
