"""Where in a text that scrolls one is: a mark at its edge, drawn like the framework's scroll bars."""

from math import ceil

from shopcli.screens.widgets.lines import Line, Piece, padded

EIGHTHS = " ▇▆▅▄▃▂▁"  # how much of a row is left below the beginning of the mark, one eighth less each
STEPS = len(EIGHTHS)
BACK: Piece = (" ", "on $scrollbar-background")
BODY: Piece = (" ", "reverse $scrollbar on $scrollbar-background")
EDGE = "$scrollbar on $scrollbar-background"


def scroll_mark(rows: int, total: int, top: int) -> list[Piece]:
    """Return the mark beside `rows` rows in sight of `total`, the first of them being line `top`.

    Examples
    --------
    >>> [piece is BODY for piece in scroll_mark(4, 8, 0)], [piece is BODY for piece in scroll_mark(4, 8, 4)]
    ([True, True, False, False], [False, False, True, True])
    """
    if total <= rows:
        return [BACK] * rows
    long = max(1.0, rows * rows / total)
    start = int((rows - long) * top / (total - rows) * STEPS)
    first, into = divmod(start, STEPS)
    last, over = divmod(start + ceil(long * STEPS), STEPS)
    mark = [BODY if first <= row < last else BACK for row in range(rows)]
    if into:
        mark[first] = (EIGHTHS[into], EDGE)
    if over and last < rows:
        mark[last] = (EIGHTHS[over], f"reverse {EDGE}")
    return mark


def with_scroll_mark(lines: list[Line], width: int, total: int, top: int) -> list[Line]:
    """Return lines in sight with the mark in the last of `width` columns."""
    marks = scroll_mark(len(lines), total, top)
    return [(*padded(line, width - 1), mark) for line, mark in zip(lines, marks, strict=True)]
