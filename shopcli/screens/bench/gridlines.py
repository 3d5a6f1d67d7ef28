"""The readings of one kind drawn where they lie: a bank of cylinders, facing pairs, a car seen from above.

Every cell holds the figure, its verdict as a sign, and last time's figure below it where there is room. The
cell to be read next has an arrow before it and a ground of its own.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from shopcli.columns import cut, display_width, pad
from shopcli.screens.widgets.lines import BLANK, Line, padded, width_of_line
from shopcli.worklists.engine_plan import Block, Plan

CHOSEN = " on $primary-muted"
QUIET = "$foreground-muted"
FIGURE_MOST = 14
HEAD_MOST = 20
ROOMY_CELL = 10
EMPTY = "·"
BETWEEN, ROOMY_BETWEEN = 1, 3
BODY_WIDE = 9
CRANK = "crank"


@dataclass(frozen=True, slots=True)
class GridCell:
    """A reading in its place: the figure, its sign and style, last time's figure, whether it is next."""

    figure: str = ""
    sign: str = ""
    style: str = ""
    before: str = ""
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class Drawn:
    """A grid as lines; `at` is the line of the cell that is next."""

    lines: tuple[Line, ...]
    at: int = 0


def grid_lines(plan: Plan, cells: Mapping[str, GridCell], width: int, *, roomy: bool) -> Drawn:
    """Draw a plan with its readings.

    Parameters
    ----------
    plan : Plan
        Where the places lie.
    cells : mapping of str to GridCell
        By place; a place without one is empty.
    width : int
        Room there is, [columns]
    roomy : bool
        Whether last time's figures and air stand between the rows.
    """
    draw = _Drawing(plan, cells, max(12, width), roomy=roomy)
    lines = draw.lines()
    at = next((i for i, line in enumerate(lines) if any(CHOSEN in style for _, style in line)), 0)
    return Drawn(tuple(lines), at)


class _Drawing:
    """One grid being drawn: every cell of it is equally wide."""

    def __init__(self, plan: Plan, cells: Mapping[str, GridCell], width: int, *, roomy: bool) -> None:
        self.plan, self.cells, self.width, self.roomy = plan, cells, width, roomy
        figures = (display_width(c.figure) for c in cells.values())
        before = (display_width(c.before) + 2 for c in cells.values() if roomy)
        heads = (display_width(h) + 2 for b in plan.blocks for h in b.heads)
        self.figure = min(FIGURE_MOST, max([3, *figures]))
        most = max(self.figure + 4, min(max([0, *before, *heads]), HEAD_MOST), ROOMY_CELL if roomy else 0)
        self.cell = max(self.figure + 4, min(most, width - 2))
        self.gap = ROOMY_BETWEEN if roomy else BETWEEN
        self.side = max((display_width(s) for b in plan.blocks for s in b.sides), default=0)

    def lines(self) -> list[Line]:
        """Return the whole grid."""
        if self.plan.shape == "facing" and (side_by_side := self._facing()):
            return side_by_side
        if self.plan.shape == "car":
            return self._car()
        lines: list[Line] = []
        for number, block in enumerate(self.plan.blocks):
            if number and self.plan.shape in {"banks", "facing"}:
                lines.append(self._crank(lines))
            lines += self._block(block)
        return lines

    def _crank(self, above: Sequence[Line]) -> Line:
        wide = max(map(width_of_line, above), default=12)
        return ((f"══ {CRANK} ".ljust(wide, "═")[:wide], QUIET),)

    def _block(self, block: Block, *, sides: bool = True) -> list[Line]:
        """Return a block, its columns broken where the terminal is too narrow for all of them."""
        room = self.width - (self.side + 1 if sides and self.side else 0)
        fit = max(1, (room + self.gap) // (self.cell + self.gap))
        wide = len(block.cells[0]) if block.cells else 0
        lines: list[Line] = []
        for start in range(0, wide, fit):
            part = range(start, min(start + fit, wide))
            lines += [BLANK] if lines and self.roomy else []
            lines += self._part(block, part, sides=sides)
        return lines

    def _part(self, block: Block, columns: range, *, sides: bool) -> list[Line]:
        lead = " " * (self.side + 1) if sides and self.side else ""
        lines: list[Line] = []
        if block.heads and any(block.heads[c] for c in columns):
            heads = (f"  {pad(cut(block.heads[c], self.cell - 2), self.cell - 2)}" for c in columns)
            lines.append(((lead + (" " * self.gap).join(heads), QUIET),))
        for row, names in enumerate(block.cells):
            side = f"{pad(block.sides[row], self.side)} " if lead and block.sides else lead
            lines += [BLANK] if self.roomy and row and self.plan.shape != "facing" else []
            lines += self._row(side, [names[c] for c in columns])
        return lines

    def _row(self, side: str, names: Sequence[str | None]) -> Iterator[Line]:
        """Yield the figures of a row, and below them those of last time."""
        here = [None if name is None else self.cells.get(name, GridCell()) for name in names]
        yield self._joined(side, [self._figure(cell) for cell in here])
        if self.roomy and any(cell and cell.before for cell in here):
            most = self.cell - 2
            below = [(pad(f"  {cut(cell.before, most)}" if cell else "", self.cell), QUIET) for cell in here]
            yield self._joined(" " * display_width(side), [(piece,) for piece in below])

    def _joined(self, side: str, cells: Sequence[Line]) -> Line:
        line: Line = ((side, QUIET),) if side else ()
        for number, cell in enumerate(cells):
            line = (*line, *(((" " * self.gap, ""),) if number else ()), *cell)
        return line

    def _figure(self, cell: GridCell | None) -> Line:
        if cell is None:
            return ((" " * self.cell, ""),)
        ground = CHOSEN if cell.chosen else ""
        mark = "▸ " if cell.chosen else "  "
        figure = cut(cell.figure or EMPTY, self.figure)
        style = cell.style or (QUIET if not cell.figure else "")
        return (
            (mark, f"bold{ground}"),
            (figure, f"{'bold ' if cell.figure else ''}{style}{ground}".strip()),
            (pad(f" {cell.sign}", self.cell - 2 - display_width(figure)), f"{style}{ground}".strip()),
        )

    def _facing(self) -> list[Line]:
        """Return two blocks side by side with the crank between, or nothing where that is too wide."""
        left, right = (self._block_with_sides(block) for block in self.plan.blocks)
        wide = max(map(width_of_line, left))
        if wide + 9 + max(map(width_of_line, right)) > self.width:
            return []
        rows = max(len(left), len(right))
        left, right = ([*lines, *[BLANK] * (rows - len(lines))] for lines in (left, right))
        middle = rows // 2 if rows > len(CRANK) else -1
        joined: list[Line] = []
        for number, (a, b) in enumerate(zip(left, right, strict=True)):
            rod = f"  {CRANK}  " if number == middle else "    ║    "
            joined.append((*padded(a, wide), (rod, QUIET), *b))
        return joined

    def _block_with_sides(self, block: Block) -> list[Line]:
        return self._part(block, range(len(block.cells[0])), sides=True)

    def _car(self) -> list[Line]:
        """Return the wheels round a body with its front marked."""
        corners, *rest = self.plan.blocks
        wide = len(corners.cells[0])
        lead = self.side + 1
        if wide != 2 or lead + 2 * self.cell + BODY_WIDE > self.width:  # noqa: PLR2004 - left and right
            lines = [line for block in self.plan.blocks for line in self._block(block)]
            return [(("▲ front", QUIET),), *lines]
        rows = [list(self._row("", names[:1])) for names in corners.cells]
        others = [list(self._row("", names[1:])) for names in corners.cells]
        lines: list[Line] = [((" " * (lead + self.cell) + "▲ front".center(BODY_WIDE), QUIET),)]
        for number, (left, right) in enumerate(zip(rows, others, strict=True)):
            lines += self._axle(corners.sides[number], left, right, number, len(rows))
        return lines + [line for block in rest for line in self._block(block)]

    def _axle(
        self, side: str, left: list[Line], right: list[Line], number: int, axles: int
    ) -> Iterator[Line]:
        body = BODY_WIDE - 4
        if number and self.roomy:
            yield ((" " * (self.side + 1 + self.cell) + f"  │{' ' * (body - 2)}│  ", QUIET),)
        for part in range(max(len(left), len(right))):
            top, bottom = (
                not number and not part,
                number == axles - 1 and part == max(len(left), len(right)) - 1,
            )
            edge = "╭╮" if top and not bottom else "╰╯" if bottom and not top else "││"
            fill = "─" if edge != "││" else " "
            name = pad(side if not part else "", self.side) + " "
            a = padded(left[part] if part < len(left) else BLANK, self.cell)
            b = right[part] if part < len(right) else BLANK
            yield ((name, QUIET), *a, (f"  {edge[0]}{fill * (body - 2)}{edge[1]}  ", QUIET), *b)
