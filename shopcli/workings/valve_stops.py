"""Valve stops at the bench: the plan of fewest stops as a chart to work down, and why a margin is kept."""

from shopcli.workings.cam_events import CAM_INPUTS, KIND_WORDS, KINDS, CamEvents, Valve, valve_in_hand_deg
from shopcli.workings.firing import CYCLE_DEG, companion_of, parse_order
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import PLAIN_CHARACTERS, figure, plain_picture, trimmed
from shopcli.workings.valve_plan import (
    LEAST_MARGIN_DEG,
    MOST_MARGIN_DEG,
    USUAL_MARGIN_DEG,
    WHY_MARGIN,
    adjustable,
    candidate_stops,
    fewest_stops,
    shared_out,
)
from shopcli.workings.valves import ENGINE_OFF

Shares = dict[Valve, tuple[float, float]]


def stops_picture(shares: Shares, *, ascii_only: bool = False) -> str:
    """Chart of the stop at which each valve is set.

    Parameters
    ----------
    shares : dict
        Stop and crank degrees in hand for each valve.
    ascii_only : bool, optional
        Draw with plain keyboard characters.

    Returns
    -------
    str
        Lines of at most 80 columns.

    Examples
    --------
    >>> shares = {Valve("I", 1): (0.0, 130.0), Valve("E", 1): (360.0, 100.0)}
    >>> print(stops_picture(shares, ascii_only=True))
    cylinder |   1
    ---------+----
    inlet    |   1
    exhaust  |   2
    <BLANKLINE>
    figures: the stop at which the valve is set
    """
    stops = sorted({stop for stop, _ in shares.values()})
    cylinders = sorted({valve.cylinder for valve in shares})
    lines = ["cylinder │" + "".join(f"{number:>4}" for number in cylinders)]
    lines.append("─" * 9 + "┼" + "─" * (4 * len(cylinders)))
    for kind in KINDS:
        marks = (stops.index(shares[Valve(kind, number)][0]) + 1 for number in cylinders)
        lines.append(f"{KIND_WORDS[kind]:<9}│" + "".join(f"{mark:>4}" for mark in marks))
    drawn = "\n".join([*lines, "", "figures: the stop at which the valve is set"])
    return plain_picture(drawn) if ascii_only else drawn


def where_words(order: tuple[int, ...], stop_deg: float) -> str:
    """Words for a crank position.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order.
    stop_deg : float
        From the firing dead centre of No. 1, [crank deg]

    Returns
    -------
    str
        The cylinder at its firing dead centre, if there is one, and who rocks.

    Examples
    --------
    >>> where_words((1, 3, 4, 2), 360.0)
    'No. 4 at firing dead centre (No. 1 rocks)'
    """
    place = stop_deg / (CYCLE_DEG / len(order))
    if abs(place - round(place)) > 1e-9:  # noqa: PLR2004 - the dust of a division
        return f"{trimmed(stop_deg, 2)}° after the firing dead centre of No. {order[0]}"
    cylinder = order[round(place) % len(order)]
    mate = f" (No. {companion_of(order, cylinder)} rocks)" if len(order) % 2 == 0 else ""
    return f"No. {cylinder} at firing dead centre{mate}"


def _without_margin(cam: CamEvents, order: tuple[int, ...], stop: float, margin_deg: float) -> str:
    kept = adjustable(cam, order, stop, margin_deg)
    wrong = [valve for valve in adjustable(cam, order, stop, 0.0) if valve not in kept]
    hands = (
        f"{valve} ({figure(valve_in_hand_deg(cam, order, valve, stop), 0)}° from moving)" for valve in wrong
    )
    return ", ".join(hands)


def _stop_texts(shares: Shares, stop: float) -> tuple[str, ...]:
    return tuple(str(valve) for valve, (at, _) in sorted(shares.items(), key=_kind_first) if at == stop)


def _kind_first(item: tuple[Valve, tuple[float, float]]) -> tuple[int, int]:
    return KINDS.index(item[0].kind), item[0].cylinder


def _run_valve_stops(
    *,
    firing_order: str,
    ivo_deg: float,
    ivc_deg: float,
    evo_deg: float,
    evc_deg: float,
    margin_deg: float = USUAL_MARGIN_DEG,
    step_deg: int | None = None,
    ascii_only: bool = False,
) -> Worked:
    order = parse_order(firing_order)
    cam = CamEvents(ivo_deg, ivc_deg, evo_deg, evc_deg)
    stops = fewest_stops(cam, order, margin_deg, candidate_stops(len(order), step_deg))
    shares = shared_out(cam, order, stops)
    least = min(hand for _, hand in shares.values())
    results = [
        Result(
            "stops_deg", "crank positions", stops, "deg_crank", ", ".join(f"{trimmed(s, 2)}°" for s in stops)
        )
    ]
    steps = []
    for number, stop in enumerate(stops, start=1):
        valves = _stop_texts(shares, stop)
        results.append(Result(f"stop_{number}", f"set at stop {number}", valves, "", " ".join(valves)))
        steps.append(f"stop {number}, {where_words(order, stop)}: set {' '.join(valves)}")
    results.append(
        Result("least_in_hand_deg", "least distance from moving", least, "deg_crank", f"{figure(least, 0)}°")
    )
    wrong = _without_margin(cam, order, stops[0], margin_deg)
    results.append(Result("kept_out", "kept out of stop 1 by the margin", wrong, "", wrong or "none"))
    steps.append(f"margin {trimmed(margin_deg, 1)}°: {WHY_MARGIN}")
    if wrong:
        steps.append(f"with no margin stop 1 would wrongly take in {wrong}")
    return Worked(
        results=tuple(results),
        steps=tuple(steps),
        cautions=("The handbook's own chart comes first. Feel that the valve is loose before setting it.",),
        verdict=f"{len(stops)} stops" if len(stops) > 1 else "1 stop",
        picture=stops_picture(shares, ascii_only=ascii_only),
    )


VALVE_STOPS = Working(
    name="valve-stops",
    title="Fewest stops to set all valves",
    subject="valves",
    inputs=(
        Input("firing_order", "Firing order", "text", help="1-3-4-2"),
        *CAM_INPUTS,
        Input(
            "margin_deg",
            "Keep away from opening and closing by",
            quantity="crank angle",
            unit="deg_crank",
            low=LEAST_MARGIN_DEG,
            high=MOST_MARGIN_DEG,
            default=USUAL_MARGIN_DEG,
            required=False,
            help="never 0: " + WHY_MARGIN,
        ),
        Input(
            "step_deg",
            "Degree wheel reads every",
            "whole",
            quantity="crank angle",
            unit="deg_crank",
            low=1,
            high=120,
            required=False,
            help="left out: only dead centres can be found",
        ),
        PLAIN_CHARACTERS,
    ),
    run=_run_valve_stops,
    source="geometry; charts of TM 5-3895-383-24 p. 6-60; margin: common practice, no source",
    good_for="four-stroke, evenly firing, 2 to 12 cylinders, one cam timing for all, adjustable valve gear",
    cautions=(ENGINE_OFF, "Cam events are those of the camshaft fitted, from its handbook or its card."),
)

WORKINGS = (VALVE_STOPS,)
