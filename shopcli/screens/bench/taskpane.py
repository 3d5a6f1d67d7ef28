"""The task in hand. Room is shared out so that the number is always in sight, and as large as it can be.

Where everything fits it stands in its order: caution, what to do, number, readings. Where it does not, the
text scrolls and the number stays.
"""

from functools import cache, partial
from typing import NamedTuple

from textual import events

from shopcli.columns import shown
from shopcli.screens.bench.inhand import InHand
from shopcli.screens.bench.kept import Kept
from shopcli.screens.bench.sharing import Shares, Wishes, share
from shopcli.screens.bench.taskparts import (
    all_numbers,
    caution_rows,
    few_numbers,
    number_scale,
    one_number,
    readings,
    task_text,
)
from shopcli.screens.widgets.lines import BLANK, Line, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.screens.widgets.scrollmark import with_scroll_mark

NO_TASK = "No tasks on this card yet. The desk puts jobs on it (F5)."
WHEEL_ROWS = 2
TYPED_ROWS = 1


class Text(NamedTuple):
    """What may have to scroll: all its lines, and how many rows of them are in sight."""

    lines: list[Line]
    rows: int

    @property
    def last(self) -> int:
        """The line that stands on top when the end is in sight."""
        return max(0, len(self.lines) - self.rows)


class TaskPane(LinesPane):
    """Caution, title, what to do, numbers, readings."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._hand: InHand | None = None
        self._empty = NO_TASK
        self._kept = Kept()
        self._text = Text([], 0)
        self._top = 0

    def show(self, hand: InHand | None, empty: str = NO_TASK) -> None:
        """Show a task, or words where there is none."""
        moved = (self._hand.task.id if self._hand else None) != (hand.task.id if hand else None)
        self._hand, self._empty = hand, empty
        if moved:
            self._top = 0
        self.lay_again()

    def read_on(self, by: int) -> None:
        """Scroll the text by pages."""
        self._scroll(by * max(1, self._text.rows - 1))

    def _scroll(self, rows: int) -> None:
        top = max(0, min(self._text.last, self._top + rows))
        if top != self._top:
            self._top = top
            self.lay_again()

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Read on."""
        event.stop()
        self._scroll(WHEEL_ROWS)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Go back."""
        event.stop()
        self._scroll(-WHEEL_ROWS)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return text, number and readings in the room they are given."""
        if self._hand is None:
            self._text = Text(wrapped(self._empty, width, "bold"), rows)
            return self._text.lines
        hand, kept = self._hand, self._kept
        kept.take(hand)
        wishes = Wishes(
            lambda tight: len(kept.lay(task_text, width, tight=tight)),
            cache(lambda roomy: readings(hand, width, roomy)),
            partial(kept.lay, all_numbers, width),
            partial(kept.lay, few_numbers, width),
            partial(kept.lay, one_number, width),
            number_scale(hand, width),
            kept.lay(caution_rows, width, tight=True),
        )
        shares = share(rows, wishes)
        why = (
            wrapped(f"Why now: {shown(hand.why)}", width, "$foreground-muted", rest="  ") if hand.why else []
        )
        # What is typed takes a row of the scale: the words above the number do not make way for it then.
        typed = TYPED_ROWS if wishes.scale and hand.next_key() and hand.typed() is None else 0
        if shares.rows() + len(why) + typed > rows:
            why = []
        return [*self._in_sight(shares, width), *why, *_beneath(shares)]

    def _in_sight(self, shares: Shares, width: int) -> list[Line]:
        """Return what is in sight of the text; beside one that scrolls there is room for a mark."""
        room = width - 1 if shares.more else width
        text, rows = self._kept.lay(task_text, room, tight=shares.tight), max(1, shares.text)
        if not shares.more:
            self._text, self._top = Text(text, rows), 0
            return [*text[:rows], *[BLANK] * (rows - len(text))]
        cautions = self._kept.lay(caution_rows, room, tight=shares.tight)
        # A caution is never read past: of a long one as much stays as leaves a line to read on in.
        still = min(cautions, max(1, rows - 1))
        self._text = Text(text[still:], rows - still)
        self._top = min(self._top, self._text.last)
        lines = self._text.lines[self._top : self._top + self._text.rows]
        marked = with_scroll_mark(lines, width, len(self._text.lines), self._top)
        return [*text[:still], *marked, (("▾ Page Down reads on", "bold $text-warning"),)]


def _beneath(shares: Shares) -> list[Line]:
    space: list[Line] = [BLANK] * shares.gap
    numbers = space + shares.numbers if shares.numbers else []
    return numbers + (space + shares.readings if shares.readings else [])
