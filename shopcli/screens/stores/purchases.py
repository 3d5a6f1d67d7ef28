"""Orders under way, line by line: goods in with a few keys, sent, changed, not coming, given up."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby
from typing import Any, ClassVar

from textual.binding import BindingType

from shopcli.marks import purchase_state
from shopcli.screens.acts import bindings
from shopcli.screens.stores import order_asks, words
from shopcli.screens.stores.page import StoresPage
from shopcli.screens.widgets.lines import Line
from shopcli.shop.stores_views import OrderLineView, PurchaseView
from shopcli.store.reads.buying import purchases


@dataclass(frozen=True, slots=True)
class Coming:
    """A line that is still to come, and its order."""

    order: PurchaseView
    line: OrderLineView


class PurchasesPage(StoresPage):
    """The orders under way."""

    PAGE = HELP_STATION = "purchases"
    BINDINGS: ClassVar[list[BindingType]] = bindings("purchases")
    FIND = "type to narrow: an order, a supplier, a part, a card, late"
    NOTHING = "No order is under way. What is to be ordered stands on the page before."

    def read(self) -> tuple[Coming, ...]:
        """Return what is still to come."""
        return tuple(
            Coming(order, line)
            for order in purchases(self.desk_app.shop)
            for line in order.lines
            if line.rest
        )

    def key_of(self, row: Coming) -> str:
        """Return the line's id."""
        return str(row.line.id)

    def words_of(self, row: Coming) -> str:
        """Return what a line is found by."""
        order, line = row.order, row.line
        late = " late" if line.late else ""
        return f"{order.number} {order.supplier.name} {order.state} {line.name} {line.number} {' '.join(line.cards)}{late}"

    def grouped(self, rows: Sequence[Coming]) -> list[tuple[str, Any]]:
        """Return the lines under their orders."""
        plain = self.desk_app.plain
        found: list[tuple[str, Any]] = []
        for _key, some in groupby(rows, key=lambda row: row.order.id):
            lines = list(some)
            order = lines[0].order
            found.append(("", words.order_heading(order, purchase_state(order.state, plain=plain))))
            found += [(str(row.line.id), row) for row in lines]
        return found

    def head(self, width: int) -> str:
        """Return the names of the columns."""
        return words.line_head(width)

    def line(self, row: Coming, width: int) -> Line:
        """Return a line as a row."""
        return words.order_line(row.line, width)

    def details(self, row: Coming, width: int) -> list[Line]:
        """Return what more is known of a line."""
        return words.order_details(row.order, row.line, width)

    def act_on_enter(self) -> None:
        """Take the chosen part in."""
        self.action_goods_in()

    def action_goods_in(self) -> None:
        """Ask how many came and at what cost."""
        if row := self.chosen():
            self.ask(partial(order_asks.goods_in, line=row.line))

    def action_all_in(self) -> None:
        """Take everything of the order in, once it is said yes to."""
        if row := self.chosen():
            self.ask(partial(order_asks.all_in, order=row.order))

    def action_paper(self) -> None:
        """Show the order's paper."""
        from shopcli.screens.stores.order_paper import OrderPaper

        if row := self.chosen():
            self.app.push_screen(OrderPaper(row.order.number), lambda _answer: self.reload())

    def action_change(self) -> None:
        """Change the chosen line."""
        if row := self.chosen():
            self.ask(partial(order_asks.change, order=row.order, line=row.line))

    def action_not_coming(self) -> None:
        """Say that the rest of the line is not coming."""
        if row := self.chosen():
            self.ask(partial(order_asks.not_coming, line=row.line))

    def action_cancel(self) -> None:
        """Give the order up."""
        if row := self.chosen():
            self.ask(partial(order_asks.cancel, order=row.order))
