"""Work that is out: what is due first stands first, what is overdue says by how long and whom to ring."""

from functools import partial
from typing import ClassVar

from textual.binding import BindingType

from shopcli.screens.acts import bindings
from shopcli.screens.stores import outwork_asks, words
from shopcli.screens.stores.page import StoresPage
from shopcli.screens.widgets.lines import Line
from shopcli.shop.stores_views import OutworkView
from shopcli.store.reads.outwork import outwork


class OutworkPage(StoresPage):
    """The work that is out."""

    PAGE = HELP_STATION = "outwork"
    BINDINGS: ClassVar[list[BindingType]] = bindings("outwork")
    FIND = "type to narrow: the work, the firm, a card, a registration, over"
    NOTHING = "No work is out. F2 sends some out: from which card, what, to whom."

    def read(self) -> tuple[OutworkView, ...]:
        """Return the work that is out."""
        return outwork(self.desk_app.shop)

    def key_of(self, row: OutworkView) -> str:
        """Return its id."""
        return str(row.id)

    def words_of(self, row: OutworkView) -> str:
        """Return what it is found by."""
        over = " over" if row.days_over else ""
        return f"{row.what} {row.who} {row.card} {row.registration} {row.customer}{over}"

    def head(self, width: int) -> str:
        """Return the names of the columns."""
        return words.outwork_head(width)

    def line(self, row: OutworkView, width: int) -> Line:
        """Return it as a row."""
        return words.outwork_line(row, width)

    def details(self, row: OutworkView, width: int) -> list[Line]:
        """Return what more is known of it."""
        return words.outwork_details(row, width)

    def act_on_enter(self) -> None:
        """The chosen work is back."""
        self.action_came_back()

    def action_came_back(self) -> None:
        """Ask what it cost and is sold for; it is back. What is planned goes out first, or is done without."""
        if row := self.chosen():
            asks = outwork_asks.came_back if row.sent else outwork_asks.goes
            self.ask(partial(asks, one=row))

    def action_send(self) -> None:
        """Send work out."""
        self.ask(outwork_asks.send)

    def action_card(self) -> None:
        """Open its card at the bench."""
        if row := self.chosen():
            self.desk_app.open_card(row.card_id)

    def action_change(self) -> None:
        """Change what is known of it."""
        if row := self.chosen():
            self.ask(partial(outwork_asks.change, one=row))
