"""Widths across flats: which head sits on which thread, and what the spanner for it is called.

Metric heads changed once (M10, M12, M14, M22), Unified nut and bolt differ in places, and Whitworth spanners
carry the size of the thread: all are kept apart instead of averaged.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from shopcli.errors import BadInput, NotFound
from shopcli.workings.say import trimmed, within
from shopcli.workings.telling import MM_PER_INCH, inch_words
from shopcli.workings.thread_forms import MAX_BA, ba_sizes_mm
from shopcli.workings.thread_table import Thread

# Metric: thread -> (older DIN 931/934 width, ISO 4014/4032 width), [mm]
METRIC_HEX: dict[float, tuple[float, float]] = {
    3: (5.5, 5.5), 4: (7, 7), 5: (8, 8), 6: (10, 10), 8: (13, 13), 10: (17, 16), 12: (19, 18), 14: (22, 21),
    16: (24, 24), 18: (27, 27), 20: (30, 30), 22: (32, 34), 24: (36, 36),
}  # fmt: skip
# Unified: thread -> (bolt head, nut), [in]
UNIFIED_HEX: dict[str, tuple[str, str]] = {
    "1/4": ("7/16", "7/16"), "5/16": ("1/2", "1/2"), "3/8": ("9/16", "9/16"), "7/16": ("5/8", "11/16"),
    "1/2": ("3/4", "3/4"), "9/16": ("13/16", "7/8"), "5/8": ("15/16", "15/16"), "3/4": ("1 1/8", "1 1/8"),
    "7/8": ("1 5/16", "1 5/16"), "1": ("1 1/2", "1 1/2"),
}  # fmt: skip
# Whitworth: spanner marked W (the large hexagon) -> jaw, [in]; marked BS it is the next thread size up.
# 1/8 is from memory.
WHITWORTH_JAW: dict[str, float] = {
    "1/8": 0.338, "3/16": 0.445, "1/4": 0.525, "5/16": 0.600, "3/8": 0.710, "7/16": 0.820, "1/2": 0.920,
    "9/16": 1.010, "5/8": 1.100, "11/16": 1.200, "3/4": 1.300, "7/8": 1.480, "1": 1.670,
}  # fmt: skip
# The small hexagon by thread (BSF, and BSW since the war), [in]
SMALL_HEX: dict[str, float] = {
    "1/4": 0.445, "5/16": 0.525, "3/8": 0.600, "7/16": 0.710, "1/2": 0.820, "9/16": 0.920, "5/8": 1.010,
    "11/16": 1.100, "3/4": 1.200, "7/8": 1.300, "1": 1.480,
}  # fmt: skip
_SPANNERS_MM = (5.5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 21, 22, 24, 27, 30, 32, 34, 36)
_SPANNERS_SIXTEENTHS = range(4, 25)
_LONGEST = 40
SOURCE = (
    "DIN 931, ISO 4014, BS 1768 Table 1, ASME B18.2.2, BS 1083 Table 1 and a Whitworth spanner list; "
    "BA spanner 1.75 x diameter (all from secondary tables)"
)


@dataclass(frozen=True, slots=True)
class Spanner:
    """A spanner by its marking and the nominal width of its jaw."""

    marking: str
    system: str
    width_mm: float


@dataclass(frozen=True, slots=True)
class Hexagon:
    """A head or nut that may sit on a thread, with the spanner for it."""

    what: str
    width_mm: float
    spanner: str


def inches(text: str) -> float:
    """Return a workshop fraction as a number.

    Examples
    --------
    >>> inches("1 1/8"), inches("1-1/8"), inches("7/16")
    (1.125, 1.125, 0.4375)
    """
    return float(sum((Fraction(part) for part in re.split(r"[ -]", text)), Fraction(0)))


def ba_jaw_mm(number: int) -> float:
    """Spanner jaw of a BA size: 1.75 times the thread diameter [1]_.

    Parameters
    ----------
    number : int
        BA number, 0 to 16.

    Returns
    -------
    float
        Jaw, [mm]

    Raises
    ------
    OutOfRange
        If the number is outside 0 to 16.

    Examples
    --------
    >>> ba_jaw_mm(0), round(ba_jaw_mm(2) / 25.4, 3)
    (10.5, 0.324)

    References
    ----------
    .. [1] Encyclopedia article on British Association threads; 0BA takes 10.5 mm (second page).
    """
    return 1.75 * ba_sizes_mm(int(within("BA number", number, 0, MAX_BA)))[1]


@cache
def spanners() -> tuple[Spanner, ...]:
    """Every spanner of the four systems, by marking.

    Examples
    --------
    >>> [s.marking for s in spanners() if s.system == "Whitworth"][3]
    '5/16 W, 3/8 BS'
    """
    metric = [Spanner(f"{trimmed(mm)} mm", "metric", float(mm)) for mm in _SPANNERS_MM]
    sixteenths = [Fraction(n, 16) for n in _SPANNERS_SIXTEENTHS]
    flats = [Spanner(f"{inch_words(float(f))} AF", "AF", float(f) * MM_PER_INCH) for f in sixteenths]
    by_width = {width: size for size, width in SMALL_HEX.items()}
    whitworth = []
    for size, width in WHITWORTH_JAW.items():
        marking = f"{size} W" + (f", {by_width[width]} BS" if width in by_width else "")
        whitworth.append(Spanner(marking, "Whitworth", width * MM_PER_INCH))
    return (*metric, *flats, *whitworth, *(Spanner(f"{n} BA", "BA", ba_jaw_mm(n)) for n in range(13)))


def hexagons(thread: Thread) -> tuple[Hexagon, ...]:
    """Heads and nuts that sit on a thread.

    Parameters
    ----------
    thread : Thread
        The thread.

    Returns
    -------
    tuple of Hexagon
        What it may be, its width [mm] and the spanner.

    Raises
    ------
    NotFound
        If no head size is on file for the thread.

    Notes
    -----
    Ordinary heads and nuts; flanged, reduced and castle nuts differ.

    Examples
    --------
    >>> from shopcli.workings.thread_table import find
    >>> [(h.what, h.spanner) for h in hexagons(find("M10"))]
    [('older DIN head', '17 mm'), ('ISO head', '16 mm')]
    """
    size = thread.name.split("-")[0]
    if thread.family == "metric" and thread.major_mm in METRIC_HEX:
        old, new = METRIC_HEX[thread.major_mm]
        if old == new:
            return (Hexagon("head and nut", float(new), f"{trimmed(new)} mm"),)
        return (
            Hexagon("older DIN head", float(old), f"{trimmed(old)} mm"),
            Hexagon("ISO head", float(new), f"{trimmed(new)} mm"),
        )
    if thread.family == "Unified" and size in UNIFIED_HEX:
        bolt, nut = (inches(text) for text in UNIFIED_HEX[size])
        if bolt == nut:
            return (Hexagon("head and nut", bolt * MM_PER_INCH, f"{inch_words(bolt)} AF"),)
        return (
            Hexagon("bolt head", bolt * MM_PER_INCH, f"{inch_words(bolt)} AF"),
            Hexagon("nut", nut * MM_PER_INCH, f"{inch_words(nut)} AF"),
        )
    if thread.family == "BA":
        jaw = ba_jaw_mm(int(thread.name.removesuffix("BA")))
        return (Hexagon("head and nut", jaw, f"{thread.name} spanner"),)
    found = []
    if thread.series == "BSW" and size in WHITWORTH_JAW:
        width = WHITWORTH_JAW[size] * MM_PER_INCH
        found.append(Hexagon("large (pre-war) hexagon", width, f"{size} W spanner"))
    if thread.family == "Whitworth" and size in SMALL_HEX:
        width = SMALL_HEX[size] * MM_PER_INCH
        found.append(Hexagon("small hexagon", width, f"{size} BS spanner"))
    if not found:
        raise NotFound(f"no head size on file for {thread.name}", hint="Measure it and use spanner-near-fit.")
    return tuple(found)


def width_of(text: str) -> tuple[str, float]:
    """Width of a head named by its spanner: ``13 mm``, ``1/2 AF``, ``1/4 W``, ``5/16 BS``, ``2 BA``.

    Parameters
    ----------
    text : str
        Marking.

    Returns
    -------
    tuple of str and float
        Tidy marking and width, [mm]

    Raises
    ------
    BadInput
        If the marking cannot be read.
    NotFound
        If there is no such size.
    OutOfRange
        If a width in mm or inches is not between 2 and 50 mm.

    Examples
    --------
    >>> width_of("1/4W"), width_of("1/2 AF")
    (('1/4 W', 13.335), ('1/2 in AF', 12.7))
    """
    tidy = text.strip().upper()[: _LONGEST + 1].replace(",", ".")
    if match := re.fullmatch(r"(\d+(?:\.\d+)?) ?(?:MM)?", tidy):
        width = within("width", float(match[1]), 2, 50, "mm")
        return f"{trimmed(width)} mm", width
    if match := re.fullmatch(r"((?:\d+[ -])?\d+(?:/(?:2|4|8|16|32|64))?) ?(?:IN)? ?(?:AF|\")", tidy):
        width = within("width", inches(match[1]) * MM_PER_INCH, 2, 50, "mm")
        return f"{inch_words(width / MM_PER_INCH)} AF", width
    if match := re.fullmatch(r"(\d+(?:/\d+)?) ?(W|BSW|BS|BSF)", tidy):
        jaws = WHITWORTH_JAW if match[2] in {"W", "BSW"} else SMALL_HEX
        if match[1] not in jaws:
            raise NotFound(f"no spanner {text!r}", hint="Sizes: " + ", ".join(jaws))
        return f"{match[1]} {match[2]}", round(jaws[match[1]] * MM_PER_INCH, 4)
    if match := re.fullmatch(r"(\d{1,2}) ?BA", tidy):
        return f"{match[1]} BA", ba_jaw_mm(int(match[1]))
    raise BadInput(
        f"cannot read {text[:_LONGEST]!r} as a spanner", hint="Write 13 mm, 1/2 AF, 1/4 W, 5/16 BS or 2 BA."
    )
