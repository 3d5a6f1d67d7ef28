"""The offers of the shop: which are open, which were answered; a yes, a no, the card opened."""

from datetime import date
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut, shown
from shopcli.screens.acts import bindings
from shopcli.screens.ahead.answering import ask_no, ask_yes
from shopcli.screens.ahead.looking import look_at_offers
from shopcli.screens.ahead.on_paper import save_offer
from shopcli.screens.asks import Asks
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.saving import SAVED, say_saved
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.offer_commands import OpenFromOffer

if TYPE_CHECKING:
    from shopcli.store.reads.made_offers import OfferView

OFFERS = "offers"
NONE_YET = "No offer was made yet. Ctrl+Y at the desk shows a card's price; o makes an offer there."
STYLES = {"open": "", "accepted": "$text-success", "declined": "dim", "run out": "dim"}


class OffersScreen(Asks):
    """The list of offers, newest first."""

    CSS_PATH = "offers.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("offers")
    AUTO_FOCUS = "#offers"
    HELP_STATION = "offers"

    def __init__(self) -> None:
        super().__init__()
        self._offers: tuple[OfferView, ...] = ()
        self._today = date.min

    def compose(self) -> ComposeResult:
        """Lay out the list."""
        yield TopBar("Offers")
        yield MarkedList(id="offers", markup=False, compact=True)
        yield Static(Content(NONE_YET), id="none")
        yield KeyBar("offers", without=("app.desk", "app.bench", "app.week"))

    def on_mount(self) -> None:
        """Read the offers."""
        self.records_changed()

    def records_changed(self) -> None:
        """Read them again; the chosen one stays."""
        self.look_at_clock()
        self.look(OFFERS, partial(look_at_offers, self.desk_app.shop))

    def on_resize(self) -> None:
        """Lay the list out anew."""
        self._show()

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == OFFERS:
            self._offers, self._today = event.seen
            self._show()
        elif event.what == SAVED:
            say_saved(self, event.seen)

    def _show(self) -> None:
        from shopcli.price_words import offer_words

        listed = self.query_one("#offers", OptionList)
        chosen = listed.highlighted_option.id if listed.highlighted_option else None
        width, currency = max(20, self.size.width - 6), self.desk_app.shop.settings.currency
        options = []
        for o in self._offers:
            words, _kind = offer_words(o, self._today, currency)
            of = ", ".join(filter(None, (o.registration, o.customer, o.phone, o.opened or o.card)))
            style = STYLES.get(o.state(self._today), "")
            lines = (cut(shown(of), width), "bold"), "\n  ", (cut(words, width - 2), style)
            options.append(Option(Content.assemble(*lines), id=str(o.id)))
        listed.set_options(options)
        keys = [str(o.id) for o in self._offers]
        listed.highlighted = (keys.index(chosen) if chosen in keys else 0) if keys else None
        listed.display = bool(keys)
        if keys and self.focused is None:  # an empty list cannot keep the focus
            listed.focus()
        self.query_one("#none").display = not keys

    def chosen(self) -> "OfferView | None":
        """Return the chosen offer."""
        option = self.query_one("#offers", OptionList).highlighted_option
        return next((o for o in self._offers if option is not None and str(o.id) == option.id), None)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it; a card that was opened is gone to."""
        self.tell(event.done.said)
        if isinstance(event.command, OpenFromOffer):
            self.dismiss()
            self.desk_app.open_card(event.done.id)
        else:
            self.records_changed()

    # Acts ---------------------------------------------------------------------------------------------

    def action_yes(self) -> None:
        """Note that the customer says yes to the chosen offer."""
        if offer := self.chosen():
            self.ask(partial(ask_yes, offer=offer))

    def action_no(self) -> None:
        """Note that the customer says no to the chosen offer."""
        if offer := self.chosen():
            self.ask(partial(ask_no, offer=offer))

    def action_paper(self) -> None:
        """Save the chosen offer as PDF."""
        if offer := self.chosen():
            self.ask(partial(save_offer, offer=offer))

    @on(OptionList.OptionSelected, "#offers")
    def action_open(self) -> None:
        """Open the card of the chosen offer, or go to the one that is open."""
        offer = self.chosen()
        if offer is not None and not self.is_asking:
            self.carry_out(OpenFromOffer(offer.id))

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()
