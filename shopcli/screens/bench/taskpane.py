"""The task in hand. Room is shared out so that the number is always in sight, and as large as it can be.

Where everything fits it stands in its order: caution, what to do, number, readings. Where it does not, the
text scrolls and the number stays.
"""

from collections.abc import Callable
from functools import cache

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll

from shopcli.columns import shown
from shopcli.screens.bench.inhand import InHand
from shopcli.screens.bench.sharing import Shares, Wishes, share
from shopcli.screens.bench.taskparts import (
    all_numbers,
    few_numbers,
    number_scale,
    one_number,
    readings,
    task_text,
)
from shopcli.screens.widgets.lines import BLANK, Line, wrapped
from shopcli.screens.widgets.linespane import LinesPane

NO_TASK = "No tasks on this card yet. The desk puts jobs on it (F5)."


class Given(LinesPane):
    """Shows the lines it was given, laid out for its width."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._build: Callable[[int], list[Line]] = lambda _width: []

    def give(self, build: Callable[[int], list[Line]]) -> None:
        """Take new lines."""
        self._build = build
        self.refresh(layout=True)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the lines given."""
        return self._build(width)


class TaskPane(Vertical):
    """Caution, title, what to do, numbers, readings."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._hand: InHand | None = None
        self._empty = NO_TASK

    def compose(self) -> ComposeResult:
        """Lay the parts of a task one below the other."""
        with VerticalScroll(id="text-scroll", can_focus=False):
            yield Given(id="text")
        yield Given(id="more")
        yield Given(id="why")
        yield Given(id="numbers")
        yield Given(id="readings")

    def show(self, hand: InHand | None, empty: str = NO_TASK) -> None:
        """Show a task, or words where there is none."""
        moved = (self._hand.task.id if self._hand else None) != (hand.task.id if hand else None)
        self._hand, self._empty = hand, empty
        self._fit()
        if moved and self.is_mounted:
            self.query_one("#text-scroll", VerticalScroll).scroll_home(animate=False)

    def on_resize(self, _event: events.Resize) -> None:
        """Share the room out anew."""
        self._fit()

    def read_on(self, by: int) -> None:
        """Scroll the text by pages."""
        scroll = self.query_one("#text-scroll", VerticalScroll)
        scroll.scroll_relative(y=by * max(1, scroll.size.height - 1), animate=False)

    def _fit(self) -> None:
        width, rows = self.size
        if not self.is_mounted or not width or not rows:
            return
        if self._hand is None:
            empty = self._empty
            self._lay(Shares(rows, [], []), lambda w: wrapped(empty, w, "bold"), [])
            return
        hand = self._hand
        wishes = Wishes(
            lambda tight: len(task_text(hand, width, tight=tight)),
            cache(lambda roomy: readings(hand, width, roomy)),
            lambda r, least: all_numbers(hand, width, r, least),
            lambda r, least: few_numbers(hand, width, r, least),
            lambda r, least: one_number(hand, width, r, least),
            number_scale(hand, width),
        )
        shares = share(rows, wishes)
        why = wrapped(f"Order: {shown(hand.why)}", width, "$foreground-muted", rest="  ") if hand.why else []
        fits = shares.rows() + len(why) <= rows
        self._lay(shares, lambda w: task_text(hand, w, tight=shares.tight), why if fits else [])

    def _lay(self, shares: Shares, text: Callable[[int], list[Line]], why: list[Line]) -> None:
        more: list[Line] = [(("▾ Page Down reads on", "bold $text-warning"),)] if shares.more else []
        space: list[Line] = [BLANK] * shares.gap
        self.query_one("#text-scroll").styles.height = max(1, shares.text)
        self.query_one("#text", Given).give(text)
        for name, lines in (
            ("more", more),
            ("why", why),
            ("numbers", space + shares.numbers if shares.numbers else []),
            ("readings", space + shares.readings if shares.readings else []),
        ):
            pane = self.query_one(f"#{name}", Given)
            pane.display = bool(lines)
            pane.give(lambda _width, lines=lines: lines)  # type: ignore[misc]
