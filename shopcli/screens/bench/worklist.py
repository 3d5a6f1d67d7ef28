"""The work list in order, as much of it around the task in hand as there is room for."""

from dataclasses import dataclass
from functools import lru_cache

from textual import events
from textual.message import Message

from shopcli.columns import cut, one_line, pad
from shopcli.screens.bench.wording import STATE_STYLE, minutes, task_mark, task_state_name
from shopcli.screens.widgets.lines import Line, padded, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.views import CardView, TaskView

STATE_COLUMN = 11
MINUTES_COLUMN = 7
TITLE_LINES = 4
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
        self._first: int | None = None  # the task on top, as the list stood last

    def show(self, view: CardView | None, chosen: int | None) -> None:
        """Show the tasks of a card with one of them in hand."""
        if (self._view.id if self._view else None) != (view.id if view else None):
            self._first = None
        self._view, self._chosen = view, chosen
        settled = sum(t.state != "open" for t in view.tasks) if view else 0
        title = f"{settled} of {len(view.tasks)} tasks settled" if view else ""
        if title != self.border_title:
            self.border_title = title
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
        first, last = window([len(b) for b in blocks], at, rows - 2 if counts else rows, self._first)
        self._first = first
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
        name = task_state_name(task)
        clock = ["clock runs"] if task.running else []
        barred = f" ({', '.join([*task.barred_by, *clock])})" if name == "barred" else ""
        barred = " (out of limits)" if name == "done out of limits" else barred
        said = (_in_list(name, task), one_line(f"{task.task.title}{barred}"), minutes(task.task.minutes))
        word = "" if task.state == "open" else "$foreground-muted"
        return _entry(said, STATE_STYLE.get(name, ""), word, width, chosen=task.id == self._chosen)

    def on_click(self, event: events.Click) -> None:
        """Choose the task clicked."""
        where = event.get_content_offset(self)
        if where is not None and where.y < len(self._row_of):
            self.post_message(self.Picked(self._row_of[where.y]))


def _in_list(name: str, task: TaskView) -> str:
    """Return sign and word of a state where there is little room: what it is done with stands behind the title."""
    mark = task_mark(task)
    return f"{mark.sign} done" if name == "done out of limits" else mark.text()


@lru_cache(maxsize=512)
def _entry(
    said: tuple[str, str, str], mark_style: str, word_style: str, width: int, *, chosen: bool
) -> list[Line]:
    """Return a task in the list; moving on changes two of them, and the others are as they were."""
    mark, words, time = said
    back = " on $primary-muted" if chosen else ""
    style = f"{mark_style}{back}".strip()
    plain = f"{'bold' if chosen else word_style}{back}".strip()
    title_room = max(8, width - STATE_COLUMN - MINUTES_COLUMN - 1)
    title = [t[0][0] for t in wrapped(words, title_room)]
    if len(title) > TITLE_LINES:  # the task pane says it whole
        title = [*title[: TITLE_LINES - 1], cut(" ".join(title[TITLE_LINES - 1 :]), title_room)]
    edge = "▌" if chosen else " "
    state = pad(cut(mark, STATE_COLUMN - 1), STATE_COLUMN)
    room = width - MINUTES_COLUMN
    first = _filled(((edge, style), (state, style), (title[0], plain)), room, plain)
    rest = [
        _filled(((edge, style), (" " * STATE_COLUMN, plain), (more, plain)), width, plain)
        for more in title[1:]
    ]
    return [(*first, (pad(time, MINUTES_COLUMN, right=True), plain)), *rest]


def _filled(line: Line, width: int, style: str) -> Line:
    full = padded(line, width)
    return (*full[:-1], (full[-1][0], style)) if len(full) > len(line) else full


def _count(sign: str, number: int, where: str) -> Line:
    return ((f"{sign} {number} more {where}" if number else "", "$foreground-muted"),)


def window(heights: list[int], at: int, rows: int, before: int | None = None) -> tuple[int, int]:
    """Return which tasks fit around one, as (first, one past the last): more of what comes than of what was.

    `before` is the first one as the list stood: it stays while the one in question has neighbours in sight, so that
    the list does not move under the eye with every key.

    Examples
    --------
    >>> window([1] * 10, 4, 3), window([1] * 10, 0, 3), window([1, 1, 5, 1], 2, 3)
    ((3, 6), (0, 3), (2, 3))
    >>> window([1] * 10, 5, 4, 3), window([1] * 10, 6, 4, 3)
    ((3, 7), (5, 9))

    Where there is room for more than stands below it, it moves up: nothing is hidden that has room.

    >>> window([1] * 5, 3, 10, 2), window([1] * 10, 6, 4, 5)
    ((0, 5), (5, 9))
    """
    if before is not None and before < len(heights):
        last = _full_from(heights, before, rows)
        full = before == 0 or sum(heights[before - 1 : last]) > rows
        above = before < at or before == at == 0
        below = at < last - 1 or at < last == len(heights)
        if full and above and below:
            return before, last
    return _around(heights, at, rows)


def _full_from(heights: list[int], first: int, rows: int) -> int:
    """Return one past the last task that fits below the first."""
    last, used = first, 0
    while last < len(heights) and used + heights[last] <= rows:
        used, last = used + heights[last], last + 1
    return last


def _around(heights: list[int], at: int, rows: int) -> tuple[int, int]:
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
