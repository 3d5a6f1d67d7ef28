"""An order on paper: to read out over the telephone, to save, to copy into a mail; and to say that it is sent."""

from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from shopcli.screens.acts import bindings
from shopcli.screens.asks import Asks
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.saving import SAVED, save_paper, say_saved
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.buying_commands import SendOrder
from shopcli.store.reads.buying import purchase
from shopcli.store.shop import Shop

OTHERS = ("app.desk", "app.bench", "app.week", "app.sheets")


def text_of(shop: Shop, number: str) -> str:
    """Return an order as text."""
    from shopcli.papers.of_records import in_form, purchase_of

    return in_form(shop, purchase_of(shop, number), "text").content.decode("utf-8")


class OrderPaper(Asks):
    """The paper of one order."""

    CSS_PATH = "stores.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("order_paper")
    AUTO_FOCUS = "#paper"
    HELP_STATION = "order_paper"

    def __init__(self, number: str) -> None:
        super().__init__()
        self._number = number
        self._text = ""

    def compose(self) -> ComposeResult:
        """Lay out the paper."""
        yield TopBar("Order")
        with Container(id="table"), VerticalScroll(id="paper"):
            yield Static(Content("The order is being written."), id="text")
        yield KeyBar("order_paper", without=OTHERS)

    def on_mount(self) -> None:
        """Write it behind the screen."""
        self.look_at_clock()
        self.reload()

    def records_changed(self) -> None:
        """Write it anew."""
        self.look_at_clock()
        self.reload()

    def reload(self) -> None:
        """Read the order and write its paper."""
        shop, number = self.desk_app.shop, self._number
        self.look("paper", lambda: (purchase(shop, number), text_of(shop, number)))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was written."""
        if event.what == "paper":
            order, self._text = event.seen
            self.query_one("#text", Static).update(Content(self._text))
            self.query_one(TopBar).say(f"Order {order.number}, {order.supplier.name}: {order.state}")
        elif event.what == SAVED:
            say_saved(self, event.seen)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done."""
        self.tell(event.done.said)
        self.reload()

    def action_sent(self) -> None:
        """Say that the order went out."""
        shop, number = self.desk_app.shop, self._number
        self.carry_out(SendOrder(purchase(shop, number).id))

    def action_save(self) -> None:
        """Save the text."""
        if self._text:
            text = self._text
            self.ask(
                partial(save_paper, number=self._number, ending=".txt", what="order", content=lambda: text)
            )

    def action_copy(self) -> None:
        """Send the text to the clipboard of the terminal, which does not answer whether it took it."""
        if self._text:
            self.app.copy_to_clipboard(self._text)
            words = "Sent to the terminal clipboard. Not every terminal takes it; F2 saves a file."
            self.notify(words, markup=False)

    def action_back(self) -> None:
        """Go back."""
        self.dismiss(None)
