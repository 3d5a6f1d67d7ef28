"""Price and promise: what a card will cost and when it will be ready, or what jobs would that are only asked about."""

from collections.abc import Callable, Coroutine
from datetime import date
from functools import partial
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from shopcli.screens.acts import bindings
from shopcli.screens.ahead.answering import ask_no, ask_offer, ask_yes
from shopcli.screens.ahead.looking import Before, Seen, look_at_card, look_before, today
from shopcli.screens.ahead.on_paper import save_offer
from shopcli.screens.asks import Asks
from shopcli.screens.blockspane import BlocksPane
from shopcli.screens.desk.dates import in_words, read_date
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.saving import SAVED, say_saved
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.card_commands import ChangeCard
from shopcli.shop.command import Command
from shopcli.shop.offer_commands import MakeOffer
from shopcli.shop.seen import over

AHEAD, TITLE = "ahead", "Price and promise"


class AheadScreen(Asks):
    """What is to come of a card, or of jobs only asked about (`Before`)."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("ahead")
    AUTO_FOCUS = "#ahead-scroll"
    HELP_STATION = "ahead"
    OF_ONE_CARD = True

    def __init__(self, asked: int | Before) -> None:
        super().__init__()
        self._about = asked
        self._wanted: date | None = None
        self._seen: Seen | None = None

    def compose(self) -> ComposeResult:
        """Lay out the heading and what is said."""
        yield TopBar(TITLE)
        with VerticalScroll(id="ahead-scroll"):
            yield BlocksPane("The queue is being played.", id="ahead")
        yield KeyBar("ahead", without=("app.desk", "app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Read behind the screen."""
        self.records_changed()

    def records_changed(self) -> None:
        """Look again; the place in it stays."""
        self.look_at_clock()
        self.reload()

    def reload(self) -> None:
        """Look again."""
        shop, about = self.desk_app.shop, self._about
        if isinstance(about, Before):
            self.look(AHEAD, partial(look_before, shop, about, self._wanted))
        else:
            self.look(AHEAD, partial(look_at_card, shop, about, self._wanted))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == AHEAD:
            self._seen = event.seen
            self.query_one(TopBar).say(f"{TITLE}  {event.seen.heading}")
            self.query_one("#ahead", BlocksPane).show(event.seen.blocks)
        elif event.what == SAVED:
            say_saved(self, event.seen)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self.tell(event.done.said)
        self.reload()

    # Acts ---------------------------------------------------------------------------------------------

    def _do(self, command: Command) -> None:
        if not self.is_asking:
            self.carry_out(command)

    def action_promise(self) -> None:
        """Write the sure date on the card as its promise, or the day that was looked at."""
        card = self._seen.card if self._seen else None
        if card is None or card.promise is None:
            self.tell(
                "Only an open card is promised." if card is None else "Nothing is to be done on it any more."
            )
            return
        if card.promise.waits and self._wanted is None:
            self.tell(f"No day is sure: {card.promise.waits}. d chooses one all the same.")
            return
        day = self._wanted or card.promise.sure
        if day is None:
            self.tell("There is no such day within a year.")
        else:
            self._do(over(card, ChangeCard(card.id, card.version, promised=day.isoformat())))

    def action_day(self) -> None:
        """Look at another day."""
        self.ask(ask_day)

    def look_at_day(self, day: date | None) -> None:
        """Show how likely a day is, and who slips for it."""
        self._wanted = day
        self.reload()

    def action_offer(self) -> None:
        """Make an offer."""
        if self._seen is not None and self._seen.card is not None:
            self.ask(partial(ask_offer, card=self._seen.card))
        elif isinstance(self._about, Before) and self._about.vehicle_id is not None:
            self._do(MakeOffer(self._about.vehicle_id, self._about.templates))
        else:
            self.tell("The vehicle is not written down yet: save it first.")

    def action_yes(self) -> None:
        """Note that the customer says yes to the newest offer that is open."""
        self._answer(ask_yes)

    def action_no(self) -> None:
        """Note that the customer says no."""
        self._answer(ask_no)

    def _answer(self, question: Callable[..., Coroutine[Any, Any, None]]) -> None:
        card = self._seen.card if self._seen else None
        now = today(self.desk_app.shop)
        offer = next((o for o in card.offers if o.state(now) == "open"), None) if card else None
        if offer is None:
            self.tell("No offer is open here; o makes one.")
        else:
            self.ask(partial(question, offer=offer))

    def action_paper(self) -> None:
        """Save the newest offer of the card as PDF."""
        card = self._seen.card if self._seen else None
        if card is None or not card.offers:
            self.tell("No offer was made on this card; o makes one, l shows the others.")
        else:
            self.ask(partial(save_offer, offer=card.offers[0]))

    def action_offers(self) -> None:
        """Show all offers."""
        from shopcli.screens.ahead.offers import OffersScreen

        self.app.push_screen(OffersScreen())

    def action_back(self) -> None:
        """Go back."""
        self.dismiss(None)


async def ask_day(screen: AheadScreen) -> None:
    """Ask which day somebody would like."""
    now = today(screen.desk_app.shop)

    def understood(text: str) -> str:
        meant = read_date(text, now)
        return in_words(meant, now) if meant else ""

    text = await screen.ask_text(
        "Which day would they like?",
        check=lambda t: read_date(t, now),
        understood=understood,
        placeholder="4.12., fri, +3; left empty: the promise on the card",
        allow_empty=True,
    )
    if text is not None:
        screen.look_at_day(read_date(text, now))
