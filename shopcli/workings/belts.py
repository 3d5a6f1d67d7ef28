"""V-belts: length, slack by the thumb, and how many spacers of a split pulley to move which way."""

from dataclasses import dataclass

from shopcli.errors import OutOfRange
from shopcli.workings.belt_geometry import (
    belt_length_handbook_mm,
    belt_length_mm,
    deflection_for_path_mm,
    path_change_mm,
    rule_deflection,
    slack_path_mm,
    span_mm,
    split_radius_mm,
)
from shopcli.workings.frame import Input, Worked, Working
from shopcli.workings.say import above_zero, figure, within
from shopcli.workings.telling import MM_PER_INCH, inch_words, result, say, words

MOST_SPACERS = 12
_BELT_CAUTION = "Engine off, key out: a belt takes fingers with it. An electric fan may start by itself."


@dataclass(frozen=True, slots=True)
class Move:
    """Spacers to take from between the halves (negative: to put back), and the deflection to expect."""

    spacers: int
    deflection_mm: float


def deflection_after(
    *,
    moved: int,
    spacer_mm: float,
    split_mm: float,
    other_mm: float,
    centres_mm: float,
    deflection_mm: float,
    groove_deg: float = 36.0,
) -> float:
    """Deflection to expect after spacers were moved from between the halves of a split pulley.

    Parameters
    ----------
    moved : int
        Spacers taken from between the halves, negative when put between, -12 to 12, [-]
    spacer_mm : float
        Thickness of one spacer, up to 3, [mm]
    split_mm, other_mm : float
        Diameters where the belt runs on the split and on the other pulley, [mm]
    centres_mm : float
        Distance of the shafts, [mm]
    deflection_mm : float
        Deflection now in the middle of the free span, [mm]
    groove_deg : float, optional
        Included angle of the groove, [deg]

    Returns
    -------
    float
        Deflection to expect, [mm]

    Raises
    ------
    OutOfRange
        If a figure is out of range, or the belt would be tighter than straight.

    Notes
    -----
    Geometry of a belt that does not stretch: good for choosing the number, to be measured afterwards.

    Examples
    --------
    >>> round(deflection_after(moved=1, spacer_mm=0.5, split_mm=70, other_mm=150, centres_mm=300,
    ...                        deflection_mm=25), 1)
    17.1

    References
    ----------
    .. [1] Geometry.
    """
    within("moved", moved, -MOST_SPACERS, MOST_SPACERS)
    above_zero("spacer_mm", spacer_mm, 3, "mm")
    span = span_mm(split_mm, other_mm, centres_mm)
    grown = 2 * split_radius_mm(moved * spacer_mm, groove_deg)
    left = slack_path_mm(span, deflection_mm) - path_change_mm(split_mm, other_mm, centres_mm, grown)
    if left < 0:
        raise OutOfRange("moved", moved, "fewer: the belt would be stretched, not slack")
    return deflection_for_path_mm(span, left)


def best_move(*, wanted_mm: float, between: int, outside: int, **pulleys: float) -> Move:
    """Return the number of spacers to move that comes nearest to a wanted deflection.

    Parameters
    ----------
    wanted_mm : float
        Wanted deflection, [mm]
    between, outside : int
        Spacers between the halves and outside them now, 0 to 12, [-]
    **pulleys : float
        As in `deflection_after`.

    Returns
    -------
    Move
        Nearest, on a tie the slacker.

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> best_move(wanted_mm=16, between=3, outside=2, spacer_mm=0.5, split_mm=70, other_mm=150,
    ...           centres_mm=300, deflection_mm=25).spacers
    1
    """
    within("between", between, 0, MOST_SPACERS)
    within("outside", outside, 0, MOST_SPACERS)
    moves = []
    for moved in range(-outside, between + 1):
        try:
            moves.append(Move(moved, deflection_after(moved=moved, **pulleys)))
        except OutOfRange:
            if moved == 0:
                raise
    return min(moves, key=lambda m: (round(abs(m.deflection_mm - wanted_mm), 6), m.spacers))


def _belt_length(large_mm: float, small_mm: float, centres_mm: float) -> Worked:
    length = belt_length_mm(large_mm, small_mm, centres_mm)
    span = span_mm(large_mm, small_mm, centres_mm)
    steps = (
        f"Pulleys {say(large_mm, 'mm', 1)} and {say(small_mm, 'mm', 1)}.",
        f"Shafts {say(centres_mm, 'mm', 1)} apart.",
        f"Exact path {say(length, 'mm', 1)} ({inch_words(length / MM_PER_INCH)}).",
        f"Handbook formula {say(belt_length_handbook_mm(large_mm, small_mm, centres_mm), 'mm', 1)}.",
        f"Free span {say(span, 'mm', 1)}.",
    )
    results = (
        result("length_mm", "Belt length", length, "mm", decimals=1),
        result("span_mm", "Free span", span, "mm", decimals=1),
    )
    cautions = ("Outside, effective and pitch lengths differ: compare like with like on the belt's marking.",)
    return Worked(results, steps, cautions)


def _belt_deflection(span_length_mm: float, measured_mm: float | None = None) -> Worked:
    wanted = rule_deflection(span_length_mm)
    steps = [f"Span {say(span_length_mm, 'mm', 0)} / 64 = {say(wanted, 'mm', 1)}."]
    verdict = f"About {say(wanted, 'mm', 1)} in the middle of the span, where no handbook gives a figure."
    if measured_mm is not None:
        apart = within("measured_mm", measured_mm, 0, span_length_mm / 5, "mm") - wanted
        steps.append(f"Measured {say(measured_mm, 'mm', 1)}.")
        verdict = f"{say(abs(apart), 'mm', 1)} {'slacker' if apart >= 0 else 'tighter'} than the 1/64 rule."
    cautions = (
        _BELT_CAUTION,
        "A handbook's own figure comes first: it is usually larger and names its force.",
    )
    results = (result("deflection_mm", "Deflection", wanted, "mm", decimals=1),)
    return Worked(results, tuple(steps), cautions, verdict)


def _direction(spacers: int) -> str:
    if spacers == 0:
        return "Leave the spacers as they are."
    count = f"{abs(spacers)} spacer{'s' if abs(spacers) > 1 else ''}"
    if spacers > 0:
        return (
            f"Move {count} from between the halves to the outside: the halves come closer, "
            "the belt rides higher and is tighter."
        )
    return (
        f"Move {count} from the outside to between the halves: the halves part, "
        "the belt sinks and is slacker."
    )


def _split_pulley(
    *,
    split_mm: float,
    other_mm: float,
    centres_mm: float,
    spacer_mm: float,
    deflection_mm: float,
    wanted_mm: float,
    between: int,
    outside: int = 0,
    groove_deg: float = 36.0,
) -> Worked:
    pulleys = {
        "spacer_mm": spacer_mm,
        "split_mm": split_mm,
        "other_mm": other_mm,
        "centres_mm": centres_mm,
        "deflection_mm": deflection_mm,
        "groove_deg": groove_deg,
    }
    span = span_mm(split_mm, other_mm, centres_mm)
    within("wanted_mm", wanted_mm, 0, span / 5, "mm")
    move = best_move(wanted_mm=wanted_mm, between=between, outside=outside, **pulleys)
    rise = split_radius_mm(spacer_mm, groove_deg)
    path = path_change_mm(split_mm, other_mm, centres_mm, 2 * rise)
    words_said = _direction(move.spacers)
    expected = say(move.deflection_mm, "mm", 1)
    steps = (
        f"One spacer: {say(spacer_mm, 'mm', 2)} in a groove of {figure(groove_deg, 0)} deg.",
        f"It lifts the belt {say(rise, 'mm', 2)}, which is {say(path, 'mm', 1)} of belt path.",
        f"Span {say(span, 'mm', 0)}: {say(deflection_mm, 'mm', 1)} now, {say(wanted_mm, 'mm', 1)} wanted.",
        words_said,
        "Keep every spacer on the pulley, so that the nut clamps the same stack.",
        "Turn the engine by hand a few times while tightening, so that the belt is not pinched.",
        f"Expect about {expected}; measure again.",
    )
    cautions = [_BELT_CAUTION]
    if abs(move.deflection_mm - wanted_mm) > max(2.0, wanted_mm / 4):
        cautions.append("With the spacers there are it does not come nearer: look at the belt itself.")
    results = (
        result("spacers", "Spacers to take from between the halves", move.spacers, decimals=0),
        result("expected_mm", "Deflection to expect", move.deflection_mm, "mm", decimals=1),
        words("direction", "What to do", words_said),
    )
    return Worked(results, steps, tuple(cautions), f"{words_said} Expect about {expected}.")


def _diameter(name: str, label: str) -> Input:
    return Input(name, label, "number", "length", "mm", 10, 1000)


_CENTRES = Input("centres_mm", "Distance of the shafts", "number", "length", "mm", 10, 5000)
_NOW = Input("deflection_mm", "Deflection now, middle of the free span", "number", "length", "mm", 0, 200)
_BETWEEN = Input("between", "Spacers between the halves now", "whole", low=0, high=MOST_SPACERS)
_OUTSIDE = Input(
    "outside", "Spacers outside now", "whole", low=0, high=MOST_SPACERS, default=0, required=False
)
_GROOVE = Input(
    "groove_deg", "Included angle of the groove", "number", "angle", "deg", 30, 42, 36.0, required=False
)

WORKINGS: tuple[Working, ...] = (
    Working(
        "belt-length",
        "Belt length and span",
        "belts",
        (_diameter("large_mm", "One pulley"), _diameter("small_mm", "Other pulley"), _CENTRES),
        _belt_length,
        "geometry",
        "an open belt over two pulleys",
    ),
    Working(
        "belt-deflection",
        "Belt deflection by the 1/64 rule",
        "belts",
        (
            Input("span_length_mm", "Free span", "number", "length", "mm", 10, 5000),
            Input("measured_mm", "Measured deflection", "number", "length", "mm", 0, 1000, required=False),
        ),
        _belt_deflection,
        "belt installation guide, 1/64 in per inch of span",
        "V-belts at the belt maker's force; not a handbook's own figure",
        (_BELT_CAUTION,),
    ),
    Working(
        "split-pulley",
        "Split pulley: spacers to move",
        "belts",
        (
            _diameter("split_mm", "Split pulley, where the belt runs"),
            _diameter("other_mm", "Other pulley"),
            _CENTRES,
            Input("spacer_mm", "Thickness of one spacer", "number", "length", "mm", 0.1, 3),
            _NOW,
            Input("wanted_mm", "Wanted deflection", "number", "length", "mm", 0, 200),
            _BETWEEN,
            _OUTSIDE,
            _GROOVE,
        ),
        _split_pulley,
        "geometry; groove 36 degrees SAE J636 (secondary); fewer spacers between: common practice, no source",
        "an estimate for a belt that does not stretch; measure after each move",
        (_BELT_CAUTION,),
    ),
)
