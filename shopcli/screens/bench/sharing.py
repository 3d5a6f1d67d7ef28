"""How the rows of the task pane are shared out: the number is always in sight, and as large as it can be."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from shopcli.screens.bench.tasklines import ReadingLines
from shopcli.screens.widgets.lines import Line

LEAST_READINGS = 2
FAR = 18  # rows from which the number is to be read from two steps away
ROOM_FOR_SCALE = 9  # rows from which the scale stays even where the text has to be cut
SCALE_CUT = 2  # rows of it then: the line, and the reading that matters most
ROOMY, CLOSE, BARE = 2, 1, 0  # how readings are laid out


@dataclass(frozen=True, slots=True)
class Shares:
    """How the rows are shared out; `tight` text has its cautions run together."""

    text: int
    numbers: list[Line]
    readings: list[Line]
    gap: int = 0
    tight: bool = False
    more: bool = False

    def rows(self) -> int:
        """Return how many rows are taken."""
        gaps = self.gap * (bool(self.numbers) + bool(self.readings))
        return self.text + self.more + len(self.numbers) + len(self.readings) + gaps


Numbers = Callable[[int, int], list[Line]]


@dataclass(frozen=True, slots=True)
class Way:
    """One way to lay the pane out: which numbers, not below which size, how the readings."""

    numbers: Numbers
    least: int
    readings: int
    gap: int = 0
    tight: bool = False


@dataclass(frozen=True, slots=True)
class Wishes:
    """What would like to stand in the pane, to be laid out for the room it gets.

    `text` gives its rows, tight or not; `numbers` lays all numbers out large, `few` only the one that matters
    now and the others in a line each, `one` that one alone, each for so many rows and not below a size;
    `scale` is the number's scale, `readings` by how roomy. So many rows of the text are `cautions`.
    """

    text: Callable[[bool], int]
    readings: Callable[[int], ReadingLines]
    numbers: Numbers
    few: Numbers
    one: Numbers
    scale: list[Line]
    cautions: int = 0

    def ways(self, rows: int) -> Iterator[Way]:
        """Yield the ways, the best to read from afar first."""
        if rows >= FAR:
            yield Way(self.numbers, 2, ROOMY, gap=1)
            yield Way(self.numbers, 2, CLOSE, gap=1)
            yield Way(self.few, 2, ROOMY, gap=1)
            yield Way(self.numbers, 2, CLOSE)
            yield Way(self.few, 2, CLOSE)
            yield Way(self.few, 2, CLOSE, tight=True)
        yield Way(self.numbers, 1, CLOSE, gap=1)
        yield Way(self.numbers, 1, CLOSE)
        yield Way(self.few, 1, CLOSE)
        yield Way(self.numbers, 1, CLOSE, tight=True)
        yield Way(self.few, 1, CLOSE, tight=True)
        yield Way(self.few, 1, BARE, tight=True)
        yield Way(self.one, 1, BARE, tight=True)


def share(rows: int, wishes: Wishes) -> Shares:
    """Share rows out between text, numbers and readings.

    The first way that fits is taken. When none does, the text is cut and scrolls: the number stays.
    """
    for way in wishes.ways(rows):
        text, readings = wishes.text(way.tight), wishes.readings(way.readings)
        left = rows - text - len(readings) - len(wishes.scale) - 2 * way.gap
        laid = way.numbers(left, way.least)
        if len(laid) <= left:
            return Shares(text, laid + wishes.scale, readings.within(len(readings)), way.gap, way.tight)
    return _cut(rows, wishes)


def _cut(rows: int, wishes: Wishes) -> Shares:
    text, readings = wishes.text(True), wishes.readings(BARE)
    number, asked = wishes.one(0, 1), len(readings)
    for scale in (wishes.scale[:SCALE_CUT] if rows >= ROOM_FOR_SCALE else [], []):
        laid = number + scale
        room = max(2, rows - len(laid))
        kept = max(2, room - max(min(LEAST_READINGS, asked), min(asked, room // 2)))
        kept = min(text, max(kept, min(wishes.cautions + 1, room - 1)))
        if kept >= min(text, wishes.cautions + 1):
            break  # else the scale goes: the caution is to be read before it
    more = kept < text
    return Shares(max(1, kept - more), laid, readings.within(max(0, room - kept)), 0, tight=True, more=more)
