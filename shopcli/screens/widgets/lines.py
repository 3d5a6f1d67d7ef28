"""Lines of styled text that are laid out by columns before they become content.

Everything is plain text and a style of ours beside it, so no text of a person can ever be read as markup.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache

from textual.content import Content

from shopcli.columns import cut, display_width, wrap

Piece = tuple[str, str]
Line = tuple[Piece, ...]
BLANK: Line = ()


def width_of_line(line: Line) -> int:
    """Return the columns a line takes.

    Examples
    --------
    >>> width_of_line((("gap", "bold"), (" 6 thou", "")))
    10
    """
    return sum(display_width(text) for text, _ in line)


def padded(line: Line, width: int) -> Line:
    """Fill a line with blanks."""
    missing = width - width_of_line(line)
    return (*line, (" " * missing, "")) if missing > 0 else line


def wrapped(text: str, width: int, style: str = "", *, first: str = "", rest: str = "") -> list[Line]:
    """Break a text into lines; `first` and `rest` stand before the first line and the others.

    Examples
    --------
    >>> wrapped("runs rough when warm", 12, first="! ", rest="  ")
    [(('! runs rough', ''),), (('  when warm', ''),)]
    """
    room = max(2, width - max(display_width(first), display_width(rest)))
    return [(((rest if i else first) + one, style),) for i, one in enumerate(_broken(text, room))]


@lru_cache(maxsize=4096)
def _broken(text: str, width: int) -> tuple[str, ...]:
    """Return a text in lines: the same cautions and titles are laid out at every key."""
    return tuple(wrap(text, width))


def beside(left: Sequence[Line], right: Sequence[Line], width: int, gap: int = 2) -> list[Line]:
    """Put two blocks side by side; `width` is that of the left one, [columns]."""
    rows = max(len(left), len(right))
    filled = [*left, *[BLANK] * (rows - len(left))]
    other = [*right, *[BLANK] * (rows - len(right))]
    return [(*padded(a, width), (" " * gap, ""), *b) if b else a for a, b in zip(filled, other, strict=True)]


def as_content(lines: Iterable[Line]) -> Content:
    """Return lines as something a widget shows."""
    return Content("\n").join(Content.assemble(*line) for line in lines)


def fitted(lines: Sequence[Line], rows: int, more: str, width: int = 999) -> list[Line]:
    """Return at most `rows` lines; where some are missing the last one says how many, `more` says how to see them.

    Examples
    --------
    >>> fitted([(("a", ""),), (("b", ""),), (("c", ""),)], 2, "t shows all", 30)
    [(('a', ''),), (('2 more lines, t shows all', 'bold'),)]
    """
    if len(lines) <= rows:
        return list(lines)
    kept = max(0, rows - 1)
    said = f"{len(lines) - kept} more lines, {more}"
    return [*lines[:kept], ((cut(said, max(2, width)), "bold"),)]
