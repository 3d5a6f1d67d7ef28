"""The weeks as bars. Drawn column by column: two bars beside each other must be of the same width to be compared.

The two series differ by their sign as well as by colour, so nothing is lost without colours.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.color import Color, ColorParseError
from textual.content import Content
from textual.theme import Theme
from textual_plotext import PlotextPlot

LABEL = 5
SIGNS = ("█", "▒")
STYLES = ("text-primary", "text-warning")
BAR_MOST = 4
LEAST_TOP = 4
STEPS = (2, 4, 6, 8, 10)


@dataclass(frozen=True, slots=True)
class Series:
    """One row of bars."""

    name: str
    values: tuple[float, ...]


def top_of(values: Sequence[float]) -> int:
    """Return where the scale ends: the next round figure with a whole half.

    Examples
    --------
    >>> top_of([0, 3]), top_of([7.5]), top_of([41.2]), top_of([101]), top_of([])
    (4, 8, 60, 200, 4)
    """
    most = max((*values, LEAST_TOP))
    size = 1
    while most > STEPS[-1] * size:
        size *= 10
    return next(step * size for step in STEPS if most <= step * size)


def legend(series: Sequence[Series]) -> Content:
    """Return the signs of the series with their names."""
    parts: list[Content | str | tuple[str, str]] = []
    for sign, style, one in zip(SIGNS, STYLES, series, strict=False):
        parts += [(sign * 2, f"${style}"), f" {one.name}    "]
    return Content.assemble(*parts)


class WeekPlot(PlotextPlot):
    """Two series of bars by week."""

    can_focus = False

    def __init__(self) -> None:
        super().__init__()
        self._series: tuple[Series, ...] = ()
        self._names: tuple[str, ...] = ()

    def on_mount(self) -> None:
        """Follow the theme: the bars are drawn in its colours."""
        self.app.theme_changed_signal.subscribe(self, self._theme_changed)

    def _theme_changed(self, _theme: Theme) -> None:
        self._redraw()

    def draw(self, series: Sequence[Series], names: Sequence[str]) -> None:
        """Show these bars over these names."""
        self._series, self._names = tuple(series), tuple(names)
        self._redraw()

    def on_resize(self, _event: events.Resize) -> None:
        """Draw anew in the room there is."""
        self._redraw()

    def _redraw(self) -> None:
        width, height = self.size
        if not self._series or not self._names or width <= LABEL or not height:
            return
        # The terminal's own palette has no colours to mix a ground from: the plot keeps the terminal's.
        self.theme = "clear" if self.app.current_theme.ansi else "auto"
        plot = self.plt
        plot.clear_figure()
        columns = width - LABEL - 1
        slot = max(3, columns // len(self._names))
        bar = max(1, min(BAR_MOST, (slot - 1) // 2))
        top = top_of([v for s in self._series for v in s.values])
        middle = [i * slot + bar for i in range(len(self._names))]
        for nth, one in enumerate(self._series[: len(SIGNS)]):
            self._bars(one, [m + (nth - 1) * bar for m in middle], bar, nth)
        plot.xlim(0, columns - 1)
        plot.ylim(0, top)
        short = slot <= max(map(len, self._names))
        plot.xticks(middle, [n[-2:] if short else n for n in self._names])
        plot.yticks([0, top // 2, top], [f"{n:>{LABEL - 1}}" for n in (0, top // 2, top)])
        plot.xaxes(True, False)
        plot.yaxes(True, False)
        self.refresh()

    def _bars(self, series: Series, starts: Sequence[int], bar: int, nth: int) -> None:
        colour = self._colour(STYLES[nth])
        for start, value in zip(starts, series.values, strict=True):
            for x in range(start, start + bar):
                if value > 0:
                    self.plt.plot([x, x], [0, value], marker=SIGNS[nth], color=colour)

    def _colour(self, variable: str) -> object:
        try:
            colour = Color.parse(self.app.theme_variables.get(variable, ""))
        except ColorParseError:
            return "default"
        if colour.ansi is None:
            return colour.rgb
        # A theme of the terminal's own palette names colours instead of mixing them.
        return colour.ansi if colour.ansi >= 0 else "default"
