"""Limits drawn as a scale, with readings hung beneath it, so that how far off is seen before a figure is read.

The band that is in limits is a heavy line between two ticks, what lies outside a broken one: it shows without
colour. The scale stays where it is whatever is read; a reading that lies further out stands at its edge.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shopcli.columns import cut, display_width

LEAST_WIDTH = 24
ROOM_FOR_WORDS = 40
NARROW, WIDE = 0.75, 2.0  # margin on each side of the band, in widths of the band
SHARE = 0.35  # margin wished for, as a share of the figure itself
ALONE = 0.6  # reach of a scale with one end, as a share of the figure
ASCII = str.maketrans({"━": "=", "┄": ".", "├": "|", "┤": "|", "┿": "+", "▲": "^", "◀": "<", "▶": ">"})


@dataclass(frozen=True, slots=True)
class Hung:
    """A reading to hang beneath the scale: its value, [unit of the scale], and what is written beside it.

    `beyond` is written instead where the value lies off the scale; `tag` is the caller's own.
    """

    value: float
    words: str
    beyond: str = ""
    tag: str = ""


@dataclass(frozen=True, slots=True)
class Labels:
    """What is written at the ticks; the unit stands behind the last one."""

    low: str = ""
    aim: str = ""
    high: str = ""
    unit: str = ""


Piece = tuple[str, str]  # text and the tag of the reading it belongs to, empty for the scale itself
Row = tuple[Piece, ...]


def reach(low: float | None, aim: float | None, high: float | None) -> tuple[float, float]:
    """Return the ends of the scale: the band in the middle, room on both sides.

    Parameters
    ----------
    low, aim, high : float or None
        Limits, at least one of `low` and `high`, rising, [any unit, the same]

    Returns
    -------
    tuple of float
        Left and right end; a scale of nothing but figures above zero does not reach below zero, [the same]

    Notes
    -----
    How much room is a matter of looks: common practice, no source.

    Examples
    --------
    >>> reach(4.0, 6.0, 8.0), reach(10.0, None, None), reach(None, None, 10.0)
    ((1.0, 11.0), (4.0, 16.0), (0.0, 16.0))
    """
    if low is not None and high is not None:
        span = (high - low) or abs(high) or 1.0
        largest = max(abs(low), abs(high), abs(aim or 0.0))
        margin = min(max(SHARE * largest, NARROW * span), WIDE * span)
        left, right = low - margin, high + margin
        return (max(0.0, left) if low > 0 else left), right
    one = low if low is not None else high
    if one is None:
        raise ValueError("a scale needs a low or a high limit")
    margin = ALONE * abs(one) or 1.0
    if low is None:
        return (0.0 if one > 0 else one - margin), one + margin
    return (max(0.0, one - margin) if one > 0 else one - margin), one + margin


def scale_rows(
    low: float | None,
    aim: float | None,
    high: float | None,
    labels: Labels,
    hung: Sequence[Hung] = (),
    *,
    width: int,
    ascii_only: bool = False,
) -> list[Row]:
    r"""Draw a scale and the readings beneath it.

    Parameters
    ----------
    low, aim, high : float or None
        Limits, at least one of `low` and `high`, rising, [any unit, the same]
    labels : Labels
        What is written at the ticks.
    hung : sequence of Hung, optional
        Readings, those named first nearest to the scale.
    width : int
        Room there is, [columns]
    ascii_only : bool, optional
        Draw with plain keyboard characters.

    Returns
    -------
    list of Row
        The scale in one row, the readings in as few as they need; nothing where there is no room for a scale.

    Examples
    --------
    >>> rows = scale_rows(4, 6, 8, Labels("4", "6", "8", "thou"), [Hung(3, "found 3")], width=44, ascii_only=True)
    >>> print("\n".join("".join(text for text, _ in row).rstrip() for row in rows))
    low ...... 4 |======= 6 ======| 8 thou  high
             ^ found 3
    """
    if width < LEAST_WIDTH:
        return []
    left, right = reach(low, aim, high)

    def column(value: float) -> int:
        share = (value - left) / (right - left)
        return min(width - 1, max(0, round(share * (width - 1))))

    def tick(value: float | None) -> int | None:
        return None if value is None else column(value)

    rows: list[Row] = [((_line((tick(low), tick(aim), tick(high)), labels, width), ""),)]
    rows += _hang(hung, (left, right), column, width)
    if ascii_only:
        return [tuple((text.translate(ASCII), tag) for text, tag in row) for row in rows]
    return rows


def _line(ticks: tuple[int | None, int | None, int | None], labels: Labels, width: int) -> str:
    low, aim, high = ticks
    start, end = (0 if low is None else low), (width - 1 if high is None else high)
    cells = ["━" if start <= at <= end else "┄" for at in range(width)]
    if low is not None:
        cells[low] = "├"
    if high is not None:
        cells[high] = "┤"
    if low is not None and high is None:
        cells[-1] = "▶"
    open_ended = low is None or high is None
    inside = f" {labels.aim} " if labels.aim else " in limits " if open_ended else ""
    middle = aim if aim is not None else (start + end) // 2
    if not _write(cells, middle - len(inside) // 2, inside, start + 1, end) and aim is not None:
        cells[aim] = "┿" if cells[aim] == "━" else cells[aim]
    if low is not None and labels.low:
        text = labels.low if high is not None else f"{labels.low} {labels.unit}".strip()
        _write(cells, low - len(text) - 2, f" {text} ", 0, low)
    if high is not None and (labels.high or labels.unit):
        _write(cells, high + 1, f" {labels.high} {labels.unit}".rstrip() + " ", high + 1, width)
    if width >= ROOM_FOR_WORDS and low is not None:
        _write(cells, 0, "low ", 0, low, over="┄")
    if width >= ROOM_FOR_WORDS and high is not None:
        _write(cells, width - 5, " high", high + 1, width, over="┄")
    return "".join(cells)


def _write(cells: list[str], at: int, text: str, start: int, stop: int, *, over: str = "") -> bool:
    """Write a text between two columns if it fits there; `over` is all it may cover."""
    if not text or at < start or at + len(text) > stop:
        return False
    if over and any(cell != over for cell in cells[at : at + len(text)]):
        return False
    cells[at : at + len(text)] = text
    return True


def _hang(
    hung: Sequence[Hung], ends: tuple[float, float], column: Callable[[float], int], width: int
) -> list[Row]:
    left, right = ends
    rows: list[list[tuple[int, str, str]]] = []
    for one in hung:
        if left <= one.value <= right:
            at, text = _beside(column(one.value), one.words, width)
        elif one.value < left:
            at, text = 0, f"◀ {cut(one.beyond or one.words, width - 2)}"
        else:
            text = f"{cut(one.beyond or one.words, width - 2)} ▶"
            at = width - display_width(text)
        new = (at, text, one.tag)
        free = (row for row in rows if all(_apart(new, other) for other in row))
        home = next(free, None)
        if home is None:
            rows.append([new])
        else:
            home.append(new)
    return [_joined(sorted(row)) for row in rows]


def _apart(one: tuple[int, str, str], other: tuple[int, str, str]) -> bool:
    first, second = sorted((one, other))
    return first[0] + display_width(first[1]) + 2 <= second[0]


def _beside(at: int, words: str, width: int) -> tuple[int, str]:
    """Return where a reading is written: to the right of its mark, else to the left, the mark always in place."""
    to_right, to_left = width - at - 2, at - 1
    wide = display_width(words)
    if wide <= to_right or to_right >= to_left:
        return at, f"▲ {cut(words, max(2, to_right))}"
    said = cut(words, max(2, to_left))
    return at - 1 - display_width(said), f"{said} ▲"


def _joined(row: list[tuple[int, str, str]]) -> Row:
    pieces: list[Piece] = []
    used = 0
    for at, text, tag in row:
        pieces += [(" " * (at - used), ""), (text, tag)]
        used = at + display_width(text)
    return tuple(piece for piece in pieces if piece[0])
