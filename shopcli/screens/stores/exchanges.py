"""Old units of exchanges and parts sent back: who owes what, and one key for the next step of each."""

from functools import partial
from typing import ClassVar

from textual.binding import BindingType

from shopcli.screens.acts import bindings
from shopcli.screens.dialogs import Confirm
from shopcli.screens.stores import words
from shopcli.screens.stores.page import StoresPage
from shopcli.screens.stores.typing import what_sum, which_supplier
from shopcli.screens.widgets.lines import Line
from shopcli.shop.buying_commands import CreditCame, SendOldUnit
from shopcli.shop.part_commands import OldUnitBack
from shopcli.shop.stores_views import CREDITED, CUSTOMER_OWES, HERE, ExchangeView
from shopcli.store.reads.outwork import exchanges

CLOSED = "closed"
BILLED = "The card is closed and the surcharge is on its bill. Did the old unit come all the same?"
LATE = "y: it goes to the supplier now, and the customer is owed a credit note. n: it did not come."


class ExchangesPage(StoresPage):
    """Who owes what for old units and returns."""

    PAGE = HELP_STATION = "exchanges"
    BINDINGS: ClassVar[list[BindingType]] = bindings("exchanges")
    FIND = "type to narrow: a part, a customer, a card, a supplier"
    NOTHING = "Nobody owes anything for an exchange or a return."

    def __init__(self) -> None:
        super().__init__()
        self._settled = False

    def read(self) -> tuple[ExchangeView, ...]:
        """Return who owes what."""
        return exchanges(self.desk_app.shop, settled=self._settled)

    def key_of(self, row: ExchangeView) -> str:
        """Return its key."""
        return row.key

    def words_of(self, row: ExchangeView) -> str:
        """Return what it is found by."""
        return f"{row.what} {row.card} {row.registration} {row.customer} {row.supplier} {row.stands}"

    def head(self, width: int) -> str:
        """Return the names of the columns."""
        return words.exchange_head(width)

    def line(self, row: ExchangeView, width: int) -> Line:
        """Return it as a row."""
        return words.exchange_line(row, width, plain=self.desk_app.plain)

    def details(self, row: ExchangeView, width: int) -> list[Line]:
        """Return who owes what, and the next step."""
        return words.exchange_details(row, width)

    def act_on_enter(self) -> None:
        """Take the next step."""
        self.action_step()

    def action_step(self) -> None:
        """The old unit came, or it goes to the supplier, or the credit came."""
        if row := self.chosen():
            self.ask(partial(_step, row=row))

    def action_card(self) -> None:
        """Open its card at the bench."""
        row = self.chosen()
        if row and row.card_id is not None:
            self.desk_app.open_card(row.card_id)
        elif row:
            self.tell("It came from the shelf; no card is about it.")

    def action_all(self) -> None:
        """Show what is settled too, or no longer."""
        self._settled = not self._settled
        self.reload()


async def _step(page: StoresPage, row: ExchangeView) -> None:
    if row.stands == CREDITED:
        page.tell("It is settled; nothing more is to do.")
    elif row.stands == CUSTOMER_OWES and row.card_part_id is not None and row.card_state != CLOSED:
        page.carry_out(OldUnitBack(row.card_part_id))
    elif row.stands in {CUSTOMER_OWES, HERE} and row.card_part_id is not None:
        if row.stands == CUSTOMER_OWES and not await page.app.push_screen_wait(Confirm(BILLED, note=LATE)):
            return
        supplier = None if row.supplier else await which_supplier(page, f"To whom does it go: {row.what}?")
        if row.supplier or supplier is not None:
            page.carry_out(SendOldUnit(row.card_part_id, supplier))
    elif row.sent_back_id is not None:
        credit = await what_sum(
            page, f"What credit came: {row.what}?", row.credit, note=f"For all of it, {page.without_tax}."
        )
        if credit is not None:
            page.carry_out(CreditCame(row.sent_back_id, credit))
