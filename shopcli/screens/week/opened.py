"""The rows a figure is made of, and what they come to; Enter goes to the card."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType

from shopcli.papers.week.model import Page
from shopcli.papers.week.opened import opened_for
from shopcli.screens.acts import bindings
from shopcli.screens.doing import Looked
from shopcli.screens.week.moves import ListMoves
from shopcli.screens.week.rows import Figures, drawn, rows_of
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.long_list import LongList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.week_period import Period
from shopcli.shop.week_rights import may_open

NO_COLUMN = -1


class OpenedScreen(ListMoves):
    """The rows of one figure."""

    CSS_PATH = "opened.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("weekrows")
    HELP_STATION = "weekrows"

    def __init__(self, period: Period, key: str) -> None:
        super().__init__()
        self._period = period
        self._key = key
        self._page: Page | None = None

    def compose(self) -> ComposeResult:
        """Lay out the list."""
        yield TopBar("Week")
        yield LongList(id="rows")
        yield KeyBar("weekrows", without=("app.desk", "app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Read the rows."""
        self.records_changed()

    def on_screen_resume(self) -> None:
        """Go away when somebody else stands here who may not see this figure."""
        if self.is_current and not may_open(self.desk_app.who.role, self._key):
            self.dismiss(None)

    def who_changed(self) -> None:
        """Somebody else stands here."""
        self.on_screen_resume()
        super().who_changed()

    def records_changed(self) -> None:
        """Read them again; the chosen one stays."""
        self.look_at_clock()
        app, period, key = self.desk_app, self._period, self._key
        self.look("rows", lambda: opened_for(app.shop, period, key, app.who.role, plain=app.plain))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == "rows":
            self._page = event.seen
            self.show()

    def on_resize(self) -> None:
        """Lay the rows out anew once the room is known."""
        self.call_after_refresh(self.show)

    def show(self) -> None:
        """Show the rows."""
        if self._page is None:
            return
        self.query_one(TopBar).say(f"Week  {self._page.title}")
        rows = rows_of(self._page, self.list.columns)
        self.list.show(rows, lambda row, width: drawn(row, width, NO_COLUMN))

    @on(LongList.Opened)
    def action_go(self) -> None:
        """Open the card of the chosen row at the bench."""
        row = self.list.chosen
        key = row.line.cells[0].key if isinstance(row, Figures) else ""
        if not key:
            self.tell("This row is of no card.")
            return
        card = int(key.removeprefix("card:"))
        self.dismiss(None)
        self.desk_app.open_card(card)

    def action_back(self) -> None:
        """Go back to the week."""
        self.dismiss(None)
