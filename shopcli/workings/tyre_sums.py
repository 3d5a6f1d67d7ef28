"""Tyre sizes as they stand on the wall, and what they roll."""

import math
import re
from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.workings.say import within
from shopcli.workings.telling import MM_PER_INCH

ROLLING = 0.965  # loaded tyre to free tyre, 0.96 to 0.97: common practice, no source
RADIAL_WITHOUT_RATIO = 82.0
CROSS_PLY_RATIOS = (88.0, 100.0)
_LONGEST = 30


@dataclass(frozen=True, slots=True)
class Tyre:
    """A tyre size: width [mm], height as a part of it [%], rim [in], and how the height was known."""

    width_mm: float
    ratio_percent: float
    rim_in: float
    note: str


def read_tyre(text: str, ratio_percent: float | None = None) -> Tyre:
    """Read a tyre size: ``165/80R13``, ``155R15``, ``5.60-15``.

    Parameters
    ----------
    text : str
        Size on the wall.
    ratio_percent : float, optional
        Height in parts of the width, 25 to 105, where the size does not say it, [%]

    Returns
    -------
    Tyre
        The size read.

    Raises
    ------
    BadInput
        If it cannot be read, or a cross-ply comes without its ratio.
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    Radials without a ratio count 82 % (common practice); cross-plies lie between 88 and 100 % and are not
    guessed.

    Examples
    --------
    >>> read_tyre("155 R 15").ratio_percent, read_tyre("165/80SR13").rim_in
    (82.0, 13.0)
    """
    tidy = re.sub(r"\s+", "", text.upper())[: _LONGEST + 1].replace(",", ".")
    if match := re.fullmatch(r"(\d{3})(?:/(\d{2}))?[STHVW]?R(\d{2})(?:C|[0-9]{2,3}[STHVQ])?", tidy):
        width, note = float(match[1]), "height as written on the tyre"
        ratio = float(match[2]) if match[2] else ratio_percent
        if ratio is None:
            ratio, note = RADIAL_WITHOUT_RATIO, "no height written: 82 % assumed, common practice, no source"
        elif not match[2]:
            note = "height as given"
    elif match := re.fullmatch(r"(\d{1,2}(?:\.\d{1,2})?)[-X](\d{2})", tidy):
        if ratio_percent is None:
            low, high = CROSS_PLY_RATIOS
            raise BadInput(
                "a cross-ply size does not say how high the tyre is",
                hint=f"Give its height, {low:.0f} to {high:.0f} % of the width, or measure it.",
            )
        width, ratio, note = float(match[1]) * MM_PER_INCH, ratio_percent, "cross-ply, height as given"
    else:
        raise BadInput(
            f"cannot read the tyre {text[:_LONGEST]!r}", hint="Write 165/80R13, 155R15 or 5.60-15."
        )
    within("tyre width", width, 80, 400, "mm")
    within("tyre height", ratio, 25, 105, "%")
    return Tyre(width, ratio, within("rim", float(match[match.lastindex or 1]), 8, 30, "in"), note)


def tyre_diameter_mm(width_mm: float, ratio_percent: float, rim_in: float) -> float:
    """Diameter of a free tyre by its size.

    Parameters
    ----------
    width_mm : float
        Width, 80 to 400, [mm]
    ratio_percent : float
        Height in parts of the width, 25 to 105, [%]
    rim_in : float
        Rim, 8 to 30, [in]

    Returns
    -------
    float
        Diameter, [mm]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> round(tyre_diameter_mm(165, 80, 13), 1)
    594.2

    References
    ----------
    .. [1] Definition of the marking.
    """
    within("width_mm", width_mm, 80, 400, "mm")
    within("ratio_percent", ratio_percent, 25, 105, "%")
    within("rim_in", rim_in, 8, 30, "in")
    return rim_in * MM_PER_INCH + 2 * width_mm * ratio_percent / 100


def rolling_mm(diameter_mm: float, rolling: float = ROLLING) -> float:
    """Way a tyre under load rolls in one turn.

    Parameters
    ----------
    diameter_mm : float
        Free diameter, 200 to 1500, [mm]
    rolling : float, optional
        Part of the free circumference, 0.94 to 1.00, [-]

    Returns
    -------
    float
        Way in one turn, [mm]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> round(rolling_mm(594.2))
    1801

    References
    ----------
    .. [1] 0.96 to 0.97: common practice, no source. Better: roll the car one turn and measure.
    """
    within("diameter_mm", diameter_mm, 200, 1500, "mm")
    return math.pi * diameter_mm * within("rolling", rolling, 0.94, 1.0)
