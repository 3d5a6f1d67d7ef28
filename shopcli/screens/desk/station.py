"""The desk: who is in the shop with what, until when, and what holds it up. The first screen of the day.

The field on top always has the focus: the telephone rings, three letters are typed, and the card is there.
"""

from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, OptionList, Static

from shopcli.columns import shown
from shopcli.screens.acts import bindings
from shopcli.screens.desk.card_list import CardList, nothing
from shopcli.screens.desk.changes import Changing, commands
from shopcli.screens.desk.looking import OpenCards, look_at_cards, look_at_order
from shopcli.screens.desk.wording import head, totals
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.widgets.clean_input import FindInput
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.listed import CardRow

# The records tell by themselves when they change; this keeps running times true.
EVERY_S = 20.0
LEFT, RISKS = "what is left", "what is at risk"
SOON_S = 0.25  # by then the first picture is out; the planner loaded beside it would hold it up


class DeskScreen(Changing):
    """The list of open cards."""

    CSS_PATH = "station.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("desk")
    AUTO_FOCUS = "#find"
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]

    def __init__(self) -> None:
        super().__init__()
        self._choose_next: int | None = None
        self._painted = False
        self._just_read = False
        self._risks_old = True

    def compose(self) -> ComposeResult:
        """Lay out the field, the list and the line that counts."""
        yield TopBar("Desk")
        with Horizontal(id="finding"):
            yield Static(Content("Find"), id="find-label")
            yield FindInput(id="find", placeholder="registration, name, card number, job, task", compact=True)
        yield Static(Content(""), id="columns")
        yield CardList()
        yield Static(Content(""), id="nothing")
        yield Static(Content(""), id="left")
        yield Static(Content(""), id="totals")
        yield KeyBar("desk", without=("app.desk",))

    def on_mount(self) -> None:
        """Paint the first picture from real rows, then look again every few seconds."""
        self._show(look_at_cards(self.desk_app.shop, ""))
        self._just_read = True
        self.set_interval(EVERY_S, self._again)
        self.set_timer(SOON_S, self._look_at_left)

    def on_screen_resume(self) -> None:
        """Come back to the desk as it is now; what was read for the first picture is not read twice."""
        self.query_one("#find", Input).focus()
        if self._just_read:
            self._just_read = False
        else:
            self.reload()

    def _again(self) -> None:
        if self.is_current:
            self.reload()

    def reload(self) -> None:
        """Look at the cards again."""
        shop, text = self.desk_app.shop, self.query_one("#find", Input).value
        self.look("cards", lambda: look_at_cards(shop, text))

    def who_changed(self) -> None:
        """Somebody else stands here."""
        self.reload()

    def records_changed(self) -> None:
        """Look again; what was typed and which card is chosen stay."""
        self._risks_old = True
        self.reload()

    @on(Input.Changed, "#find")
    def narrow(self) -> None:
        """Narrow the list with every letter."""
        self.reload()

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == "cards":
            self._show(event.seen)
            self._chosen_changed()
        elif event.what == LEFT:
            order, words = event.seen
            self.desk_app.orders[order.view.card_id] = order
            row = self.query_one(CardList).chosen
            if row is not None and row.id == order.view.card_id:
                self._say("#left", Content(shown(f"{row.number}, left: {words}")))
            self._look_at_risks()
        elif event.what == RISKS:
            self.query_one(CardList).show_risks(event.seen)

    @on(OptionList.OptionHighlighted)
    def _chosen_changed(self) -> None:
        if self._painted:
            self._look_at_left()

    def _look_at_left(self) -> None:
        """See what is left of the chosen card, once the first picture stands."""
        self._painted = True
        row = self.query_one(CardList).chosen
        if row is None:
            self._say("#left", Content(""))
        else:
            shop, before = self.desk_app.shop, self.desk_app.orders.get(row.id)
            self.look(LEFT, partial(look_at_order, shop, row.id, before))

    def _look_at_risks(self) -> None:
        """See which cards head past their authority or their promise, once after every change of the records."""
        if self._risks_old:
            self._risks_old = False
            from shopcli.screens.ahead.looking import look_at_risks

            self.look(RISKS, partial(look_at_risks, self.desk_app.shop))

    def _show(self, seen: OpenCards) -> None:
        cards = self.query_one(CardList)
        cards.show_closed(seen.closed, self.desk_app.shop.settings.currency)
        cards.show(seen.rows, seen.today, choose=self._choose_next)
        if cards.chosen is not None and cards.chosen.id == self._choose_next:
            self._choose_next = None
        empty = not seen.rows and not seen.closed
        cards.display = not empty
        self.query_one("#columns").display = bool(seen.rows)
        self._say("#nothing", nothing(seen.text) if empty else Content(""))
        self.query_one("#nothing").display = empty
        words = totals(
            seen.rows,
            seen.today,
            narrowed=bool(seen.text.strip()),
            more=seen.more,
            closed=len(seen.closed),
        )
        self._say("#totals", Content("" if empty else words))
        clock = seen.clock_of(self.desk_app.who.id)
        since = seen.at - int(clock.since.timestamp()) if clock else 0
        self.query_one(TopBar).show(self.desk_app.who.name, clock, since)

    def _say(self, where: str, words: Content) -> None:
        """Show words in a line whose height is fixed: nothing else moves for them."""
        self.query_one(where, Static).update(words, layout=False)

    @on(CardList.Planned)
    def name_columns(self, event: CardList.Planned) -> None:
        """Name the columns as they are laid out."""
        self._say("#columns", head(event.columns))

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self.tell(event.done.said)
        self.reload()

    # Acts -------------------------------------------------------------------------------------------

    def chosen(self) -> CardRow | None:
        """Return the chosen open card, or say that there is none."""
        cards = self.query_one(CardList)
        if closed := cards.chosen_closed:
            self.tell(f"{closed.number} is closed. Enter opens its hand-over: money, papers; F4 its summary.")
        elif cards.chosen is None:
            self.tell("No card is chosen.")
        return cards.chosen

    def _hands_over(self) -> bool:
        """Open the hand-over of the chosen card, where it is a closed one."""
        closed = self.query_one(CardList).chosen_closed
        if closed is not None:
            from shopcli.screens.desk.handing import HandingScreen

            self.app.push_screen(HandingScreen(closed.id))
        return closed is not None

    @on(Input.Submitted, "#find")
    def action_open_bench(self) -> None:
        """Open the chosen card at the bench; a closed one at its hand-over."""
        if self._hands_over():
            return
        if row := self.chosen():
            self.desk_app.open_card(row.id)

    @on(OptionList.OptionSelected)
    def open_clicked(self) -> None:
        """Open the card that was clicked."""
        self.action_open_bench()

    def action_new_card(self) -> None:
        """Open a card for somebody."""
        from shopcli.screens.desk.new_card import NewCardScreen

        self.app.push_screen(NewCardScreen(), self._opened)

    def _opened(self, card_id: int | None) -> None:
        if card_id is not None:
            self._choose_next = card_id
            self.query_one("#find", Input).value = ""
        self.reload()

    def action_close_card(self) -> None:
        """Go through the closing check of the chosen card; of a closed one, to its hand-over."""
        if self._hands_over():
            return
        if row := self.chosen():
            from shopcli.screens.desk.closing import ClosingScreen

            self.app.push_screen(ClosingScreen(row.id))

    def action_summary(self) -> None:
        """Show the summary of the chosen card."""
        if row := self.query_one(CardList).chosen_closed or self.chosen():
            from shopcli.screens.summary import SummaryScreen

            self.app.push_screen(SummaryScreen(row.id))

    def action_hold(self) -> None:
        """Hold the chosen card, or go on with it."""
        row = self.chosen()
        if row is None:
            return
        if row.state == "held":
            self.carry_out(commands().MoveCard(row.id, "in hand"))
            return
        self.ask_why_held(row)

    def action_change(self) -> None:
        """Change what was written on the chosen card."""
        if row := self.chosen():
            self.change(row.id)

    def action_customer(self) -> None:
        """Change the customer of the chosen card, open or closed."""
        if row := self.query_one(CardList).chosen_closed or self.chosen():
            self.show_customer(row.id)

    def action_where(self) -> None:
        """Tell where the chosen card stands; from there it goes on at the bench."""
        if row := self.chosen():
            from shopcli.screens.whereabouts import WhereScreen

            def go_on(task_id: int | None) -> None:
                if task_id is not None:
                    self.desk_app.open_card(row.id, task_id)

            self.app.push_screen(WhereScreen(row.id), go_on)

    def action_ahead(self) -> None:
        """Show what the chosen card will cost and when it will be ready."""
        if row := self.chosen():
            from shopcli.screens.ahead.screen import AheadScreen

            self.app.push_screen(AheadScreen(row.id))

    def action_ring(self) -> None:
        """Show whom to ring."""
        self.desk_app.action_ring()

    def action_clear(self) -> None:
        """Clear what was typed."""
        self.query_one("#find", Input).value = ""

    def action_next(self) -> None:
        """Choose the next card."""
        self.query_one(CardList).move(1)

    def action_previous(self) -> None:
        """Choose the card before."""
        self.query_one(CardList).move(-1)

    def action_page_next(self) -> None:
        """Choose a card a screenful further on."""
        self.query_one(CardList).page(1)

    def action_page_previous(self) -> None:
        """Choose a card a screenful back."""
        self.query_one(CardList).page(-1)
