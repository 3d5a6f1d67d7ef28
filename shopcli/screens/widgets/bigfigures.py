"""Figures large enough to be read from two steps away with oil on the glasses.

A figure is drawn in blocks: solid strokes keep their shape in poor light where thin line drawing does not. One
drawing of each sign serves every size; half blocks give the rows in between.
"""

from collections.abc import Iterable, Mapping

HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
GAP = 1  # blank dots between two signs

SIGNS: Mapping[str, tuple[str, ...]] = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": (" # ", "## ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", "###", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", "  #", "  #", "  #"),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    ".": (" ", " ", " ", " ", "#"),
    ",": ("  ", "  ", "  ", " #", "# "),
    ":": (" ", "#", " ", "#", " "),
    "-": ("   ", "   ", "###", "   ", "   "),
    "+": ("   ", " # ", "###", " # ", "   "),
    "/": ("  #", "  #", " # ", "#  ", "#  "),
    "–": ("   ", "   ", "###", "   ", "   "),
    " ": (" ", " ", " ", " ", " "),
    # The letters the units of a workshop are made of.
    "a": ("   ", "## ", " ##", "# #", "###"),
    "b": ("#  ", "#  ", "###", "# #", "###"),
    "c": ("   ", "   ", "###", "#  ", "###"),
    "d": ("  #", "  #", "###", "# #", "###"),
    "f": (" ##", " # ", "###", " # ", " # "),
    "h": ("#  ", "#  ", "###", "# #", "# #"),
    "i": ("#", " ", "#", "#", "#"),
    "l": ("#", "#", "#", "#", "#"),
    "m": ("     ", "     ", "#####", "# # #", "# # #"),
    "n": ("   ", "   ", "###", "# #", "# #"),
    "o": ("   ", "   ", "###", "# #", "###"),
    "p": ("   ", "###", "# #", "###", "#  "),
    "r": ("   ", "   ", "###", "#  ", "#  "),
    "s": ("   ", " ##", "## ", " ##", "## "),
    "t": (" # ", "###", " # ", " # ", " ##"),
    "u": ("   ", "   ", "# #", "# #", "###"),
    "A": ("###", "# #", "###", "# #", "# #"),
    "C": ("###", "#  ", "#  ", "#  ", "###"),
    "F": ("###", "#  ", "## ", "#  ", "#  "),
    "L": ("#  ", "#  ", "#  ", "#  ", "###"),
    "N": ("#   #", "##  #", "# # #", "#  ##", "#   #"),
    "V": ("# #", "# #", "# #", "# #", " # "),
    "°": ("###", "# #", "###", "   ", "   "),
    "·": (" ", " ", "#", " ", " "),
    "%": ("# #", "  #", " # ", "#  ", "# #"),
}
ROWS = 5
SMALLEST = 1
LARGEST = 4


def drawable(text: str) -> bool:
    """Whether every sign of the text can be drawn large.

    Examples
    --------
    >>> drawable("0.38–0.43"), drawable("lbf·ft"), drawable("inHg"), drawable("")
    (True, True, False, False)
    """
    return bool(text) and all(sign in SIGNS for sign in text)


def rows_of(size: int) -> int:
    """Return the rows a figure of that size takes.

    Examples
    --------
    >>> [rows_of(size) for size in (1, 2, 3)]
    [3, 5, 8]
    """
    return (ROWS * size + 1) // 2


def width_of(text: str, size: int) -> int:
    """Return the columns a figure of that size takes.

    Examples
    --------
    >>> width_of("16", 1), width_of("16", 2)
    (7, 14)
    """
    dots = sum(len(SIGNS[sign][0]) for sign in text) + GAP * max(0, len(text) - 1)
    return dots * size


def big(text: str, size: int) -> list[str]:
    r"""Draw a figure.

    Parameters
    ----------
    text : str
        Signs that are `drawable`.
    size : int
        1 to 4: three, five, eight or ten rows high.

    Returns
    -------
    list of str
        Rows of equal width.

    Examples
    --------
    >>> print("\n".join(big("16", 1)))
    ▄█  █▀▀
     █  █▀█
    ▀▀▀ ▀▀▀
    """
    dots = [" ".join(SIGNS[sign][row] for sign in text) for row in range(ROWS)]
    tall = [line for line in dots for _ in range(size)]
    if len(tall) % 2:
        tall.append(" " * len(dots[0]))
    return [_row(upper, lower, size) for upper, lower in zip(tall[::2], tall[1::2], strict=True)]


def _row(upper: str, lower: str, size: int) -> str:
    pairs: Iterable[tuple[bool, bool]] = zip(
        (c == "#" for c in upper), (c == "#" for c in lower), strict=True
    )
    return "".join(HALVES[pair] * size for pair in pairs)
