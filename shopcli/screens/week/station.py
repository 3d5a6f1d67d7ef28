"""The week: how it really went, thirteen weeks at a time; the owner's Friday afternoon."""

from datetime import date, timedelta
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from shopcli.screens.acts import bindings
from shopcli.screens.doing import Acting, Looked
from shopcli.screens.week.wording import Weeks, table
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.store.reads.week import monday_of, week_name, weeks
from shopcli.store.shop import Shop

COUNT = 13
EVERY_S = 30.0
CARDS, HOURS = "cards", "hours"
BEFORE_THAT = date(1990, 1, 1)


def this_monday(shop: Shop) -> date:
    """Return the Monday of the week we are in, in the shop's zone."""
    return monday_of(shop.local(shop.at()).date())


def look_at_weeks(shop: Shop, back: int) -> Weeks:
    """Return the weeks that end `back` weeks ago."""
    monday = this_monday(shop)
    return Weeks(weeks(shop, COUNT, monday - timedelta(weeks=back)), week_name(monday))


class WeekScreen(Acting[None]):
    """The weeks of the shop as a table and as bars."""

    CSS_PATH = "station.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("week")
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (100, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-lowest"), (23, "-low"), (30, "-high")]

    def __init__(self) -> None:
        super().__init__()
        self._back = 0
        self._what = CARDS
        self._weeks: Weeks | None = None

    def compose(self) -> ComposeResult:
        """Lay out the table, the legend and the room for the bars."""
        yield TopBar("Week")
        yield Static(Content(""), id="weeks")
        yield Static(Content(""), id="legend")
        yield Vertical(id="plot")
        yield KeyBar("week", without=("app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Paint the table at once; what draws the bars is loaded behind it."""
        self._take(look_at_weeks(self.desk_app.shop, self._back))
        self.who_changed()
        self.set_interval(EVERY_S, self._again)
        self.call_after_refresh(self._bring_plot)

    async def _bring_plot(self) -> None:
        from shopcli.screens.week.plot import WeekPlot

        await self.query_one("#plot").mount(WeekPlot())
        self._draw()

    def on_screen_resume(self) -> None:
        """Come back to the weeks as they are now."""
        self.who_changed()
        self.reload()

    def records_changed(self) -> None:
        """Look again at the weeks that are shown."""
        self.who_changed()
        self.reload()

    def _again(self) -> None:
        if self.is_current:
            self.reload()

    def reload(self) -> None:
        """Look at the weeks again."""
        shop, back = self.desk_app.shop, self._back
        self.look("weeks", lambda: look_at_weeks(shop, back))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == "weeks":
            self._take(event.seen)

    def on_resize(self) -> None:
        """Lay the table out anew in the width there is."""
        self._tell()

    def _take(self, seen: Weeks) -> None:
        self._weeks = seen
        self._tell()
        self._draw()

    def _tell(self) -> None:
        seen = self._weeks
        if seen is None:
            return
        shop, width = self.desk_app.shop, max(20, self.size.width - 2)
        self.query_one("#weeks", Static).update(table(seen, shop.settings.currency, width))
        first, last = seen.rows[0].week, seen.rows[-1].week
        self.query_one(TopBar).say(f"Week  {first} to {last}{', now' if last == seen.this else ''}")

    def _draw(self) -> None:
        from shopcli.screens.week.plot import Series, WeekPlot, legend

        seen = self._weeks
        plots = self.query(WeekPlot)
        if seen is None or not plots:
            return
        if self._what == CARDS:
            series = (
                Series("cards opened", tuple(float(r.opened) for r in seen.rows)),
                Series("cards closed", tuple(float(r.closed) for r in seen.rows)),
            )
        else:
            series = (
                Series("hours clocked", tuple(r.clocked_seconds / 3600 for r in seen.rows)),
                Series("hours sold", tuple(float(r.sold_hours) for r in seen.rows)),
            )
        plots.first().draw(series, [r.week[-3:] for r in seen.rows])
        self.query_one("#legend", Static).update(legend(series))

    # Acts ---------------------------------------------------------------------------------------------

    def _move(self, by: int) -> None:
        most = (this_monday(self.desk_app.shop) - BEFORE_THAT).days // 7
        back = max(0, min(self._back + by, most))
        if back != self._back:
            self._back = back
            self.reload()

    def action_earlier(self) -> None:
        """Go back a week."""
        self._move(1)

    def action_later(self) -> None:
        """Go on a week."""
        self._move(-1)

    def action_quarter_earlier(self) -> None:
        """Go back thirteen weeks."""
        self._move(COUNT)

    def action_quarter_later(self) -> None:
        """Go on thirteen weeks."""
        self._move(-COUNT)

    def action_this(self) -> None:
        """Go to this week."""
        self._move(-self._back)

    def action_what(self) -> None:
        """Plot cards, or hours."""
        self._what = HOURS if self._what == CARDS else CARDS
        self._draw()
