"""The picture of the page: that of the chosen row's table, its bars as near as a key or a click."""

from collections.abc import Callable
from threading import Event

from textual import on
from textual.containers import Vertical
from textual.widgets import Static

from shopcli.papers.charts import Chart
from shopcli.papers.week.model import Page, Sheet
from shopcli.screens.week.bar import BarClicked
from shopcli.screens.week.moves import PageTurns
from shopcli.screens.week.rows import Figures, rows_of
from shopcli.screens.widgets.long_list import LongList

NO_BAR = -1


class Pictured(PageTurns):
    """A screen with pages and the picture that goes with them."""

    page: Page | None
    pages: tuple[Page, ...]

    def show(self, *, choose: str = "") -> None:
        """Show the page in front, a row of it chosen where one is named."""
        raise NotImplementedError

    def action_open(self) -> None:
        """Open the rows of the chosen figure."""
        raise NotImplementedError

    @on(LongList.Chosen)
    def show_chosen(self) -> None:
        """Show the picture that goes with the chosen row."""
        self.draw_chart()

    def _shown(self) -> tuple[Chart | None, int]:
        """Return the picture to show, and the bar the chosen row stands for."""
        page, row = self.page, self.list.chosen
        own = row.sheet.chart if isinstance(row, Figures) else None
        if own is not None and isinstance(row, Figures):
            return own, row.sheet.lines.index(row.line)
        charts = () if page is None else (page.chart, *(sheet.chart for sheet in page.sheets))
        return next((one for one in charts if one is not None and one.there), None), NO_BAR

    def draw_chart(self) -> None:
        """Make room for the picture, and draw it once the figures are painted: it takes as long as all of them."""
        if self.page is None:
            return
        chart, _place = self._shown()
        self.query_one("#picture").set_class(chart is None, "-none").set_class(
            self.page.name == "front", "-front"
        )
        self.when_painted(self._draw)

    def when_painted(self, then: Callable[[], object]) -> None:
        """Do something when what is shown by now is painted: asked of the list, for the screen hears of its rows from it."""
        self.list.call_after_refresh(then)

    def painted(self) -> Event:
        """Return what is set when figures and picture stand: what is read beside the painting holds it up."""
        painted = Event()
        self.when_painted(lambda: self.when_painted(painted.set))
        return painted

    async def _draw(self) -> None:
        """Draw the picture as it is to be by now, what draws it loaded with the first."""
        from shopcli.screens.week.plot import ChartPlot, legend

        chart, place = self._shown()
        if chart is None:
            return
        if not self.query(ChartPlot):
            await self.query_one("#plot", Vertical).mount(ChartPlot(plain=self.desk_app.plain))
        self.query_one(ChartPlot).draw(chart, place)
        self.query_one("#legend", Static).update(legend(chart, plain=self.desk_app.plain))

    def _table_of(self, chart: Chart | None) -> tuple[Page, Sheet] | None:
        """Return the table whose rows are the bars of a picture, and the page it stands on."""
        pairs = ((page, sheet) for page in self.pages for sheet in page.sheets)
        return next((pair for pair in pairs if chart is not None and pair[1].chart == chart), None)

    def choose_bar(self, place: int) -> None:
        """Choose the row a bar of the picture stands for; one beyond the last is the last."""
        found = self._table_of(self._shown()[0])
        if found is None:
            return
        page, sheet = found
        if page is not self.page:
            self.turn_to(page.name)
        rows = rows_of(page, self.list.columns)
        keys = [key for key, row in rows if isinstance(row, Figures) and row.sheet.name == sheet.name]
        if keys:
            self.show(choose=keys[min(place, len(keys) - 1)])

    @on(BarClicked)
    def open_bar(self, event: BarClicked) -> None:
        """Open the rows of the bar that was clicked."""
        self.choose_bar(event.place)
        self.action_open()

    def action_bars(self) -> None:
        """Go to the bars of the picture: the last of them, whose row Enter opens."""
        self.choose_bar(len(self._names()) - 1)

    def _names(self) -> tuple[object, ...]:
        chart = self._shown()[0]
        return () if chart is None else tuple(getattr(chart, "names", None) or getattr(chart, "rows", ()))
