"""Lead order: which tower of the distributor cap feeds which cylinder, drawn as it is seen from above.

The rotor meets the towers in firing order, so the order is read in the direction the rotor turns.
"""

import math
from typing import Literal

from shopcli.errors import BadInput
from shopcli.workings.banks import neighbours, parse_banks
from shopcli.workings.firing import order_text, parse_order
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import PLAIN_CHARACTERS, listed, plain_picture, trimmed, within

Rotor = Literal["cw", "ccw"]
ROTORS = ("cw", "ccw")
_WORDS = {"cw": "clockwise", "ccw": "anticlockwise"}
_SMALL = (18, 6)
_LARGE = (30, 10)
_MOST_IN_SMALL = 8


def towers_clockwise(order: tuple[int, ...], rotor: Rotor) -> tuple[int, ...]:
    """Cylinders fed by the towers, read clockwise from the tower of the first in the order.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order.
    rotor : {"cw", "ccw"}
        Way the rotor turns, seen from above the cap.

    Returns
    -------
    tuple of int
        One cylinder for each tower.

    Raises
    ------
    BadInput
        If the direction is neither.

    Examples
    --------
    >>> towers_clockwise((1, 3, 4, 2), "cw"), towers_clockwise((1, 3, 4, 2), "ccw")
    ((1, 3, 4, 2), (1, 2, 4, 3))

    References
    ----------
    Geometry.
    """
    if rotor not in ROTORS:
        raise BadInput(f"rotor turns {rotor!r}?", hint="cw or ccw, seen from above the cap")
    return order if rotor == "cw" else (order[0], *order[:0:-1])


def tower_angles_deg(towers: int, no1_clock: float) -> tuple[float, ...]:
    """Where the towers stand, clockwise from twelve o'clock, No. 1 first.

    Parameters
    ----------
    towers : int
        How many, evenly spaced, [-]
    no1_clock : float
        Where the tower of No. 1 stands on a clock face, 0 to 12, [h]

    Returns
    -------
    tuple of float
        Angles, 0 to below 360, [deg]

    Raises
    ------
    OutOfRange
        If the hour is not on the clock.

    Notes
    -----
    Even spacing: caps of unevenly firing engines have it otherwise.

    Examples
    --------
    >>> tower_angles_deg(4, 3.0)
    (90.0, 180.0, 270.0, 0.0)

    References
    ----------
    Geometry.
    """
    start = 30.0 * within("No. 1 tower", no1_clock, 0.0, 12.0, "o'clock")
    return tuple((start + place * 360.0 / towers) % 360.0 for place in range(towers))


def crossfire_pairs(
    order: tuple[int, ...], banks: tuple[tuple[int, ...], ...]
) -> tuple[tuple[int, int], ...]:
    """Cylinders next to each other in one bank that fire one after the other.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order.
    banks : tuple of tuple of int
        Cylinders of each bank from one end to the other.

    Returns
    -------
    tuple of pairs
        In firing order.

    Examples
    --------
    >>> crossfire_pairs((1, 8, 4, 3, 6, 5, 7, 2), ((1, 3, 5, 7), (2, 4, 6, 8)))
    ((5, 7),)

    References
    ----------
    Leads of such a pair must not lie side by side: TM 5-4210-230-14&P-1.
    """
    beside = neighbours(banks)
    following = zip(order, (*order[1:], order[0]), strict=True)
    return tuple((one, other) for one, other in following if frozenset((one, other)) in beside)


def _write(canvas: list[list[str]], row: int, column: int, text: str) -> None:
    for offset, character in enumerate(text):
        canvas[row][column + offset] = character


def cap_picture(
    order: tuple[int, ...], rotor: Rotor, no1_clock: float = 12.0, *, ascii_only: bool = False
) -> str:
    """Cap seen from above, each tower with its cylinder, No. 1 in a double frame.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order.
    rotor : {"cw", "ccw"}
        Way the rotor turns, seen from above the cap.
    no1_clock : float, optional
        Where the tower of No. 1 stands on a clock face, 0 to 12, [h]
    ascii_only : bool, optional
        Draw with plain keyboard characters.

    Returns
    -------
    str
        Lines of at most 80 columns.

    Examples
    --------
    >>> print(cap_picture((1, 2), "cw", 9.0, ascii_only=True))
                      --->
    +===+                               +---+
    | 1 |        rotor clockwise        | 2 |
    +===+                               +---+
                      <---
    """
    across, down = _SMALL if len(order) <= _MOST_IN_SMALL else _LARGE
    canvas = [[" "] * (2 * across + 5) for _ in range(2 * down + 3)]
    middle_x, middle_y = across + 2, down + 1
    towers = towers_clockwise(order, rotor)
    for cylinder, angle in zip(towers, tower_angles_deg(len(order), no1_clock), strict=True):
        column = middle_x + round(across * math.sin(math.radians(angle))) - 2
        row = middle_y - round(down * math.cos(math.radians(angle)))
        top, side, bottom = ("╔═══╗", "║", "╚═══╝") if cylinder == 1 else ("╭───╮", "│", "╰───╯")
        _write(canvas, row - 1, column, top)
        _write(canvas, row, column, f"{side}{cylinder:^3}{side}")
        _write(canvas, row + 1, column, bottom)
    above, below = ("───→", "←───") if rotor == "cw" else ("←───", "───→")
    words = "rotor " + _WORDS[rotor]
    _write(canvas, middle_y - 2, middle_x - 2, above)
    _write(canvas, middle_y, middle_x - len(words) // 2, words)
    _write(canvas, middle_y + 2, middle_x - 2, below)
    lines = ["".join(row).rstrip() for row in canvas]
    drawn = "\n".join(lines).strip("\n")
    return plain_picture(drawn) if ascii_only else drawn


def _run_lead_order(
    *,
    firing_order: str,
    rotor: Rotor,
    no1_clock: float = 12.0,
    banks: str | None = None,
    ascii_only: bool = False,
) -> Worked:
    order = parse_order(firing_order)
    clockwise = towers_clockwise(order, rotor)
    anticlockwise = (clockwise[0], *clockwise[:0:-1])
    cautions = [
        "Seen from above the cap. Check with No. 1 on compression that the rotor points at its tower."
    ]
    results = [
        Result("clockwise", "towers clockwise from No. 1", clockwise, "", order_text(clockwise)),
        Result("anticlockwise", "anticlockwise from No. 1", anticlockwise, "", order_text(anticlockwise)),
    ]
    if banks is not None:
        pairs = crossfire_pairs(order, parse_banks(banks, len(order)))
        names = tuple(f"{one} and {other}" for one, other in pairs)
        results.append(Result("keep_apart", "leads to keep apart", names, "", "; ".join(names) or "none"))
        if names:
            cautions.append(
                f"Keep the leads of {listed(names)} apart: neighbours that fire in turn crossfire."
            )
    return Worked(
        results=tuple(results),
        steps=(
            f"the rotor meets the towers in firing order {order_text(order)}",
            f"it turns {_WORDS[rotor]}, so clockwise from No. 1 the towers are {order_text(clockwise)}",
            f"No. 1 stands at {trimmed(no1_clock, 1)} o'clock",
        ),
        cautions=tuple(cautions),
        picture=cap_picture(order, rotor, no1_clock, ascii_only=ascii_only),
    )


LEAD_ORDER = Working(
    name="lead-order",
    title="Lead order round the cap",
    subject="ignition",
    inputs=(
        Input("firing_order", "Firing order", "text", help="1-3-4-2"),
        Input("rotor", "Rotor turns, seen from above", "choice", choices=ROTORS, help="cw = clockwise"),
        Input(
            "no1_clock",
            "Tower of No. 1 at (o'clock)",
            low=0.0,
            high=12.0,
            default=12.0,
            required=False,
        ),
        Input(
            "banks",
            "Cylinders as they stand",
            "text",
            required=False,
            help="1-2-3-4, or 1-3-5-7/2-4-6-8: finds leads to keep apart",
        ),
        PLAIN_CHARACTERS,
    ),
    run=_run_lead_order,
    source="geometry; leads to keep apart: TM 5-4210-230-14&P-1",
    good_for="one cap with evenly spaced towers, 2 to 12 cylinders",
    cautions=(
        "Ignition off before a lead is touched: the coil's high tension.",
        "How the cylinders are numbered, and from which end, is the handbook's word.",
    ),
)

WORKINGS = (LEAD_ORDER,)
