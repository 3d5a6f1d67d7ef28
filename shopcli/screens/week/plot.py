"""Figures as a picture in the terminal. Bars are drawn column by column: two beside each other must be of the same width.

The two series differ by their sign as well as by their colour, so nothing is lost without colours. The bar of the row
that is chosen below has a mark at its name.
"""

from collections.abc import Sequence

from textual import events
from textual.app import RenderResult
from textual.color import Color, ColorParseError
from textual.content import Content
from textual.theme import Theme
from textual_plotext import PlotextPlot

from shopcli.columns import cut
from shopcli.papers.charts import Bars, Chart, Ranges, ends_of, top_of_bars
from shopcli.screens.week.bar import BarClicked

LABEL = 5
SIGNS, SIGNS_PLAIN = ("█", "▒"), ("#", "=")
STYLES = ("text-primary", "text-warning")
BAR_MOST = 4
SLOT_LEAST = 3
NAME_MOST = 30
HERE, HERE_PLAIN = "▸", ">"


def legend(chart: Chart, *, plain: bool = False) -> Content:
    """Return the title of a chart and what its signs mean."""
    if isinstance(chart, Ranges):
        return Content(f"{chart.title}: half of the cases, ◆ their middle, │ {chart.marked}")
    parts: list[Content | str | tuple[str, str]] = [(f"{chart.title}   ", "bold")]
    signs = SIGNS_PLAIN if plain else SIGNS
    for sign, style, one in zip(signs, STYLES, chart.series, strict=False):
        parts += [(sign * 2, f"${style}"), f" {one.name}   "]
    return Content.assemble(*parts)


class ChartPlot(PlotextPlot):
    """A chart of the report, drawn in the room there is."""

    can_focus = False

    def __init__(self, *, plain: bool = False) -> None:
        super().__init__()
        self._chart: Chart | None = None
        self._chosen = -1
        self._plain = plain
        self._slot = 0
        self._drawn = False

    def on_mount(self) -> None:
        """Follow the theme: the bars are drawn in its colours."""
        self.app.theme_changed_signal.subscribe(self, self._theme_changed)

    def _theme_changed(self, _theme: Theme) -> None:
        self._redraw()

    def draw(self, chart: Chart | None, chosen: int = -1) -> None:
        """Show a chart; `chosen` is the place of the bar the row below stands for, -1 for none."""
        if (chart, chosen) == (self._chart, self._chosen):
            return
        self._chart, self._chosen = chart, chosen
        self._redraw()

    def on_resize(self, _event: events.Resize) -> None:
        """Draw anew in the room there is."""
        self._redraw()

    def on_click(self, event: events.Click) -> None:
        """Tell which bar was clicked."""
        place = (event.x - LABEL) // self._slot if self._slot else -1
        if isinstance(self._chart, Bars) and 0 <= place < len(self._chart.names):
            self.post_message(BarClicked(place))

    def render(self) -> RenderResult:
        """Draw the chart; before there is one, and room for it, nothing is: a picture of nothing takes as long as one."""
        return super().render() if self._drawn else ""

    def _redraw(self) -> None:
        width, height = self.size
        # The terminal's own palette has no colours to mix a ground from: the plot keeps the terminal's.
        self.theme = "clear" if self.app.current_theme.ansi else "auto"
        plot, chart = self.plt, self._chart
        plot.clear_figure()
        self._drawn = chart is not None and chart.there and width > LABEL + SLOT_LEAST and height > 1
        if chart is not None and self._drawn:
            if isinstance(chart, Ranges):
                self._ranges(chart, height)
            else:
                self._bars(chart, width - LABEL)
            plot.xaxes(True, False)
            plot.yaxes(True, False)
        self.refresh()

    def _bars(self, chart: Bars, columns: int) -> None:
        plot, many = self.plt, len(chart.names)
        slot = self._slot = max(SLOT_LEAST, columns // many)
        bar = max(1, min(BAR_MOST, (slot - 1) // max(1, len(chart.series))))
        top = top_of_bars(chart)
        left = [i * slot + (slot - bar * len(chart.series)) // 2 for i in range(many)]
        signs = SIGNS_PLAIN if self._plain else SIGNS
        for nth, one in enumerate(chart.series[: len(signs)]):
            colour = self._colour(STYLES[nth])
            for start, value in zip(left, one.values, strict=True):
                for x in range(start + nth * bar, start + (nth + 1) * bar):
                    if value > 0:
                        plot.plot([x, x], [0, value], marker=signs[nth], color=colour)
        plot.xlim(0, columns - 1)
        plot.ylim(0, top)
        names = self._names(chart.names, slot)
        plot.xticks([x + bar * len(chart.series) // 2 for x in left], names)
        ticks = (0, top // 2, top)
        plot.yticks(ticks, [f"{n:>{LABEL - 1}}" for n in ticks])

    def _names(self, names: Sequence[str], slot: int) -> list[str]:
        here = HERE_PLAIN if self._plain else HERE
        short = slot <= max(map(len, names)) + 1
        shown = [name[-2:] if short else name for name in names]
        if 0 <= self._chosen < len(shown):
            shown[self._chosen] = f"{here}{shown[self._chosen]}"
        return shown

    def _ranges(self, chart: Ranges, height: int) -> None:
        plot = self.plt
        rows = chart.rows[: max(1, height - 1)]
        low, high = ends_of(chart)
        signs = ("-", "*", "|") if self._plain else ("─", "◆", "│")
        colours = [self._colour(style) for style in STYLES]
        places = [float(len(rows) - n) for n in range(len(rows))]
        plot.plot([chart.mark, chart.mark], [0.5, len(rows) + 0.5], marker=signs[2], color="default")
        for y, row in zip(places, rows, strict=True):
            plot.plot([row.low, row.high], [y, y], marker=signs[0], color=colours[0])
            plot.scatter([row.middle], [y], marker=signs[1], color=colours[1])
        plot.xlim(low, high)
        plot.ylim(0.5, len(rows) + 0.5)
        plot.yticks(places, [cut(row.name, NAME_MOST) for row in rows])
        ticks = (chart.mark, high)
        plot.xticks(ticks, [f"{tick:.1f}" for tick in ticks])

    def _colour(self, variable: str) -> object:
        try:
            colour = Color.parse(self.app.theme_variables.get(variable, ""))
        except ColorParseError:
            return "default"
        if colour.ansi is None:
            return colour.rgb
        # A theme of the terminal's own palette names colours instead of mixing them.
        return colour.ansi if colour.ansi >= 0 else "default"
