"""A page of the report as rows of a list: titles, words, heads and figures, laid out in whatever width there is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shopcli.columns import cut, display_width, pad, shown, wrap
from shopcli.papers.week.model import Head, Line, Page, Sheet
from shopcli.screens.widgets.lines import Line as Drawn
from shopcli.screens.widgets.lines import Piece

GAP = 2
GAP_LEAST = 1
GAP_WRAPPED = 5  # what stands before a text that wraps
TEXT_GOOD, TEXT_LEAST = 24, 8  # columns a text keeps while spare figures are there, and at the very least
CHOSEN = "reverse"


@dataclass(frozen=True, slots=True)
class Text:
    """A title, words or nothing: stepped over."""

    text: str
    style: str = ""


@dataclass(frozen=True, slots=True)
class Figures:
    """A line of a table, laid out as its table is."""

    sheet: Sheet
    line: Line
    laid: "Layout"

    @property
    def keyed(self) -> tuple[int, ...]:
        """The columns whose figure opens to rows."""
        return tuple(n for n in self.laid.columns if self.line.cells[n].key)

    def nearest(self, column: int) -> int:
        """Return the column nearest to one that opens; -1 where none does."""
        return min(self.keyed, key=lambda n: (abs(n - column), n), default=-1)


Row = Text | Figures


def rows_of(page: Page, room: int) -> list[tuple[str, Row]]:
    """Return the rows of a page with their keys; those without a key are stepped over."""
    found: list[tuple[str, Row]] = []
    for sheet in page.sheets:
        if found:
            found.append(("", Text("")))
        found.append(("", Text(sheet.title, "bold $text-primary")))
        if sheet.lines:
            found += _table(sheet, room)
        else:
            found.append(("", Text(sheet.empty)))
        found += [("", Text(part, "$text-muted")) for words in sheet.words for part in wrap(words, room)]
    return found


def _table(sheet: Sheet, room: int) -> list[tuple[str, Row]]:
    laid = layout(sheet, room)
    found: list[tuple[str, Row]] = [("", Text(_heads(sheet, laid), "$text-muted italic"))]
    taken: set[str] = set()
    for nth, line in enumerate(sheet.lines):
        key = f"{sheet.name}|{line.cells[0].key or line.cells[0].said}"
        key = f"{key}|{nth}" if key in taken else key
        taken.add(key)
        shown_now, rest = wrapped(sheet, line, laid)
        found.append((key, Figures(sheet, shown_now, laid)))
        found += [("", Text(text, "bold" if line.strong else "")) for text in rest]
        found += [("", Text(text, "$text-muted")) for text in _note(sheet, line, laid, room)]
    return found


def wrapped(sheet: Sheet, line: Line, laid: "Layout") -> tuple[Line, list[str]]:
    """Return a line with as much of its wrapping text as there is room for, and the rest of it line by line below."""
    place = next((n for n in laid.columns if sheet.heads[n].wraps), None)
    if place is None:
        return line, []
    at = laid.columns.index(place)
    parts = wrap(line.cells[place].said, max(2, laid.widths[at])) or [""]
    cells = tuple(replace(c, said=parts[0]) if n == place else c for n, c in enumerate(line.cells))
    return replace(line, cells=cells), [f"{' ' * _indent(laid, at)}{part}" for part in parts[1:]]


def _indent(laid: "Layout", at: int) -> int:
    return sum(laid.widths[:at]) + laid.gap * at


def _note(sheet: Sheet, line: Line, laid: "Layout", room: int) -> list[str]:
    """Return what goes below a line: whole below one that wraps, else as much of it as there is room for."""
    if not line.note:
        return []
    at = next((place for place, n in enumerate(laid.columns) if sheet.heads[n].wraps), None)
    if at is None:
        return [f"  {cut(line.note, room - GAP)}"]
    indent = _indent(laid, at)
    return [f"{' ' * indent}{part}" for part in wrap(line.note, max(2, room - indent))]


@dataclass(frozen=True, slots=True)
class Layout:
    """How a table is laid out in a width: which columns, how wide, how far apart, and what they are called."""

    columns: tuple[int, ...]
    widths: tuple[int, ...]
    gap: int
    names: tuple[str, ...]


def layout(sheet: Sheet, room: int) -> Layout:
    """Return the roomiest layout that fits: as it is, with short heads, long texts cut, without spare columns, all cut."""
    every = tuple(range(len(sheet.heads)))
    few = tuple(n for n in every if not sheet.heads[n].spare)
    tries = (
        (every, GAP, False, None),
        (every, GAP, True, None),
        (every, GAP, True, TEXT_GOOD),
        (few, GAP, True, TEXT_GOOD),
        (few, GAP_LEAST, True, TEXT_LEAST),
    )
    for columns, gap, short, least in tries:
        names = tuple((short and sheet.heads[n].short) or sheet.heads[n].name for n in columns)
        widths = [_wide(sheet, n, name) for n, name in zip(columns, names, strict=True)]
        widths = [
            min(wide, room - GAP_WRAPPED) if sheet.heads[n].wraps else wide
            for n, wide in zip(columns, widths, strict=True)
        ]
        over = sum(widths) + gap * (len(widths) - 1) - room
        if over > 0 and least is not None:
            widths, over = _cut_to([sheet.heads[n] for n in columns], widths, over, least)
        if over <= 0:
            break
    return Layout(columns, tuple(widths), gap, names)


def _wide(sheet: Sheet, column: int, name: str) -> int:
    return max(1, display_width(name), *(display_width(line.cells[column].said) for line in sheet.lines))


def _cut_to(heads: Sequence[Head], widths: list[int], over: int, least: int) -> tuple[list[int], int]:
    """Take from the widest texts what is too much, none below its least; return the widths and what is still too much."""
    floors = {n: max(least, head.least) for n, head in enumerate(heads) if not head.right}
    while over > 0:
        wide = max((n for n in floors if widths[n] > floors[n]), key=lambda n: widths[n], default=None)
        if wide is None:
            break
        widths[wide] -= 1
        over -= 1
    return widths, over


def _heads(sheet: Sheet, laid: Layout) -> str:
    parts = (
        pad(cut(name, max(2, wide)), wide, right=sheet.heads[n].right)
        for n, name, wide in zip(laid.columns, laid.names, laid.widths, strict=True)
    )
    return (" " * laid.gap).join(parts)


def drawn(row: Row, width: int, column: int) -> Drawn:
    """Return a row as styled text; `column` is the figure chosen in it, -1 for none."""
    if isinstance(row, Text):
        text = shown(row.text)
        fits = display_width(text) <= width  # what is cut loses the blanks between its columns
        return ((text if fits else cut(text, max(2, width)), row.style),)
    pieces: list[Piece] = []
    for n, wide in zip(row.laid.columns, row.laid.widths, strict=True):
        cell, head = row.line.cells[n], row.sheet.heads[n]
        if pieces:
            pieces.append((" " * row.laid.gap, ""))
        style = CHOSEN if n == column else "bold" if row.line.strong else ""
        said = cut(cell.said, max(2, wide))
        blank = (" " * (wide - display_width(said)), "")
        pieces += [blank, (said, style)] if head.right else [(said, style), blank]
    return tuple(pieces)


def pages_line(pages: Sequence[Page], here: str, keys: dict[str, str]) -> list[tuple[str, str]]:
    """Return the pages with their keys, the one in front in brackets."""
    found: list[tuple[str, str]] = []
    for page in pages:
        text = f"{keys[page.name]} {page.title}"
        found.append((f"[{text}]", "bold reverse") if page.name == here else (f" {text} ", ""))
    return found
