"""The week: seven pages of figures over a period, each figure opening to the rows it is made of; the owner's Friday."""

from datetime import timedelta
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.content import Content
from textual.widgets import Static

from shopcli.papers.week.model import Page
from shopcli.papers.week.report import period_words
from shopcli.screens.acts import bindings
from shopcli.screens.acts_week import PAGE_KEYS
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.week.away import AwayAsks
from shopcli.screens.week.looking import Read, glance, go_on, read
from shopcli.screens.week.papers import Papers
from shopcli.screens.week.pictured import Pictured
from shopcli.screens.week.room import lines_to_do, remember_lines_to_do, remembered_lines_to_do, with_room
from shopcli.screens.week.rows import Figures, Row, drawn, pages_line, rows_of
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.long_list import LongList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.own_time_commands import SetOwnTime
from shopcli.shop.week_period import Period
from shopcli.shop.week_times import new_factor
from shopcli.store.reads.week_bounds import this_week

EVERY_S = 60.0
PAINTED_S = 0.5  # what is never painted, for somebody went elsewhere, holds no reading up for longer
LENGTHS = (1, 4, 13, 52)
BACK_MOST = 52 * 40  # weeks; nobody's records are older
READING = "Reading the records …"


class WeekScreen(Pictured, Papers, AwayAsks):
    """The pages of the week."""

    CSS_PATH = "station.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("week")
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (150, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-lowest"), (24, "-low"), (30, "-high")]

    def __init__(self) -> None:
        super().__init__()
        self._back = 0
        self._weeks = 1
        self._page = "front"
        self._column = 1
        self._read: Read | None = None
        self._taken: tuple[str, int] | None = None

    def compose(self) -> ComposeResult:
        """Lay out the pages' line, the picture and the rows."""
        yield TopBar("Week")
        yield Static(Content(READING), id="pages")
        with Container(id="body"):
            with Vertical(id="picture"):
                yield Static(Content(""), id="legend")
                yield Vertical(id="plot")
            yield LongList(id="rows")
        yield KeyBar("week", without=("app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Look again from time to time."""
        self.set_interval(EVERY_S, self._again)

    def on_screen_resume(self) -> None:
        """Come back to the week as it is now."""
        self.who_changed()

    def who_changed(self) -> None:
        """Somebody else sees other pages."""
        super().who_changed()
        self.reload()

    def records_changed(self) -> None:
        """Look again at what is shown."""
        self.look_at_clock()
        self.reload()

    def _again(self) -> None:
        if self.is_current:
            self.reload()

    # Reading ----------------------------------------------------------------------------------------------

    @property
    def period(self) -> Period:
        """The weeks that are shown."""
        now = this_week(self.desk_app.shop)
        return Period(now.monday - timedelta(weeks=self._back + self._weeks - 1), self._weeks)

    def _next_periods(self) -> tuple[Period, ...]:
        """Return what the next key may ask for: the period before and the next longer one."""
        longer = LENGTHS[(LENGTHS.index(self._weeks) + 1) % len(LENGTHS)]
        return self.period.before, Period(self.period.until - timedelta(weeks=longer), longer)

    def reload(self, *, anew: bool = True) -> None:
        """Read the period; what does not depend on it is kept unless it is read `anew`."""
        shop, period, role, plain = (
            self.desk_app.shop,
            self.period,
            self.desk_app.who.role,
            self.desk_app.plain,
        )
        before = self._read
        if before is None or not before.whole:
            self.look("week", lambda: glance(shop, period, role, plain=plain))
            return
        kept = before.stands if not anew and before.role == role else None
        self.look("week", lambda: read(shop, period, role, kept, plain=plain))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read: first the figures, then all of it; what the next key may ask for is read behind."""
        if event.what != "week":
            return
        first, self._read = self._read is None or not self._read.whole, event.seen
        self.show()
        if not event.seen.whole:
            if event.number == self._asked[event.what]:  # else another period is asked for by now
                self._read_rest(event.seen)
        elif first:  # later the next key would have to wait for what it may never ask for
            self._go_on(event.seen)

    def _read_rest(self, shown: Read) -> None:
        """Read what the figures did not wait for."""
        app, painted = self.desk_app, self.painted()
        period, role, stands = shown.report.period, shown.role, shown.stands

        def rest() -> Read:
            painted.wait(PAINTED_S)
            return read(app.shop, period, role, stands, plain=app.plain)

        self.look("week", rest)

    def _go_on(self, shown: Read) -> None:
        shop, after, painted = self.desk_app.shop, self._next_periods(), self.painted()
        columns = self.list.columns
        rows = lines_to_do(shown.report.pages[0], columns)

        def on() -> None:
            painted.wait(PAINTED_S)
            remember_lines_to_do(columns, rows)
            go_on(shop, shown, after)

        self.look("went on", on, holds=False)

    # Showing ----------------------------------------------------------------------------------------------

    @property
    def page(self) -> Page | None:
        """The page in front; the first where somebody else may not see it."""
        if self._read is None:
            return None
        page = self._read.report.page(self._page) if self._read.whole else None
        return page or self._read.report.pages[0]

    @property
    def pages(self) -> tuple[Page, ...]:
        """Every page there is for whoever stands here, none while they are being read."""
        return self._read.report.pages if self._read and self._read.whole else ()

    def on_resize(self) -> None:
        """Lay everything out anew once the room is known."""
        self.call_after_refresh(self.show)

    def show(self, *, choose: str = "") -> None:
        """Show the page in front, a row of it chosen where one is named."""
        page = self.page
        if self._read is None or page is None:
            return
        report = self._read.report
        now = ", now" if not self._back else ""
        self.query_one(TopBar).say(f"Week  {period_words(report)}{now}")
        line = pages_line(report.pages, page.name, PAGE_KEYS)
        self.query_one("#pages", Static).update(Content.assemble(*line))
        self.list.show(self._rows(page), self._drawn, choose=choose)
        self.draw_chart()

    def _rows(self, page: Page) -> list[tuple[str, Row]]:
        columns = self.list.columns
        rows = rows_of(page, columns)
        whole = self._read is not None and self._read.whole
        return rows if whole else with_room(rows, remembered_lines_to_do(columns))

    def _drawn(self, row: object, width: int) -> tuple[tuple[str, str], ...]:
        here = row is self.list.chosen
        column = row.nearest(self._column) if here and isinstance(row, Figures) else -1
        return drawn(row, width, column)  # type: ignore[arg-type]

    def _redraw_rows(self) -> None:
        page = self.page
        if page is not None:
            self.list.show(self._rows(page), self._drawn)

    @on(LongList.Opened)
    def open_clicked(self) -> None:
        """Open the figure of the row that was clicked once more."""
        self.action_open()

    # Moving -----------------------------------------------------------------------------------------------

    def _move_figure(self, by: int) -> None:
        row = self.list.chosen
        if not isinstance(row, Figures) or not row.keyed:
            return
        place = row.keyed.index(row.nearest(self._column))
        self._column = row.keyed[max(0, min(place + by, len(row.keyed) - 1))]
        self._redraw_rows()

    def action_right(self) -> None:
        """Choose the next figure."""
        self._move_figure(1)

    def action_left(self) -> None:
        """Choose the figure before."""
        self._move_figure(-1)

    def turn_to(self, page: str) -> None:
        """Show a page, where whoever stands here may see it."""
        if self._read is not None and self._read.report.page(page) is None:
            self.tell("That page is for the owner.")
            return
        self._page, self._column = page, 1
        self.show()

    def _go(self, back: int) -> None:
        back = max(0, min(back, BACK_MOST))
        if back != self._back:
            self._back = back
            self.reload(anew=False)

    def action_earlier(self) -> None:
        """Go back by the period."""
        self._go(self._back + self._weeks)

    def action_later(self) -> None:
        """Go on by the period."""
        self._go(self._back - self._weeks)

    def action_this(self) -> None:
        """Go to the week we are in."""
        self._go(0)

    def action_longer(self) -> None:
        """Look at a longer period, or one week again."""
        self._weeks = LENGTHS[(LENGTHS.index(self._weeks) + 1) % len(LENGTHS)]
        self.reload(anew=False)

    # Acting -----------------------------------------------------------------------------------------------

    def action_open(self) -> None:
        """Open the rows of the chosen figure."""
        from shopcli.screens.week.opened import OpenedScreen

        row = self.list.chosen
        column = row.nearest(self._column) if isinstance(row, Figures) else -1
        if column < 0 or not isinstance(row, Figures):
            self.tell("This figure is made of the others; it has no rows of its own.")
            return
        self.app.push_screen(OpenedScreen(row.line.period or self.period, row.line.cells[column].key))

    def action_take(self) -> None:
        """Take over what the chosen job takes here."""
        row = self.list.chosen
        name = row.line.take if isinstance(row, Figures) else ""
        if not name or self._read is None:
            self.tell(
                "t takes over a time on the page of times, where a job says it is to be listed otherwise."
            )
            return
        stands = self._read.stands
        job, said = next(one for one in stands.actuals if one.template == name), stands.against[name]
        if said.to is None:
            return
        self._taken = (name, job.per_mille)
        factor = new_factor(job.per_mille, said.to)
        self.carry_out(SetOwnTime(name, factor, job.per_mille, said.cases, "as clocked here"))

    def action_undo(self) -> None:
        """List the job taken over last as it was before."""
        if self._taken is None:
            self.tell("Nothing was taken over here.")
            return
        name, before = self._taken
        self._taken = None
        self.carry_out(SetOwnTime(name, before, why="taken back"))

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done, and look again."""
        self.tell(event.done.said)
        self.reload()
