"""The work list in order, as much of it around the task in hand as there is room for."""

from dataclasses import dataclass

from textual import events
from textual.message import Message

from shopcli.columns import cut, pad, shown
from shopcli.screens.bench.wording import STATE_STYLE, minutes, task_mark, task_state_name
from shopcli.screens.widgets.lines import Line, padded, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.views import CardView, TaskView

STATE_COLUMN = 11
MINUTES_COLUMN = 7
ROOM_FOR_COUNTS = 9  # rows from which the list also says how much is above and below


class WorkList(LinesPane):
    """The tasks of a card; a click chooses one."""

    @dataclass
    class Picked(Message):
        """A task was clicked."""

        task_id: int

    def __init__(self, *, id: str) -> None:  # noqa: A002 - the framework's name
        super().__init__(id=id)
        self._view: CardView | None = None
        self._chosen: int | None = None
        self._row_of: list[int] = []

    def show(self, view: CardView | None, chosen: int | None) -> None:
        """Show the tasks of a card with one of them in hand."""
        self._view, self._chosen = view, chosen
        settled = sum(t.state != "open" for t in view.tasks) if view else 0
        self.border_title = f"{settled} of {len(view.tasks)} tasks settled" if view else ""
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the tasks around the one in hand."""
        if self._view is None or not self._view.tasks:
            self._row_of = []
            return [(("No tasks on this card yet." if self._view else "", "$foreground-muted"),)]
        tasks = self._view.tasks
        blocks = [self._task_lines(task, width) for task in tasks]
        at = next((i for i, t in enumerate(tasks) if t.id == self._chosen), 0)
        counts = rows >= ROOM_FOR_COUNTS and sum(map(len, blocks)) > rows
        first, last = window([len(b) for b in blocks], at, rows - 2 if counts else rows)
        lines = [line for block in blocks[first:last] for line in block]
        self._row_of = [
            task.id for task, block in zip(tasks[first:last], blocks[first:last], strict=True) for _ in block
        ]
        if counts:
            above, below = first, len(tasks) - last
            lines = [_count("↑", above, "above"), *lines, _count("↓", below, "below")]
            self._row_of = [tasks[first].id, *self._row_of, tasks[last - 1].id]
        return lines

    def _task_lines(self, task: TaskView, width: int) -> list[Line]:
        chosen = task.id == self._chosen
        name = task_state_name(task)
        back = " on $primary-muted" if chosen else ""
        style = f"{STATE_STYLE.get(name, '')}{back}".strip()
        word = "bold" if chosen else "$foreground-muted" if task.state != "open" else ""
        plain = f"{word}{back}".strip()
        barred = f" ({', '.join(task.barred_by)})" if name == "barred" else ""
        title = [
            t[0][0]
            for t in wrapped(
                shown(task.task.title) + barred, max(8, width - STATE_COLUMN - MINUTES_COLUMN - 1)
            )
        ]
        edge = "▌" if chosen else " "
        state = pad(cut(task_mark(task).text(), STATE_COLUMN - 1), STATE_COLUMN)
        time = pad(minutes(task.task.minutes), MINUTES_COLUMN, right=True)
        room = width - MINUTES_COLUMN
        lines = [(*_filled(((edge, style), (state, style), (title[0], plain)), room, plain), (time, plain))]
        lines += [
            _filled(((edge, style), (" " * STATE_COLUMN, plain), (more, plain)), width, plain)
            for more in title[1:]
        ]
        return lines

    def on_click(self, event: events.Click) -> None:
        """Choose the task clicked."""
        where = event.get_content_offset(self)
        if where is not None and where.y < len(self._row_of):
            self.post_message(self.Picked(self._row_of[where.y]))


def _filled(line: Line, width: int, style: str) -> Line:
    full = padded(line, width)
    return (*full[:-1], (full[-1][0], style)) if len(full) > len(line) else full


def _count(sign: str, number: int, where: str) -> Line:
    return ((f"{sign} {number} more {where}" if number else "", "$foreground-muted"),)


def window(heights: list[int], at: int, rows: int) -> tuple[int, int]:
    """Return which tasks fit around one, as (first, one past the last): more of what comes than of what was.

    Examples
    --------
    >>> window([1] * 10, 4, 3), window([1] * 10, 0, 3), window([1, 1, 5, 1], 2, 3)
    ((3, 6), (0, 3), (2, 3))
    """
    first, last, used = at, at + 1, heights[at]
    turns = ("below", "above", "below")
    while True:
        grown = False
        for turn in turns:
            if turn == "below" and last < len(heights) and used + heights[last] <= rows:
                used, last, grown = used + heights[last], last + 1, True
            if turn == "above" and first > 0 and used + heights[first - 1] <= rows:
                first, grown = first - 1, True
                used += heights[first]
        if not grown:
            return first, last
