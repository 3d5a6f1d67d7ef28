"""What is to be ordered, by supplier: what cards want beyond the shelf and what the shelf is short of, never twice."""

from collections.abc import Sequence
from functools import partial
from itertools import groupby
from typing import Any, ClassVar

from textual.binding import BindingType

from shopcli.screens.acts import bindings
from shopcli.screens.stores import words
from shopcli.screens.stores.page import StoresPage
from shopcli.screens.stores.supplier_asks import change_suppliers
from shopcli.screens.stores.typing import which_supplier
from shopcli.screens.widgets.lines import Line
from shopcli.shop.buying_commands import DraftOrder
from shopcli.shop.stores_views import NeedView
from shopcli.store.reads.buying import to_order


class NeedsPage(StoresPage):
    """The order list."""

    PAGE = HELP_STATION = "needs"
    BINDINGS: ClassVar[list[BindingType]] = bindings("needs")
    FIND = "type to narrow: a part, a supplier, a card, a registration"
    NOTHING = "Nothing is to be ordered: the shelf and what is on its way are enough for every open card."

    def read(self) -> tuple[NeedView, ...]:
        """Return what is to be ordered."""
        return to_order(self.desk_app.shop)

    def key_of(self, row: NeedView) -> str:
        """Return the key a need has for commands, too."""
        return row.key

    def words_of(self, row: NeedView) -> str:
        """Return what a need is found by."""
        return f"{row.name} {row.number} {row.supplier} {' '.join(row.cards)}{'' if row.cards else ' shelf'}"

    def grouped(self, rows: Sequence[NeedView]) -> list[tuple[str, Any]]:
        """Return the rows under their suppliers."""
        found: list[tuple[str, Any]] = []
        for supplier, some in groupby(rows, key=lambda need: need.supplier):
            found.append(("", supplier or "No supplier known"))
            found += [(need.key, need) for need in some]
        return found

    def head(self, width: int) -> str:
        """Return the names of the columns."""
        return words.need_head(width)

    def line(self, row: NeedView, width: int) -> Line:
        """Return a need as a row."""
        return words.need_line(row, width)

    def details(self, row: NeedView, width: int) -> list[Line]:
        """Return why it is to be ordered."""
        return words.need_details(row, width)

    def act_on_enter(self) -> None:
        """Put the chosen thing on an order."""
        self.action_order()

    def action_order(self) -> None:
        """Put the chosen thing on its supplier's order; where none is known, ask."""
        if (need := self.chosen()) is None:
            return
        if need.supplier_id is None:
            self.ask(partial(_elsewhere, need=need))
        else:
            self.carry_out(DraftOrder(need.supplier_id, (need.key,)))

    def action_order_all(self) -> None:
        """Put all there is from the chosen supplier on one order."""
        if (need := self.chosen()) is None:
            return
        if need.supplier_id is None:
            self.tell("No supplier is known for it. Enter asks from whom.")
        else:
            self.carry_out(DraftOrder(need.supplier_id))

    def action_elsewhere(self) -> None:
        """Order the chosen thing from another supplier."""
        if need := self.chosen():
            self.ask(partial(_elsewhere, need=need))

    def action_supplier(self) -> None:
        """Change what is known of a supplier."""
        self.ask(change_suppliers)


async def _elsewhere(page: StoresPage, need: NeedView) -> None:
    supplier = await which_supplier(page, f"From whom: {need.name}?", first=need.supplier_id)
    if supplier is not None:
        page.carry_out(DraftOrder(supplier, (need.key,)))
