"""What the five pages of the stores share: a field that narrows, a long list, what is known of the chosen row, the way round.

A page says in a few small methods what it reads, what its rows are and what its keys do.
"""

import asyncio
import uuid
from collections.abc import Sequence
from datetime import date
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, Static

from shopcli.columns import cut
from shopcli.folded import folded
from shopcli.screens.acts_stores import PAGES
from shopcli.screens.asks import Asks
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.stores.around import pages_line
from shopcli.screens.widgets.clean_input import FindInput
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.lines import Line, as_content
from shopcli.screens.widgets.long_list import LongList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.act import Done
from shopcli.shop.command import Command
from shopcli.shop.stores_views import StoresCounts
from shopcli.store.reads.outwork import counts

OTHERS = ("app.desk", "app.bench", "app.week", "app.sheets")
DETAIL_ROWS = 8


class StoresPage(Asks):
    """Base of the pages."""

    CSS_PATH = "stores.tcss"
    AUTO_FOCUS = "#find"
    TYPES_AHEAD = True
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]
    PAGE: ClassVar[str]
    FIND: ClassVar[str] = "type to narrow"
    NOTHING: ClassVar[str] = "Nothing is here."

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[Any, ...] = ()
        self._counts: StoresCounts | None = None
        self._choose = ""

    @property
    def without_tax(self) -> str:
        """How a sum without the tax is said."""
        return self.desk_app.shop.settings.without_tax

    # What a page says ------------------------------------------------------------------------------------

    def read(self) -> tuple[Any, ...]:
        """Return the rows, read in a thread."""
        raise NotImplementedError

    def key_of(self, row: Any) -> str:
        """Return what names a row."""
        raise NotImplementedError

    def words_of(self, row: Any) -> str:
        """Return the text a row is found by."""
        raise NotImplementedError

    def line(self, row: Any, width: int) -> Line:
        """Return a row laid out in so many columns."""
        raise NotImplementedError

    def head(self, width: int) -> str:
        """Return the names of the columns."""
        raise NotImplementedError

    def details(self, row: Any, width: int) -> list[Line]:
        """Return what more is known of the chosen row."""
        raise NotImplementedError

    def grouped(self, rows: Sequence[Any]) -> list[tuple[str, Any]]:
        """Return the rows by their keys, with headings (without a key) between them where the page has such."""
        return [(self.key_of(row), row) for row in rows]

    def choose_next(self, key: str) -> None:
        """Have a row chosen as soon as it is read."""
        self._choose = key

    # Laying out ------------------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        """Lay out the page."""
        yield TopBar("Stores")
        yield Static(Content(""), id="pages")
        with Horizontal(id="finding"):
            yield Static(Content("Find"), id="find-label")
            yield FindInput(id="find", placeholder=self.FIND, compact=True)
        yield Static(Content(""), id="columns")
        yield LongList(id="rows")
        yield Static(Content(""), id="nothing")
        yield Static(Content(""), id="details")
        yield KeyBar(self.PAGE, without=OTHERS)

    def on_mount(self) -> None:
        """Read what the page shows."""
        self.look_at_clock()
        self.reload()

    def records_changed(self) -> None:
        """Look again; what is chosen and typed stays."""
        self.look_at_clock()
        self.reload()

    def reload(self) -> None:
        """Read the page again."""
        shop = self.desk_app.shop
        self.look("page", lambda: (self.read(), counts(shop)))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == "page":
            self.rows, self._counts = event.seen
            self.show_rows()

    @property
    def list(self) -> LongList:
        """The list of rows."""
        return self.query_one(LongList)

    @property
    def today(self) -> date:
        """The date in the shop's zone."""
        shop = self.desk_app.shop
        return shop.local(shop.at()).date()

    def on_resize(self) -> None:
        """Lay everything out anew."""
        if self._counts is not None:
            self.show_rows()

    @on(Input.Changed, "#find")
    def show_rows(self) -> None:
        """Show the rows that hold every word typed."""
        words = folded(self.query_one("#find", Input).value).split()
        found = [row for row in self.rows if all(w in folded(self.words_of(row)) for w in words)]
        listed = self.list
        listed.show(self.grouped(found), self._drawn, choose=self._choose)
        self._choose = ""
        listed.display = self.query_one("#columns").display = bool(found)
        nothing = self.query_one("#nothing", Static)
        nothing.display = not found and self._counts is not None
        nothing.update(Content("Nothing fits what is typed. Esc clears it." if self.rows else self.NOTHING))
        self.query_one("#columns", Static).update(Content(" " + self.head(listed.columns)))
        self.query_one(TopBar).say(self.title_of(len(found)))
        width = max(20, self.app.size.width - 2)
        self.query_one("#pages", Static).update(Content.assemble(*pages_line(self.PAGE, self._counts, width)))

    def _drawn(self, row: Any, width: int) -> Line:
        return ((cut(row, width), "bold"),) if isinstance(row, str) else self.line(row, width)

    def title_of(self, found: int) -> str:
        """Return the heading: how many of how many are shown."""
        return f"Stores  {found} of {len(self.rows)}" if found != len(self.rows) else f"Stores  {found}"

    @on(LongList.Chosen)
    def show_details(self) -> None:
        """Say what more is known of the chosen row."""
        pane = self.query_one("#details", Static)
        row = self.list.chosen
        pane.display = row is not None
        if row is not None:
            lines = self.details(row, max(20, self.app.size.width - 2))
            pane.update(as_content(lines[:DETAIL_ROWS]))

    def chosen(self) -> Any:
        """Return the chosen row; say so where there is none."""
        row = self.list.chosen
        if row is None:
            self.tell("Nothing is chosen.")
        return row

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self.tell(event.done.said)
        self.reload()

    async def act(self, command: Command) -> Done:
        """Do something and wait for its answer; a question that goes on needs it. A refusal is told where it is asked."""
        app = self.desk_app
        future = app.queue.submit(app.shop.do, command, by=app.who.id, op=uuid.uuid4().hex)
        done = await asyncio.wrap_future(future)
        self.tell(done.said)
        self.reload()
        return done

    # Keys ------------------------------------------------------------------------------------------------

    @on(LongList.Opened)
    def act_on_enter(self) -> None:
        """Do what the page's first key does: a click on the chosen row is Enter."""
        raise NotImplementedError

    def action_undo(self) -> None:
        """Take back what was done last on the stores."""
        from shopcli.screens.stores.undoing import undo

        self.ask(undo)

    def action_next_page(self) -> None:
        """Go on to the next page."""
        self._turn(1)

    def action_previous_page(self) -> None:
        """Go back a page."""
        self._turn(-1)

    def _turn(self, by: int) -> None:
        from shopcli.screens.stores.pages import page

        if not self.is_asking:
            self.app.switch_screen(page(PAGES[(PAGES.index(self.PAGE) + by) % len(PAGES)]))

    def action_back(self) -> None:
        """Clear what was typed; with nothing typed go back."""
        field = self.query_one("#find", Input)
        if field.value:
            field.value = ""
        else:
            self.dismiss(None)

    def action_down(self) -> None:
        """Choose the next row."""
        self.list.move(1)

    def action_up(self) -> None:
        """Choose the row before."""
        self.list.move(-1)

    def action_page_down(self) -> None:
        """Go a screenful further on."""
        self.list.page(1)

    def action_page_up(self) -> None:
        """Go a screenful back."""
        self.list.page(-1)
