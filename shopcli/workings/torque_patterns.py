"""The order fasteners are tightened in: from the middle of a head, star-wise on a ring, across a cover.

Places are counted from 1: row by row from the upper left on a head, clockwise from the top on a ring.
"""

import math

from shopcli.workings.say import plain_picture, within
from shopcli.workings.telling import Canvas

MOST_ON_RING = 24
MOST_ROWS = 6
MOST_COLUMNS = 12
_CELL = 6
_HALF_TURN = 180.0


def _star_even(count: int) -> list[int]:
    """Opposite pairs; the next pair lies as far as can be from those done, then from the last one."""
    half = count // 2
    done = [0]

    def away(pair: int, other: int) -> float:
        angle = abs(pair - other) * _HALF_TURN / half
        return min(angle, _HALF_TURN - angle)

    while len(done) < half:
        left = [pair for pair in range(half) if pair not in done]
        done.append(max(left, key=lambda p: (round(min(away(p, d) for d in done), 6), away(p, done[-1]), -p)))
    return [place + 1 for pair in done for place in (pair, pair + half)]


def star_order(count: int) -> tuple[int, ...]:
    """Star order round a ring of fasteners.

    Parameters
    ----------
    count : int
        Fasteners on the ring, 3 to 24, [-]

    Returns
    -------
    tuple of int
        Places in the order to tighten, place 1 at the top, counted clockwise.

    Raises
    ------
    OutOfRange
        If `count` is outside 3 to 24.

    Notes
    -----
    Even rings go by opposite pairs, odd ones by steps of (count - 1) / 2.

    Examples
    --------
    >>> star_order(5), star_order(4), star_order(6)
    ((1, 3, 5, 2, 4), (1, 3, 2, 4), (1, 4, 2, 5, 3, 6))

    References
    ----------
    .. [1] Common practice, no source.
    """
    within("count", count, 3, MOST_ON_RING)
    if count % 2:
        step = (count - 1) // 2
        return tuple(turn * step % count + 1 for turn in range(count))
    return tuple(_star_even(count))


def centre_out(rows: int, columns: int) -> tuple[int, ...]:
    """Order for a head: from the middle outwards, crosswise.

    Parameters
    ----------
    rows : int
        Rows of bolts, 1 to 6, [-]
    columns : int
        Bolts in a row, 1 to 12, [-]

    Returns
    -------
    tuple of int
        Places in the order to tighten, counted row by row from the upper left.

    Raises
    ------
    OutOfRange
        If rows or columns are outside their range.

    Notes
    -----
    Even spacing is assumed; each bolt is followed by the one diagonally opposite. The handbook's own order
    comes first.

    Examples
    --------
    >>> centre_out(2, 5)
    (3, 8, 2, 9, 4, 7, 1, 10, 5, 6)

    References
    ----------
    .. [1] Common practice, no source.
    """
    within("rows", rows, 1, MOST_ROWS)
    within("columns", columns, 1, MOST_COLUMNS)
    last = rows * columns - 1

    def off_centre(place: int) -> int:
        row, column = divmod(place, columns)
        return (2 * row - rows + 1) ** 2 + (2 * column - columns + 1) ** 2

    order: list[int] = []
    for place in sorted(range(rows * columns), key=lambda p: (off_centre(p), p)):
        for each in (place, last - place):
            if each not in order:
                order.append(each)
    return tuple(place + 1 for place in order)


def rim_places(rows: int, columns: int) -> tuple[tuple[int, int], ...]:
    """Row and column of the fasteners round a rectangular cover, clockwise from the upper left.

    Examples
    --------
    >>> rim_places(2, 3)
    ((0, 0), (0, 1), (0, 2), (1, 2), (1, 1), (1, 0))
    """
    top = [(0, c) for c in range(columns)]
    right = [(r, columns - 1) for r in range(1, rows)]
    bottom = [(rows - 1, c) for c in range(columns - 2, -1, -1)]
    left = [(r, 0) for r in range(rows - 2, 0, -1)]
    return (*top, *right, *bottom, *left)


def cross_order(rows: int, columns: int) -> tuple[int, ...]:
    """Order for a cover fastened round its rim: crosswise, from the middle of the sides to the corners.

    Parameters
    ----------
    rows : int
        Fasteners along the short side, corners included, 2 to 6, [-]
    columns : int
        Fasteners along the long side, corners included, 2 to 12, [-]

    Returns
    -------
    tuple of int
        Places in the order to tighten, counted clockwise from the upper left.

    Raises
    ------
    OutOfRange
        If rows or columns are outside their range.

    Examples
    --------
    >>> cross_order(2, 3)
    (2, 5, 1, 4, 3, 6)

    References
    ----------
    .. [1] Common practice, no source.
    """
    within("rows", rows, 2, MOST_ROWS)
    within("columns", columns, 2, MOST_COLUMNS)
    places = rim_places(rows, columns)
    half = len(places) // 2

    def off_centre(place: int) -> int:
        row, column = places[place]
        return (2 * row - rows + 1) ** 2 + (2 * column - columns + 1) ** 2

    order: list[int] = []
    for place in sorted(range(len(places)), key=lambda p: (off_centre(p), p)):
        for each in (place, (place + half) % len(places)):
            if each not in order:
                order.append(each)
    return tuple(place + 1 for place in order)


def _turns(order: tuple[int, ...]) -> dict[int, int]:
    return {place: turn for turn, place in enumerate(order, start=1)}


def _framed(cells: dict[tuple[int, int], int], rows: int, columns: int) -> str:
    inner = columns * _CELL
    lines = ["╭" + "─" * inner + "╮"]
    for row in range(rows):
        if row:
            lines.append("│" + " " * inner + "│")
        said = (str(cells.get((row, column), "")).center(_CELL) for column in range(columns))
        lines.append("│" + "".join(said) + "│")
    lines.append("╰" + "─" * inner + "╯")
    return "\n".join(lines)


def head_picture(rows: int, columns: int, *, ascii_only: bool = False) -> str:
    """Picture of a head, each bolt with its turn.

    Examples
    --------
    >>> print(head_picture(2, 3, ascii_only=True))
    +------------------+
    |  3     1     5   |
    |                  |
    |  6     2     4   |
    +------------------+
    """
    turns = _turns(centre_out(rows, columns))
    cells = {divmod(place - 1, columns): turn for place, turn in turns.items()}
    picture = _framed(cells, rows, columns)
    return plain_picture(picture) if ascii_only else picture


def cover_picture(rows: int, columns: int, *, ascii_only: bool = False) -> str:
    """Picture of a cover, each fastener round the rim with its turn.

    Examples
    --------
    >>> print(cover_picture(2, 3, ascii_only=True))
    +------------------+
    |  3     1     5   |
    |                  |
    |  6     2     4   |
    +------------------+
    """
    places = rim_places(rows, columns)
    turns = _turns(cross_order(rows, columns))
    cells = {places[place - 1]: turn for place, turn in turns.items()}
    picture = _framed(cells, rows, columns)
    return plain_picture(picture) if ascii_only else picture


def ring_picture(count: int, *, ascii_only: bool = False) -> str:
    """Picture of a ring of fasteners, each with its turn, place 1 at the top.

    Examples
    --------
    >>> print(ring_picture(4, ascii_only=True))
               1
    <BLANKLINE>
    <BLANKLINE>
    <BLANKLINE>
    4          o          3
    <BLANKLINE>
    <BLANKLINE>
    <BLANKLINE>
               2
    """
    turns = _turns(star_order(count))
    high = max(4, math.ceil(count / 2.6))
    wide = round(high * 2.6) + 1
    sheet = Canvas()
    for place, turn in turns.items():
        angle = 2 * math.pi * (place - 1) / count
        column, row = wide + round(wide * math.sin(angle)), high - round(high * math.cos(angle))
        sheet.centred(column, row, str(turn))
    sheet.put(wide, high, "○")
    picture = sheet.text()
    return picture.replace("○", "o") if ascii_only else picture
