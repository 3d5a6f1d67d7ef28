"""The shelf: every part the shop keeps, found by a few letters; counted, changed, ordered, corrected with a key each."""

from functools import partial
from typing import ClassVar

from textual.binding import BindingType

from shopcli.screens.acts import bindings
from shopcli.screens.stores import shelf_asks, words
from shopcli.screens.stores.page import StoresPage
from shopcli.screens.widgets.lines import Line
from shopcli.shop.stores_views import StockView
from shopcli.store.reads.stock import stock


class ShelfPage(StoresPage):
    """The parts the shop keeps."""

    PAGE = HELP_STATION = "shelf"
    BINDINGS: ClassVar[list[BindingType]] = bindings("shelf")
    FIND = "type to narrow: a name, a number, a bin, a supplier, short"
    NOTHING = "No part is written down yet. F2 writes the first one down."

    def read(self) -> tuple[StockView, ...]:
        """Return every part."""
        return stock(self.desk_app.shop)

    def key_of(self, row: StockView) -> str:
        """Return the part's id."""
        return str(row.id)

    def words_of(self, row: StockView) -> str:
        """Return what a part is found by; ``short`` finds those that are."""
        return f"{row.name} {row.number} {row.bin} {row.supplier}{' short' if row.low else ''}"

    def head(self, width: int) -> str:
        """Return the names of the columns."""
        return words.shelf_head(width)

    def line(self, row: StockView, width: int) -> Line:
        """Return a part as a row."""
        return words.shelf_line(row, width)

    def details(self, row: StockView, width: int) -> list[Line]:
        """Return what more is known of a part."""
        return words.shelf_details(row, width, self.without_tax)

    def act_on_enter(self) -> None:
        """Show the past of the chosen part."""
        self.action_open()

    def action_open(self) -> None:
        """Show the movements and prices of the chosen part."""
        from shopcli.screens.stores.part_story import show_story

        if part := self.chosen():
            self.ask(partial(show_story, part_id=part.id))

    def action_new(self) -> None:
        """Write a part down."""
        self.ask(shelf_asks.new_part)

    def action_count(self) -> None:
        """Write down a count."""
        if part := self.chosen():
            self.ask(partial(shelf_asks.count, part=part))

    def action_change(self) -> None:
        """Change what is known of the part."""
        if part := self.chosen():
            self.ask(partial(shelf_asks.change, part=part))

    def action_order(self) -> None:
        """Put the part on an order."""
        if part := self.chosen():
            self.ask(partial(shelf_asks.order, part=part))

    def action_other(self) -> None:
        """Say what became of some of it."""
        if part := self.chosen():
            self.ask(partial(shelf_asks.other, part=part))
