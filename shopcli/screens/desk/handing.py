"""The hand-over of a closed card: its papers, the money, the car with its keys, and what is due next."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from shopcli.columns import cut, shown
from shopcli.screens.acts import bindings
from shopcli.screens.blockspane import BlocksPane
from shopcli.screens.desk.changes import Changing
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.counter_commands import HandOver
from shopcli.shop.money_commands import CreditInvoice
from shopcli.store.shop import Shop

if TYPE_CHECKING:
    from shopcli.shop.handing_view import Handing

HANDING, PAPERS, INVOICE = "hand-over", "papers written", "invoice"
NAME_MOST = 60


def look_at_handing(shop: Shop, card_id: int) -> "Handing":
    """Return a closed card as the counter needs it."""
    from shopcli.store.reads.handing import handing

    return handing(shop, card_id)


def write_papers(shop: Shop, card_id: int) -> tuple[Path, ...]:
    """Write invoice and summary into the papers folder."""
    from shopcli.papers.filing import file_closed

    return file_closed(shop, card_id)


class HandingScreen(Changing[None]):
    """The hand-over of one closed card."""

    CSS_PATH = "handing.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("handing")
    AUTO_FOCUS = "#handing-scroll"
    HELP_STATION = "handing"
    OF_ONE_CARD = True

    def __init__(self, card_id: int) -> None:
        super().__init__()
        self._card_id = card_id
        self._seen: Handing | None = None
        self._writing = False

    def compose(self) -> ComposeResult:
        """Lay out the card, the blocks and where the papers are."""
        yield TopBar("Hand-over")
        yield Static(Content(""), id="card")
        with VerticalScroll(id="handing-scroll"):
            yield BlocksPane("The account is being read.", id="handing")
        yield Static(Content(""), id="papers")
        yield KeyBar("handing", without=("app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Read behind the screen."""
        self.query_one("#papers").display = False
        self.records_changed()

    def on_screen_resume(self) -> None:
        """Come back to the account as it stands."""
        self.records_changed()

    def records_changed(self) -> None:
        """Read it again."""
        self.look_at_clock()
        self.look(HANDING, partial(look_at_handing, self.desk_app.shop, self._card_id))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read, or where the papers are."""
        if event.what == HANDING:
            from shopcli.handing_words import handing_blocks

            self._seen = event.seen
            view = event.seen.view
            head = [view.number, view.registration, view.vehicle, view.customer, view.phone]
            self.query_one("#card", Static).update(Content("  ".join(cut(h, NAME_MOST) for h in head if h)))
            blocks = handing_blocks(event.seen, self.desk_app.shop.settings)
            self.query_one(BlocksPane).show(blocks)
        elif event.what == PAPERS:
            self._writing = False
            names = ", ".join(path.name for path in event.seen)
            line = self.query_one("#papers", Static)
            line.update(Content(f"Written: {names}\n" + shown(f"into {event.seen[0].parent}")))
            line.display = True
        elif event.what == INVOICE:
            from shopcli.screens.desk.crediting import ask_credit

            ask_credit(self, self._card_id, event.seen, self.carry_out)

    def on_not_looked(self, event: object) -> None:
        """Papers that could not be written may be asked for again."""
        self._writing = False
        super().on_not_looked(event)  # type: ignore[arg-type]

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self.tell(event.done.said)
        self.records_changed()
        if isinstance(event.command, CreditInvoice):
            self._put_on_paper(event.done.id)

    def _put_on_paper(self, credit_note_id: int) -> None:
        from shopcli.papers.filing import credit_pdf, file_credit

        shop = self.desk_app.shop
        if self.app.is_web:
            self.hand_out(partial(credit_pdf, shop, credit_note_id))
        else:
            self.look(PAPERS, partial(file_credit, shop, credit_note_id))

    # Acts ---------------------------------------------------------------------------------------------

    def action_papers(self) -> None:
        """Write invoice and summary as PDF and text into the papers folder; a browser is handed the one it is asked for."""
        if self.app.is_web:
            self._ask_which()
        elif not self._writing:
            self._writing = True
            self.look(PAPERS, partial(write_papers, self.desk_app.shop, self._card_id))

    def _ask_which(self) -> None:
        from shopcli.papers.filing import closed_pdf
        from shopcli.screens.dialogs import Choice

        make, choices = (
            partial(closed_pdf, self.desk_app.shop, self._card_id),
            (
                Choice("invoice", "Invoice", "PDF"),
                Choice("summary", "Summary", "PDF: what was done, with the readings"),
            ),
        )
        self.pick("Which paper?", choices, lambda what: self.hand_out(partial(make, what)))

    def action_pay(self) -> None:
        """Take money, what is due standing in the field; or give back what is in the customer's favour."""
        self.take_money(self._card_id)

    def action_credit(self) -> None:
        """Write a credit note: what of the invoice, and why."""
        from shopcli.store.reads.bills import bill_of_card

        self.look(INVOICE, partial(bill_of_card, self.desk_app.shop, self._card_id))

    def action_hand(self) -> None:
        """Hand the car over to whoever fetches it."""
        seen = self._seen
        if seen is None:
            return
        if seen.view.handed is not None:
            self.tell(f"{seen.view.registration} was handed over to {seen.view.handed_to} before.")
            return
        from shopcli.handing_words import due_words

        self.ask(
            f"Who fetches {seen.view.registration}?",
            lambda name: self.carry_out(HandOver(seen.view.id, name)),
            value=seen.view.customer,
            offered=True,
            note=due_words(seen, self.desk_app.shop.settings.currency),
        )

    def action_summary(self) -> None:
        """Show the summary."""
        from shopcli.screens.summary import SummaryScreen

        self.app.push_screen(SummaryScreen(self._card_id))

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()
