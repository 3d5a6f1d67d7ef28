"""The clock, always in sight: on this task, on the card, where one's own clock runs, and everybody else's."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.columns import shown
from shopcli.present import h_mm
from shopcli.screens.bench.wording import names, of_expected, running_time
from shopcli.screens.widgets.bigfigures import SMALLEST, big, width_of
from shopcli.screens.widgets.lines import Line, beside, fitted, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.views import CardView, ClockView, TaskView

WORDS_ROOM = 20
TALL = 3
MORE = "l tells all"


@dataclass(frozen=True, slots=True)
class Clocks:
    """What the clock shows: a card as read at a second, the task in hand, one's own clock or break, everybody's."""

    view: CardView
    task: TaskView | None
    read_at: int
    mine: ClockView | None
    everyone: tuple[ClockView, ...] = ()

    def on_task(self, at: int) -> int:
        """Seconds on the task at a moment."""
        return _grown(self.task, at - self.read_at) if self.task else 0

    def on_card(self, at: int) -> int:
        """Seconds on the whole card at a moment."""
        return sum(_grown(t, at - self.read_at) for t in self.view.tasks)

    def others(self) -> tuple[ClockView, ...]:
        """Return the clocks and breaks of everybody but whoever stands here."""
        mine = self.mine.person_id if self.mine else None
        return tuple(c for c in self.everyone if c.person_id != mine)

    @property
    def runs(self) -> bool:
        """Whether any clock runs on the card."""
        return any(t.running for t in self.view.tasks)


def _grown(task: TaskView, since: int) -> int:
    return task.clocked_seconds + len(task.running) * max(0, since)


class ClockPane(LinesPane):
    """Time on the task in large figures where there is room, in a line where there is not."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._clocks: Clocks | None = None
        self._at = 0
        self.in_a_line = True

    def show(self, clocks: Clocks | None, at: int) -> None:
        """Show the clocks at a moment, in seconds UTC."""
        self._clocks, self._at = clocks, at
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the time on the task, then the rest."""
        if self._clocks is None or self._clocks.task is None:
            return [(("○ no clock", "$foreground-muted"),)]
        clocks, task = self._clocks, self._clocks.task
        time = running_time(clocks.on_task(self._at))
        style = "bold $text-accent" if task.running else "bold"
        if self.in_a_line:
            words = [
                f"{'●' if task.running else '○'} task {time} of {task.task.minutes} min",
                *self._rest(),
            ]
            return fitted(wrapped(" · ".join(words), width, style), rows, MORE, width)
        return fitted(self._tall(width, rows, time, style), rows, MORE, width)

    def _tall(self, width: int, rows: int, time: str, style: str) -> list[Line]:
        clocks = self._clocks
        if clocks is None or clocks.task is None:
            return []
        who = f"● running: {names(clocks.task.running)}" if clocks.task.running else "○ stopped"
        words = [f"{who}", f"this task, {clocks.task.task.minutes} min expected", *self._rest()]
        drawn: list[Line] = [((row, style),) for row in big(time, SMALLEST)]
        taken = width_of(time, SMALLEST)
        room = width - taken - 2
        beside_it = room >= WORDS_ROOM
        lines = beside(drawn, _all(words, room), taken) if beside_it else [*drawn, *_all(words, width)]
        return lines if len(lines) <= rows else _run_on(drawn, words, width, taken, beside_it=beside_it)

    def _rest(self) -> list[str]:
        clocks = self._clocks
        if clocks is None or clocks.task is None:
            return []
        rest = [f"card {of_expected(clocks.on_card(self._at), clocks.view.expected_minutes)}"]
        mine = clocks.mine
        if mine is not None and mine.on_break:
            rest.insert(0, f"◌ your break {h_mm(self._since(mine))}, b goes on")
        elif mine is not None and mine.task_id != clocks.task.id:
            here = mine.card_id == clocks.view.id
            task = "another task" if here else mine.card
            rest.append(
                f"! yours runs on {task}"
                if self.in_a_line
                else shown(f"! yours runs on {mine.card}: {mine.task}")
            )
        rest += [self._other(other) for other in clocks.others()]
        return rest

    def _since(self, clock: ClockView) -> int:
        return max(0, self._at - int(clock.since.timestamp()))

    def _other(self, clock: ClockView) -> str:
        """Say where somebody else's clock runs: in a word where there is little room."""
        time = h_mm(self._since(clock))
        if clock.on_break:
            return shown(f"◌ {clock.person} on a break {time}")
        if self.in_a_line:
            return shown(f"● {clock.person} {time} {clock.card}")
        return shown(f"● {clock.person} {time} {clock.card}: {clock.task}")


def _run_on(
    drawn: Sequence[Line], words: Sequence[str], width: int, taken: int, *, beside_it: bool
) -> list[Line]:
    """Lay the words out where rows are few: beside the figures as many as stand there, the rest run on below."""
    near: list[Line] = []
    rest = list(words)
    while beside_it and rest:
        more = wrapped(rest[0], width - taken - 2)
        if len(near) + len(more) > len(drawn):
            break
        near += more
        rest.pop(0)
    below = wrapped(" · ".join(rest), width) if rest else []
    return [*(beside(drawn, near, taken) if near else drawn), *below]


def _all(words: Sequence[str], width: int) -> list[Line]:
    return [line for text in words for line in wrapped(text, width)]
