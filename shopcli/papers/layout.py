"""A typewritten page: paragraphs, fields and tables that hold their columns whatever is written in them.

Everything here returns lines; none is ever wider than the page. A cell that is too long for its column goes
on below itself, so a long name costs a line and never a column.
"""

from collections.abc import Iterable, Sequence
from functools import cache

from shopcli.columns import display_width, pad, shown, wrap
from shopcli.errors import BadInput
from shopcli.tuples import NamedTuple

TYPE_CHECKING = False
if TYPE_CHECKING:
    from re import Pattern

WIDTH = 80
NARROWEST_PAGE, WIDEST_PAGE = 72, 200
GAP = 1


class Column(NamedTuple):
    """A column of a table. `width` is its widest; the one without a width takes what is left.

    `least` keeps tables of one paper in step with each other as long as nothing in them is larger.
    """

    head: str
    width: int | None = None
    right: bool = False
    least: int = 0


def page_width(width: int) -> int:
    """Return `width` when a page can be laid out in it.

    Raises
    ------
    BadInput
        If it is not 72 to 200 columns.
    """
    if not NARROWEST_PAGE <= width <= WIDEST_PAGE:
        raise BadInput(
            f"a page {width} columns wide",
            hint=f"Choose {NARROWEST_PAGE} to {WIDEST_PAGE}; {WIDTH} is usual.",
        )
    return width


def rule(width: int, sign: str = "-") -> str:
    """Return a line across the page."""
    return sign * width


def heading(text: str, width: int) -> list[str]:
    """Return a title with a line under it.

    Examples
    --------
    >>> heading("Parts", 20)
    ['Parts', '-----']
    """
    lines = wrap(text, width)
    return [*lines, rule(max(map(display_width, lines)))]


def para(text: str, width: int, *, first: str = "", indent: int | None = None) -> list[str]:
    """Return a paragraph; `first` stands before its first line and the others hang below it.

    Examples
    --------
    >>> para("check the fan belt again", 20, first="  ! ")
    ['  ! check the fan', '    belt again']
    """
    first = shown(first).replace("\n", " ")
    hang = display_width(first) if indent is None else indent
    if max(hang, display_width(first)) > width // 2:  # no room beside it
        return wrap(f"{first} {text}", width)
    lines = wrap(text, width - max(hang, display_width(first)))
    return [(first if i == 0 else " " * hang) + line for i, line in enumerate(lines)]


def field(name: str, text: str, width: int, *, names: int = 11) -> list[str]:
    """Return a named value; nothing at all when it is empty.

    Examples
    --------
    >>> field("Odometer", "54,320 mi", 40), field("Phone", "", 40)
    (['Odometer   54,320 mi'], [])
    """
    return para(text, width, first=pad(name, names)) if text.strip() else []


def beside(left: Sequence[str], right: Sequence[str], width: int, *, gap: int = 2) -> list[str]:
    """Set two blocks side by side, the right one at the right edge of its half.

    Examples
    --------
    >>> beside(["Brook Lane", "Works"], ["Summary"], 20)
    ['Brook Lane   Summary', 'Works']
    """
    room = width - gap - max((display_width(line) for line in right), default=0)
    if any(display_width(line) > room for line in left):
        return [*left, *(pad(line, width, right=True) for line in right)]
    rows = max(len(left), len(right))
    a, b = [*left, *[""] * (rows - len(left))], [*right, *[""] * (rows - len(right))]
    return [
        (pad(x, room + gap) + pad(y, width - room - gap, right=True)).rstrip()
        for x, y in zip(a, b, strict=True)
    ]


@cache
def _figure() -> "Pattern[str]":
    """Return what finds the whole part of a figure: digits, with or without commas between thousands."""
    import re  # a page without a column of figures does without

    return re.compile(r"[^\d]{0,4}(?:\d{1,3}(?:,\d{3})+(?![\d,])|\d+)")


def on_point(texts: Sequence[str], width: int) -> list[str]:
    """Return figures moved so that their decimal points stand in one line; words are left alone.

    A figure that would not fit in `width` when moved stays where it is.

    Examples
    --------
    >>> on_point(["9 thou", "16 thou", "0.4 mm", "-"], 8)
    [' 9 thou', '16 thou', ' 0.4 mm', '-']
    """
    matches = [_figure().match(t) for t in texts]
    ends = [display_width(m.group()) if m else 0 for m in matches]
    fitting = [e for e, t in zip(ends, texts, strict=True) if e and display_width(t) <= width]
    point = max(fitting, default=0)
    moved = [" " * (point - e) + t if e and e <= point else t for e, t in zip(ends, texts, strict=True)]
    return [m if display_width(m) <= width else t for m, t in zip(moved, texts, strict=True)]


def right_on_point(texts: Sequence[str], point: str = ".") -> list[str]:
    """Return figures filled up behind so that, set to the right, their decimal points stand in one line.

    Examples
    --------
    >>> right_on_point(["0.7", "12", "1.25"])
    ['0.7 ', '12   ', '1.25']
    """
    return [t + " " * len(behind) for t, behind in zip(texts, behind_point(texts, point), strict=True)]


def behind_point(texts: Sequence[str], point: str = ".") -> list[str]:
    """Return what each figure lacks of the longest tail from the point on: the room it leaves behind it.

    Examples
    --------
    >>> behind_point(["0.7", "12", "1.25"])
    ['5', '.25', '']
    """
    tails = ["".join(t.rpartition(point)[1:]) if point in t else "" for t in texts]
    longest = max(tails, key=len, default="")
    return [longest[len(tail) :] for tail in tails]


def widths(
    columns: Sequence[Column], rows: Iterable[Sequence[str]], width: int, *, least: int = 12
) -> list[int]:
    """Return how wide each column becomes: as wide as what it holds, up to its own limit and what is free."""
    held = [
        [c.least, display_width(c.head), *(display_width(row[i]) for row in rows)]
        for i, c in enumerate(columns)
    ]
    wanted = [0 if c.width is None else min(c.width, max(h)) for c, h in zip(columns, held, strict=True)]
    free = width - GAP * (len(columns) - 1)
    while free - sum(wanted) < least:
        wanted[wanted.index(max(wanted))] -= 1
    return [free - sum(wanted) if c.width is None else w for c, w in zip(columns, wanted, strict=True)]


def table(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int, *, indent: int = 2
) -> list[str]:
    """Return a table with its head; exactly one column has no width of its own.

    Parameters
    ----------
    columns : sequence of Column
        Heads, limits and sides.
    rows : sequence of sequences of str
        One text for each column.
    width : int
        Width of the page, [columns]
    indent : int, optional
        Blanks before each line.

    Returns
    -------
    list of str
        None wider than the page.
    """
    sizes = widths(columns, [[_line(cell) for cell in row] for row in rows], width - indent)
    heads = [c.head for c in columns]
    return [
        line
        for row in [*([heads] if any(heads) else []), *rows]
        for line in table_row(columns, row, sizes, indent=indent)
    ]


def table_row(
    columns: Sequence[Column], cells: Sequence[str], sizes: Sequence[int], *, indent: int = 2
) -> list[str]:
    """Return one row of a table whose columns are `sizes` wide; a cell that is longer goes on below itself."""
    blocks = [_cell(_line(cell), size) for cell, size in zip(cells, sizes, strict=True)]
    height = max(map(len, blocks))
    lines = []
    for n in range(height):
        parts = [
            pad(block[n] if n < len(block) else "", size, right=column.right)
            for column, block, size in zip(columns, blocks, sizes, strict=True)
        ]
        lines.append((" " * indent + (" " * GAP).join(parts)).rstrip())
    return lines


def _line(text: str) -> str:
    return shown(text).replace("\n", " ")


def _cell(text: str, size: int) -> list[str]:
    # Blanks put there to stand a figure on its point must survive; only what is too long is folded.
    return [text] if display_width(text) <= size else wrap(text, size)
