"""The task in hand. Room is shared out so that the number is always in sight, and as large as it can be.

Where everything fits it stands in its order: caution, what to do, number, readings. Where it does not, the
text scrolls and the number stays.
"""

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll

from shopcli.screens.bench.choosing import empty_slots
from shopcli.screens.bench.numberblocks import number_lines
from shopcli.screens.bench.numberwords import NumberSaid, say_numbers
from shopcli.screens.bench.readingwords import reading_cells, unjudged_reason
from shopcli.screens.bench.sumlines import sum_lines
from shopcli.screens.bench.tasklines import ReadingLines, missing_lines, reading_lines, text_lines
from shopcli.screens.bench.toollines import tool_lines
from shopcli.screens.widgets.lines import BLANK, Line, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.views import CardView, TaskView
from shopcli.units import Preferences
from shopcli.worklists.tool_choice import Advice

LEAST_READINGS = 2
FAR = 18  # rows from which the number is to be read from two steps away
NO_TASK = "No tasks on this card yet. The desk puts jobs on it (F5)."


@dataclass(frozen=True, slots=True)
class InHand:
    """What the pane shows: a task of a card, in whose units, and which reading is next."""

    view: CardView
    task: TaskView
    prefs: Preferences
    pending: frozenset[str] = frozenset()
    slot: str = ""
    titled: bool = True
    tools: tuple[Advice, ...] = ()

    def next_key(self) -> str:
        """Return the key of the reading to take next."""
        return self.slot or next((s.key for s in empty_slots(self.task, self.pending)), "")

    def marked(self) -> str:
        """Return the name of the number the next reading is taken against, where there are several."""
        key = self.next_key()
        specs = self.task.task.specs
        return next((s.spec for s in self.task.task.readings if s.key == key), "") if len(specs) > 1 else ""


@dataclass(frozen=True, slots=True)
class Shares:
    """How the rows are shared out; `tight` text has its cautions run together."""

    text: int
    numbers: list[Line]
    readings: int
    gap: int = 0
    tight: bool = False
    more: bool = False


@dataclass(frozen=True, slots=True)
class Wishes:
    """What would like to stand in the pane, to be laid out for the room it gets.

    `text` gives its rows, tight or not; `numbers` lays all numbers out large, `few` only the one that matters
    now, each for so many rows and not below a size.
    """

    text: Callable[[bool], int]
    readings: int
    numbers: Callable[[int, int], list[Line]]
    few: Callable[[int, int], list[Line]]

    def ways(self, rows: int) -> Iterator[tuple[bool, Callable[[int, int], list[Line]], int, int]]:
        """Yield (tight, numbers, smallest size, gap), the best to read from afar first."""
        if rows >= FAR:
            yield from ((False, self.numbers, 2, 1), (False, self.numbers, 2, 0), (False, self.few, 2, 0))
            yield True, self.few, 2, 0
        yield from ((False, self.numbers, 1, 1), (False, self.numbers, 1, 0), (False, self.few, 1, 0))
        yield from ((True, self.numbers, 1, 0), (True, self.few, 1, 0))


def share(rows: int, wishes: Wishes) -> Shares:
    """Share rows out between text, numbers and readings.

    The first way that fits is taken. When none does, the text is cut and scrolls: the number stays.
    """
    for tight, numbers, least, gap in wishes.ways(rows):
        text = wishes.text(tight)
        left = rows - text - wishes.readings - 2 * gap
        laid = numbers(left, least)
        if len(laid) <= left:
            return Shares(text, laid, wishes.readings, gap, tight)
    text, laid = wishes.text(True), wishes.few(0, 1)
    room = max(2, rows - len(laid))
    kept = min(text, max(1, room - min(wishes.readings, LEAST_READINGS)))
    more = kept < text
    return Shares(max(1, kept - more), laid, max(0, room - kept), 0, tight=True, more=more)


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
            self._lay(Shares(rows, [], 0), lambda w: wrapped(empty, w, "bold"), [])
            return
        hand = self._hand
        readings = _readings(hand, width)
        wishes = Wishes(
            lambda tight: len(_text(hand, width, tight=tight)),
            len(readings),
            lambda r, least: _numbers(hand, width, r, least),
            lambda r, least: _few_numbers(hand, width, r, least),
        )
        shares = share(rows, wishes)
        self._lay(shares, lambda w: _text(hand, w, tight=shares.tight), readings.within(shares.readings))

    def _lay(self, shares: Shares, text: Callable[[int], list[Line]], readings: list[Line]) -> None:
        more: list[Line] = [(("▾ Page Down reads on", "bold $text-warning"),)] if shares.more else []
        space: list[Line] = [BLANK] * shares.gap
        self.query_one("#text-scroll").styles.height = max(1, shares.text)
        self.query_one("#text", Given).give(text)
        for name, lines in (
            ("more", more),
            ("numbers", space + shares.numbers if shares.numbers else []),
            ("readings", space + readings if readings else []),
        ):
            pane = self.query_one(f"#{name}", Given)
            pane.display = bool(lines)
            pane.give(lambda _width, lines=lines: lines)  # type: ignore[misc]


def _text(hand: InHand, width: int, *, tight: bool) -> list[Line]:
    return text_lines(hand.view, hand.task, hand.prefs, width, tight=tight, titled=hand.titled)


def _numbers(hand: InHand, width: int, rows: int, least: int) -> list[Line]:
    task = hand.task.task
    asked = missing_lines(task.missing, width) + tool_lines(hand.tools, width)
    said = say_numbers(task.specs, hand.prefs)
    return number_lines(said, width, rows - len(asked), marked=hand.marked(), least=least) + asked


def _few_numbers(hand: InHand, width: int, rows: int, least: int) -> list[Line]:
    """The number the next reading is taken against stays large, the others stand in a line each."""
    task = hand.task.task
    said = say_numbers(task.specs, hand.prefs)
    first = next((n for n in said if n.name == hand.marked()), said[0] if said else None)
    rest = [line for other in said if other is not first for line in _in_a_line(other, width)]
    rest += missing_lines(task.missing, width) + tool_lines(hand.tools, width)
    if first is None:
        return rest
    return number_lines([first], width, rows - len(rest), marked=hand.marked(), least=least) + rest


def _in_a_line(said: NumberSaid, width: int) -> list[Line]:
    sure = " (to be confirmed)" if said.to_confirm else ""
    state = f", {said.state}" if said.state else ""
    return wrapped(f"{said.label}{state}: {said.sentence}{sure}", width, "bold", rest="  ")


def _readings(hand: InHand, width: int) -> ReadingLines:
    cells = reading_cells(hand.task, hand.pending, hand.slot)
    lines = reading_lines(cells, unjudged_reason(hand.task), width)
    return replace(lines, foot=(*lines.foot, *sum_lines(hand.task, width)))


def pending_of(task_id: int, pending: Collection[tuple[int, str]]) -> frozenset[str]:
    """Return the readings of one task that are on their way into the records."""
    return frozenset(slot for task, slot in pending if task == task_id)
