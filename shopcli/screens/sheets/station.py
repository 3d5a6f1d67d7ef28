"""The sheets: every number of a vehicle or a sheet, where it comes from, and entering them with the handbook open.

The field on top has the focus: a few letters narrow the list, Enter opens the form below it. Nothing here is ever
said without where it comes from.
"""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, OptionList, Static

from shopcli.columns import cut
from shopcli.screens.acts import bindings
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.sheets import asking
from shopcli.screens.sheets.entering import SHIPPED, Entering
from shopcli.screens.sheets.entryform import EntryForm
from shopcli.screens.sheets.looking import Target, look_at, narrowed, target_of, vehicle_of_card
from shopcli.screens.sheets.numberlist import NumberList
from shopcli.screens.sheets.numberpane import NumberPane
from shopcli.screens.sheets.wording import chain_words, head, heading, printed_text
from shopcli.screens.widgets.clean_input import CleanInput
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.sheet_commands import MakeSheet
from shopcli.shop.sheet_views import SHEET, NumberView

OTHERS = ("app.desk", "app.bench", "app.week")


class SheetsScreen(Entering):
    """The numbers of one sheet or vehicle."""

    CSS_PATH = "sheets.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("sheets")
    AUTO_FOCUS = "#find-number"
    HELP_STATION = "sheets"
    TYPES_AHEAD = True
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]

    def __init__(self, card_id: int | None = None, target: Target | None = None) -> None:
        super().__init__()
        self._card_id = card_id
        self._target = target
        self._added: tuple[NumberView, ...] = ()
        self._choose = ""

    def compose(self) -> ComposeResult:
        """Lay out the field, the list, what is known of the chosen number, and the form in its place."""
        yield TopBar("Sheets")
        with Horizontal(id="finding-number"):
            yield Static(Content("Find"), id="find-number-label")
            yield CleanInput(
                id="find-number",
                placeholder="type to narrow: gap, practice, differs, missing; Enter types the number",
                compact=True,
            )
        yield Static(Content(""), id="sheet-chain")
        yield Static(Content(""), id="number-columns")
        yield NumberList()
        yield Static(Content(""), id="sheet-said")
        yield NumberPane(id="number-pane")
        yield EntryForm(id="entry")
        yield KeyBar("sheets", without=OTHERS)

    def on_mount(self) -> None:
        """Open at what is in hand, else ask which."""
        self.form.display = False
        self.look_at_clock()
        shop, card_id = self.desk_app.shop, self._card_id
        if self._target is None and card_id is not None:
            self.look("in hand", lambda: vehicle_of_card(shop, card_id))
        elif self._target is None:
            self.choose_another()
        else:
            self.reload()

    def who_changed(self) -> None:
        """Somebody else stands here: other units, another clock."""
        self.look_at_clock()
        self._show()

    def reload(self) -> None:
        """Look at the sheet again."""
        target, shop = self._target, self.desk_app.shop
        if target is not None:
            self.look("sheet", lambda: look_at(shop, target))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == "in hand" and event.seen is not None:
            self.open(event.seen)
        elif event.what == "sheet":
            self.view = event.seen
            self._show()

    def open(self, target: Target) -> None:
        """Show another sheet or vehicle."""
        self._target, self._added, self._choose = target, (), ""
        self._close_form()
        self.query_one("#find-number", Input).value = ""
        self.say("")
        self.reload()

    def _show(self) -> None:
        if self.view is None:
            return
        text = self.query_one("#find-number", Input).value
        self.query_one(TopBar).say(heading(self.view))
        chain = self.query_one("#sheet-chain", Static)
        chain.set_class(bool(self.view.trouble), "-wrong")
        chain.update(Content(cut(chain_words(self.view), max(20, self.app.size.width - 2))))
        self.query_one("#number-columns", Static).update(head(self.numbers.width))
        self.numbers.show(narrowed(self.view.numbers, text, self._added), self.prefs, choose=self._choose)
        self._choose = ""

    @on(Input.Changed, "#find-number")
    def narrow(self) -> None:
        """Narrow the list with every letter."""
        self._show()

    @on(NumberList.Chosen)
    @on(OptionList.OptionHighlighted)
    def show_chosen(self) -> None:
        """Show everything known of the chosen number."""
        self.query_one(NumberPane).show(self.numbers.chosen, self.prefs)

    @on(OptionList.OptionSelected)
    def enter_clicked(self) -> None:
        """Type the number that was clicked."""
        self.action_enter()

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self._under_way.pop(event.command, None)
        self.say("  ".join(event.done.said), wrong=any(said.startswith("!") for said in event.done.said))
        if isinstance(event.command, MakeSheet):
            self.open(Target(SHEET, event.done.id))
        else:
            self.reload()

    # Acts ---------------------------------------------------------------------------------------------------

    def choose_another(self) -> None:
        """Choose another sheet or vehicle, or make a sheet; without any there is nothing to show."""
        asking.ask_which(self, self._chosen)

    def _chosen(self, key: str | None) -> None:
        if key == asking.NEW:
            asking.ask_new(self, self._make)
        elif key is not None:
            self.open(target_of(key))
        elif self._target is None:
            self.dismiss()

    def _make(self, command: MakeSheet | None) -> None:
        if command is not None:
            self.carry_out(command)
        elif self._target is None:
            self.dismiss()

    def action_history(self) -> None:
        """Show every entry of the chosen number."""
        number = self.numbers.chosen
        if self.view is not None and number is not None:
            asking.ask_history(self, self.view, number)

    def action_withdraw(self) -> None:
        """Withdraw the chosen number from the layer that is looked at."""
        number = self._may_change()
        if number is None or self.view is None:
            return
        stands = number.shown
        if stands is None or stands.row == 0 or stands.layer.name != self.view.name:
            on_what = f"it stands on {stands.layer.name}" if stands else "it is not entered"
            self.say(f"{number.label}: {on_what}, not on {self.view.name}.", wrong=True)
            return
        asking.ask_withdrawal(
            self, self.view.where, stands.row, f"{number.label}, {printed_text(stands.spec)}"
        )

    def action_add(self) -> None:
        """Add a number that is not in the list."""
        if self.view is None or not self.view.own:
            self.say(SHIPPED, wrong=True)
            return
        typed = self.query_one("#find-number", Input).value.strip()
        asking.ask_number(self, self.view, typed, self._add)

    def _add(self, number: NumberView) -> None:
        known = self.view.number(number.name) if self.view else None
        self._added = self._added if known else (number, *self._added)
        self._choose = number.name
        self.query_one("#find-number", Input).value = ""
        self._show()
        self._open_form(known or number)

    def action_facts(self) -> None:
        """Change the facts."""
        if self.view is None or not self.view.own:
            self.say(SHIPPED, wrong=True)
            return
        from shopcli.screens.sheets.facts import FactsScreen

        self.app.push_screen(FactsScreen(self.view), lambda said: self._facts_kept(said or ()))

    def _facts_kept(self, said: tuple[str, ...]) -> None:
        if said:
            self.say("  ".join(said))
        self.reload()

    def action_back(self) -> None:
        """Close the form, clear the field, go back: one at a time."""
        find = self.query_one("#find-number", Input)
        if self.typing:
            self._close_form()
        elif find.value:
            find.value = ""
        else:
            self.dismiss()

    def action_next(self) -> None:
        """Go to the next number."""
        self._move(1)

    def action_previous(self) -> None:
        """Go to the number before."""
        self._move(-1)

    def _move(self, by: int) -> None:
        if self.numbers.move(by) and self.typing and (number := self.numbers.chosen) is not None:
            self._open_form(number)

    def action_page_next(self) -> None:
        """Go a screenful further on."""
        self.numbers.page(1)

    def action_page_previous(self) -> None:
        """Go a screenful back."""
        self.numbers.page(-1)
