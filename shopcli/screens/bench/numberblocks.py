"""Where the large figures of a task stand: as large as the room allows, each with its words beside or below it."""

from collections.abc import Sequence

from shopcli.screens.bench.numberwords import NumberSaid
from shopcli.screens.widgets.bigfigures import LARGEST, SMALLEST, big, drawable, width_of
from shopcli.screens.widgets.lines import BLANK, Line, as_content, beside, wrapped

__all__ = ["as_content", "number_lines"]

BETWEEN = 3  # columns between two numbers side by side
WORDS_ROOM = 28  # narrowest column of words beside a figure
UNIT_ROOM = 30  # a unit wider than this when drawn is written instead
UNIT_GAP = 2
ROOMY = 16  # rows for the numbers from which the largest size is not too much
FIGURE_STYLE = "bold"
UNSURE_STYLE = "bold $text-warning"


def number_lines(
    numbers: Sequence[NumberSaid], width: int, rows: int, *, marked: str = "", least: int = SMALLEST
) -> list[Line]:
    """Lay out the numbers of a task.

    Parameters
    ----------
    numbers : sequence of NumberSaid
        In the order of the task.
    width, rows : int
        The room there is, [columns] and [rows]; when even the smallest size needs more rows it gets them.
    marked : str, optional
        Name of the number the next reading is taken against.
    least : int, optional
        Smallest size to be drawn.
    """
    if not numbers or width < WORDS_ROOM:
        return [line for said in numbers for line in _written(said, max(4, width), said.name == marked)]
    best: list[Line] = []
    largest = LARGEST if rows >= ROOMY else LARGEST - 1
    for size in range(max(least, largest), least - 1, -1):
        for columns in (1, 2, 3):
            laid = _laid(numbers, width, size, columns, marked) if columns <= len(numbers) else None
            if laid is not None and (not best or len(laid) < len(best)):
                best = laid
        if best and len(best) <= rows:
            return best
        if size > least:
            best = []
    return best or [line for said in numbers for line in _written(said, width, said.name == marked)]


def _laid(
    numbers: Sequence[NumberSaid], width: int, size: int, columns: int, marked: str
) -> list[Line] | None:
    """Lay the numbers out in so many columns, or None when a figure does not fit."""
    column = (width - BETWEEN * (columns - 1)) // columns
    if column < WORDS_ROOM or any(_figure_width(said, size) > column for said in numbers):
        return None
    lines: list[Line] = []
    for start in range(0, len(numbers), columns):
        beside_it = numbers[start : start + columns]
        tall = max(len(_title(said, column, said.name == marked)) for said in beside_it)
        row = [_level(said, column, size, marked, tall) for said in beside_it]
        joined = row[0]
        for index, block in enumerate(row[1:], 1):
            joined = beside(joined, block, (column + BETWEEN) * index - BETWEEN, BETWEEN)
        lines += ([BLANK] if lines and size > SMALLEST else []) + joined
    return lines


def _level(said: NumberSaid, column: int, size: int, marked: str, tall: int) -> list[Line]:
    """Return a block that begins so low that the figures of a row stand level."""
    is_marked = said.name == marked
    return [*[BLANK] * (tall - len(_title(said, column, is_marked))), *_block(said, column, size, is_marked)]


def _figure_width(said: NumberSaid, size: int) -> int:
    return width_of(said.figure, size) if drawable(said.figure) else 0


def _unit_size(said: NumberSaid, width: int, size: int) -> int:
    """Return the size the unit is drawn in beside its figure, 0 where it is written: it is short or there is no room."""
    if size == SMALLEST or not drawable(said.unit):
        return 0
    room = min(width - _figure_width(said, size) - UNIT_GAP, UNIT_ROOM)
    return next((s for s in (size // 2, SMALLEST) if s and width_of(said.unit, s) <= room), 0)


def _block(said: NumberSaid, width: int, size: int, marked: bool) -> list[Line]:
    if not drawable(said.figure):
        return _written(said, width, marked)
    style = UNSURE_STYLE if said.to_confirm else FIGURE_STYLE
    figure: list[Line] = [((row, style),) for row in big(said.figure, size)]
    taken = _figure_width(said, size)
    unit = _unit_size(said, width, size)
    if unit:
        drawn: list[Line] = [((row, style),) for row in big(said.unit, unit)]
        figure = beside(figure, [*[BLANK] * (len(figure) - len(drawn)), *drawn], taken, UNIT_GAP)
        taken += UNIT_GAP + width_of(said.unit, unit)
    room = width - taken - 3
    title = _title(said, width, marked)
    if room >= WORDS_ROOM:
        return [*title, *beside(figure, _words(said, room, with_unit=not unit), taken, 3)]
    if not unit and room >= len(said.unit):
        figure = beside(figure, [*[BLANK] * (len(figure) - 1), ((said.unit, "bold"),)], taken, 2)
        return [*title, *figure, *_words(said, width, with_unit=False)]
    return [*title, *figure, *_words(said, width, with_unit=not unit)]


def _title(said: NumberSaid, width: int, marked: bool) -> list[Line]:
    state = f", {said.state}" if said.state else ""
    lead = f": {said.lead}" if said.lead else ""
    mark = "▸ " if marked else ""
    return wrapped(f"{said.label}{state}{lead}", width, "bold", first=mark, rest="  " if mark else "")


def _words(said: NumberSaid, width: int, *, with_unit: bool) -> list[Line]:
    """Return unit, limits, the other system and where the number comes from."""
    lines: list[Line] = [((said.unit, "bold"),)] if with_unit and said.unit else []
    if said.limits:
        lines += wrapped(said.limits, width, first="limits ", rest="  ")
    if said.other:
        lines += wrapped(said.other, width, first="= ", rest="  ")
    if said.to_confirm:
        lines += wrapped(f"{said.origin} (n)", width, "bold $text-warning", first="! ", rest="  ")
    else:
        lines += wrapped(said.origin, width, "$foreground-muted")
    if said.newer:
        lines += wrapped(said.newer, width, "bold $text-warning", first="! ", rest="  ")
    return lines + (wrapped(said.note, width, "$foreground-muted") if said.note else [])


def _written(said: NumberSaid, width: int, marked: bool) -> list[Line]:
    """Return a number that cannot be drawn, in normal letters."""
    style = UNSURE_STYLE if said.to_confirm else FIGURE_STYLE
    return [
        *_title(said, width, marked),
        *wrapped(said.sentence, width, style),
        *_words(said, width, with_unit=False),
    ]
