"""Firing orders: what a written order says about which cylinder does what, and when.

How cylinders are numbered, and from which end or bank, is data of the engine and never assumed here.
"""

import re
from typing import Literal

from shopcli.errors import BadInput, OutOfRange

CYCLE_DEG = 720.0
MOST_CYLINDERS = 12

Direction = Literal["forwards", "backwards"]


def parse_order(text: str) -> tuple[int, ...]:
    """Read a firing order as people write it.

    Parameters
    ----------
    text : str
        The order: "1-3-4-2", "1 3 4 2", "1,3,4,2" or "1342".

    Returns
    -------
    tuple of int
        Cylinder numbers in the order they fire, turned so that No. 1 comes first.

    Raises
    ------
    BadInput
        If a number is missing, doubled or not a number, or there are more than 12.

    Notes
    -----
    2 to 12 cylinders, numbered 1 to n. Running the figures together works up to nine cylinders.

    Examples
    --------
    >>> parse_order("1-3-4-2")
    (1, 3, 4, 2)
    >>> parse_order("4321")
    (1, 4, 3, 2)

    References
    ----------
    Definition.
    """
    words = [word for word in re.split(r"[\s,;>/\-–]+", text.strip()) if word]
    if len(words) == 1:
        words = list(words[0])
    if not words or not all(re.fullmatch(r"[0-9]{1,2}", word) for word in words):
        raise BadInput(f"cannot read {text!r} as a firing order", hint="write it like 1-3-4-2")
    order = [int(word) for word in words]
    if len(order) == 1 or len(order) > MOST_CYLINDERS:
        raise BadInput(f"a firing order of {len(order)} cylinders", hint=f"2 to {MOST_CYLINDERS} cylinders")
    missing = sorted(set(range(1, len(order) + 1)) - set(order))
    if missing:
        raise BadInput(
            f"firing order {text!r} has {len(order)} places but no No. {missing[0]}",
            hint="every cylinder from 1 on must stand in it once",
        )
    first = order.index(1)
    return tuple(order[first:] + order[:first])


def order_text(order: tuple[int, ...]) -> str:
    """Text of a firing order.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order.

    Returns
    -------
    str
        "1-3-4-2".

    Examples
    --------
    >>> order_text((1, 3, 4, 2))
    '1-3-4-2'
    """
    return "-".join(str(cylinder) for cylinder in order)


def spark_interval_deg(cylinders: int, *, strokes: int = 4) -> float:
    """Crank angle between one firing and the next, evenly firing engine.

    Parameters
    ----------
    cylinders : int
        Number of cylinders, 1 to 12, [-]
    strokes : int, optional
        4 or 2, [-]

    Returns
    -------
    float
        Interval, [crank deg]

    Raises
    ------
    OutOfRange
        If the engine has no cylinders or more than 12, or other than 2 or 4 strokes.

    Notes
    -----
    Even firing only: narrow vees and some twins fire at uneven intervals.

    Examples
    --------
    >>> spark_interval_deg(6), spark_interval_deg(4), spark_interval_deg(2, strokes=2)
    (120.0, 180.0, 180.0)

    References
    ----------
    Geometry.
    """
    if not 1 <= cylinders <= MOST_CYLINDERS:
        raise OutOfRange("cylinders", cylinders, f"1 to {MOST_CYLINDERS}")
    if strokes not in (2, 4):
        raise OutOfRange("strokes", strokes, "2 or 4")
    return 180.0 * strokes / cylinders


def firing_angle_deg(order: tuple[int, ...], cylinder: int) -> float:
    """Crank angle at which a cylinder fires, counted from the firing of the first in the order.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order, four-stroke, even firing.
    cylinder : int
        Which one.

    Returns
    -------
    float
        Angle, 0 to below 720, [crank deg]

    Raises
    ------
    BadInput
        If there is no such cylinder.

    Examples
    --------
    >>> firing_angle_deg((1, 3, 4, 2), 4)
    360.0

    References
    ----------
    Geometry.
    """
    if cylinder not in order:
        raise BadInput(f"no cylinder {cylinder} in firing order {order_text(order)}")
    return order.index(cylinder) * CYCLE_DEG / len(order)


def companions(order: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    """Pairs of cylinders that come to the top together, one firing while the other rocks.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order, an even number of them.

    Returns
    -------
    tuple of pairs
        Each pair once, in firing order.

    Raises
    ------
    OutOfRange
        If the number of cylinders is odd: no cylinder is then 360 degrees away.

    Examples
    --------
    >>> companions((1, 5, 3, 6, 2, 4))
    ((1, 6), (5, 2), (3, 4))

    References
    ----------
    Geometry; No. 6 on its exhaust stroke's top while No. 1 is on compression: TM 5-6115-400-12.
    """
    if len(order) % 2:
        raise OutOfRange(
            "cylinders", len(order), "an even number", hint="with an odd number no two come up together"
        )
    half = len(order) // 2
    return tuple((order[place], order[place + half]) for place in range(half))


def companion_of(order: tuple[int, ...], cylinder: int) -> int:
    """Companion of one cylinder.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order, an even number of them.
    cylinder : int
        Which one.

    Returns
    -------
    int
        The cylinder that rocks while this one is on its firing stroke's top.

    Raises
    ------
    BadInput
        If there is no such cylinder.
    OutOfRange
        If the number of cylinders is odd.

    Examples
    --------
    >>> companion_of((1, 3, 4, 2), 4)
    1

    References
    ----------
    Geometry; "when No. 4 rocks, set No. 1": rule read in TM 10-3930-671-24.
    """
    firing_angle_deg(order, cylinder)
    for one, other in companions(order):
        if cylinder in (one, other):
            return other if cylinder == one else one
    raise BadInput(f"no companion for cylinder {cylinder}")  # pragma: no cover - companions() covers all


def turned_sequence(order: tuple[int, ...], direction: Direction, start: int = 1) -> tuple[int, ...]:
    """Cylinders as they come up to firing top dead centre while the crank is turned by hand.

    Parameters
    ----------
    order : tuple of int
        Cylinder numbers in firing order.
    direction : {"forwards", "backwards"}
        Way the crank is turned, against the way it runs.
    start : int, optional
        Cylinder at firing top dead centre now.

    Returns
    -------
    tuple of int
        All cylinders, `start` first.

    Raises
    ------
    BadInput
        If there is no such cylinder.

    Examples
    --------
    >>> turned_sequence((1, 4, 3, 2), "backwards")
    (1, 2, 3, 4)

    References
    ----------
    Geometry.
    """
    firing_angle_deg(order, start)
    way = order if direction == "forwards" else (order[0], *order[:0:-1])
    place = way.index(start)
    return way[place:] + way[:place]
