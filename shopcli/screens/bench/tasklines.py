"""The task in hand as lines: its caution before everything else, then what to do, then its readings."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.columns import display_width, pad, shown
from shopcli.screens.bench.readingwords import ReadingCell
from shopcli.screens.bench.wording import barred_words, circumstances, outcome, task_mark
from shopcli.screens.widgets.lines import Line, padded, wrapped
from shopcli.shop.views import CardView, TaskView
from shopcli.units import Preferences
from shopcli.worklists.say import say_text

CAUTION_STYLE = "bold $text-warning on $warning-muted"
GOES_ON = " …"
FEW = 4  # so many readings stand one below the other; more are set in columns


def text_lines(
    view: CardView,
    task: TaskView,
    prefs: Preferences,
    width: int,
    *,
    tight: bool = False,
    titled: bool = True,
) -> list[Line]:
    """Return cautions, title, circumstances, state and what to do.

    `tight` runs the cautions together; `titled` is False where the title stands right above anyway.
    """
    lines = caution_lines([c.text for c in task.task.cautions], width, tight=tight)
    lines += wrapped(shown(task.task.title), width, "bold") if titled else []
    lines += wrapped(
        f"{task_mark(task).text()} · {circumstances(task)}".removesuffix(" · "), width, "$foreground-muted"
    )
    if task.state == "open" and task.barred_by:
        lines += wrapped(f"⊠ Barred: {barred_words(view, task)}", width, "bold $text-error", rest="  ")
    for said in outcome(task):
        lines += wrapped(said, width, "bold $text-warning" if said.startswith("!") else "", rest="  ")
    say = say_text(task.task, prefs)
    return lines + (wrapped(say, width) if say else [])


def caution_lines(texts: Sequence[str], width: int, *, tight: bool = False) -> list[Line]:
    """Return the cautions as a marked box: an edge, a sign and the word, so that it shows without colour too."""
    lines: list[Line] = []
    texts = [" ! ".join(texts)] if tight and texts else texts
    for index, text in enumerate(texts):
        said = shown(text) if index else f"CAUTION: {shown(text)}"
        lines += [
            (("▌", CAUTION_STYLE), *_on_box(padded(line, width - 1)))
            for line in wrapped(said, width - 2, CAUTION_STYLE, first="! ", rest="  ")
        ]
    return lines


def _on_box(line: Line) -> Line:
    return tuple((text, CAUTION_STYLE) for text, _ in line)


def missing_lines(names: Sequence[str], width: int) -> list[Line]:
    """Ask for numbers no sheet of the vehicle knows."""
    return [
        line
        for name in names
        for line in wrapped(
            f"{shown(name.replace('_', ' '))}: no number is known for this vehicle. n enters it from the handbook.",
            width,
            "bold $text-warning",
            first="! ",
            rest="  ",
        )
    ]


@dataclass(frozen=True, slots=True)
class ReadingLines:
    """The readings laid out: a heading, rows, which row is taken next, what must be said beneath, and what may."""

    heading: tuple[Line, ...]
    rows: tuple[Line, ...]
    at: int
    foot: tuple[Line, ...]
    must: tuple[Line, ...] = ()

    def __len__(self) -> int:
        """Rows of all of it."""
        return len(self.heading) + len(self.rows) + len(self.must) + len(self.foot)

    def within(self, rows: int) -> list[Line]:
        """Return what fits into so many rows, always with the next reading in sight.

        What may be said goes first, then the heading, then what must be said.
        """
        room = max(1, rows)
        left = room - len(self.rows)
        if left >= 0:
            must = _cut_off(self.must, left)
            heading = self.heading if len(self.heading) + len(must) <= left else ()
            foot = self.foot[: left - len(must) - len(heading)]
            return [*heading, *self.rows, *must, *foot]
        start = max(0, min(self.at - (room - 1) // 2, len(self.rows) - room))
        return list(self.rows[start : start + room])


def _cut_off(lines: tuple[Line, ...], rows: int) -> tuple[Line, ...]:
    """Return so many lines; where a sentence goes on it is to be seen that it does."""
    if len(lines) <= rows or not rows:
        return lines[:rows]
    *before, (text, style) = lines[rows - 1]
    fits = _wide(lines[rows - 1]) + len(GOES_ON) <= max(map(_wide, lines))
    return (*lines[: rows - 1], (*before, ((text if fits else text[:-2].rstrip()) + GOES_ON, style)))


def reading_lines(cells: Sequence[ReadingCell], reason: str, width: int) -> ReadingLines:
    """Lay the readings out: found beside left where both are asked, else in as many columns as there is room for."""
    foot = tuple(wrapped(f"! {reason}", width, "$text-warning", rest="  ")) if reason else ()
    if not cells:
        return ReadingLines((), (), 0, foot)
    phases = list(dict.fromkeys(cell.phase for cell in cells))
    table = _table(cells, phases, width) if len(phases) > 1 else _columns(cells, width)
    heading, rows, at = table or _one_below_the_other(cells, width)
    return ReadingLines(heading, rows, at, foot)


Laid = tuple[tuple[Line, ...], tuple[Line, ...], int]


def _cell(cell: ReadingCell) -> Line:
    if not cell.typed:
        return ((cell.words, cell.style),)
    return ((f"{cell.typed}  ", "bold"), (cell.words, cell.style))


def _wide(line: Line) -> int:
    return sum(display_width(text) for text, _ in line)


def _mark(cell: ReadingCell | None) -> str:
    return "▸ " if cell is not None and cell.next else "  "


def _table(cells: Sequence[ReadingCell], phases: list[str], width: int) -> Laid | None:
    """One row a place, one column a phase; None when that is too wide."""
    by_place: dict[str, dict[str, ReadingCell]] = {}
    for cell in cells:
        by_place.setdefault(cell.label, {})[cell.phase] = cell
    label = max(map(display_width, by_place))
    column = max(_wide(_cell(c)) for c in cells) + 4
    if label + 2 + column * len(phases) > width:
        return None
    heading = (
        ((" " * (label + 2), ""), *((pad(f"  {phase}", column), "$foreground-muted") for phase in phases)),
    )
    rows, at = [], 0
    for place, found in by_place.items():
        line: Line = ((pad(place, label) + "  ", ""),)
        for phase in phases:
            one = found.get(phase)
            at = len(rows) if one is not None and one.next else at
            said = _cell(one) if one is not None else ()
            line = (*line, *padded(((_mark(one), "bold"), *said), column))
        rows.append(line)
    return heading, tuple(rows), at


def _columns(cells: Sequence[ReadingCell], width: int) -> Laid | None:
    """All of one phase: down the first column, then the next."""
    label = max(display_width(c.label) for c in cells)
    laid = [((_mark(c), "bold"), (pad(c.label, label) + "  ", ""), *_cell(c)) for c in cells]
    column = max(map(_wide, laid)) + 3
    if column - 3 > width:
        return None
    count = 1 if len(cells) <= FEW else max(1, (width + 3) // column)
    deep = -(-len(cells) // count)
    rows = []
    for row in range(deep):
        line: Line = ()
        for cell in laid[row::deep]:
            line = (*line, *padded(cell, column))
        rows.append(line)
    at = next((i % deep for i, c in enumerate(cells) if c.next), 0)
    return (((f"  {cells[0].phase}", "$foreground-muted"),),), tuple(rows), at


def _one_below_the_other(cells: Sequence[ReadingCell], width: int) -> Laid:
    rows: list[Line] = []
    at = 0
    for cell in cells:
        at = len(rows) if cell.next else at
        text = f"{cell.label}, {cell.phase}: {cell.typed} {cell.words}"
        rows += wrapped(text, width, cell.style, first=_mark(cell), rest="  ")
    return (), tuple(rows), at
