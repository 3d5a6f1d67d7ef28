"""Entering numbers on the sheets screen: the form opens below the list, and goes on before the shop has answered."""

from textual import on
from textual.content import Content
from textual.widgets import Input, Static

from shopcli.columns import cut
from shopcli.screens.bench.numberwords import preferences
from shopcli.screens.doing import Acting, NotCarried
from shopcli.screens.sheets.entryform import Entry, EntryForm
from shopcli.screens.sheets.numberlist import NumberList
from shopcli.screens.sheets.numberpane import NumberPane
from shopcli.shop.command import Command
from shopcli.shop.sheet_commands import EnterOnSheet, EnterSpec
from shopcli.shop.sheet_views import VEHICLE, NumberView, SheetView
from shopcli.units import Preferences

SHIPPED = "A shipped sheet is a file and stays as it is. F10 makes a sheet of our own under it."


class Entering(Acting[None]):
    """The half of the screen that types numbers; `view` is what is looked at."""

    def __init__(self) -> None:
        super().__init__()
        self.view: SheetView | None = None
        self._under_way: dict[Command, Entry] = {}

    @property
    def form(self) -> EntryForm:
        """The form."""
        return self.query_one(EntryForm)

    @property
    def numbers(self) -> NumberList:
        """The list."""
        return self.query_one(NumberList)

    @property
    def prefs(self) -> Preferences:
        """The units of who stands here."""
        return preferences(self.desk_app.who.units)

    @property
    def typing(self) -> bool:
        """Whether the form is open."""
        return bool(self.form.display)

    def say(self, words: str, *, wrong: bool = False) -> None:
        """Say what was done, on a line of its own: nothing may lie over the form while it is typed in."""
        line = self.query_one("#sheet-said", Static)
        line.set_class(wrong, "-wrong")
        line.update(Content(cut(words, max(20, self.app.size.width - 2)) if words else ""))
        line.display = bool(words)

    def _may_change(self) -> NumberView | None:
        """Return the chosen number where it can be changed, else say why not."""
        number = self.numbers.chosen
        if self.view is None or number is None:
            self.say("No number is chosen.", wrong=True)
            return None
        if not self.view.own:
            self.say(SHIPPED, wrong=True)
            return None
        return number

    def _open_form(self, number: NumberView, *, confirm: bool = False) -> None:
        self.form.display = True
        self.query_one(NumberPane).display = False
        self.form.open(number, self.prefs, confirm=confirm)
        self.call_after_refresh(self.numbers.scroll_to_highlight)

    def _close_form(self) -> None:
        if self.typing:
            self.form.display = False
            self.query_one(NumberPane).display = True
            self.query_one("#find-number", Input).focus()

    @on(Input.Submitted, "#find-number")
    def action_enter(self) -> None:
        """Type the chosen number as it is printed."""
        if (number := self._may_change()) is not None:
            self.say("")
            self._open_form(number)

    def action_confirm(self) -> None:
        """Confirm the chosen number as it stands."""
        number = self._may_change()
        if number is None:
            return
        if number.shown is None:
            self.say(f"{number.label}: there is no number to confirm. Enter types it.", wrong=True)
            return
        self._open_form(number, confirm=True)

    @on(EntryForm.Ready)
    def keep(self, event: EntryForm.Ready) -> None:
        """Ask the shop to keep the number, and go on at once: the fingers do not wait for the disk."""
        if self.view is None:
            return
        command = command_for(self.view, event.entry)
        self._under_way[command] = event.entry
        self.carry_out(command)
        self.form.kept(event.entry)
        if event.entry.confirm:
            self._close_form()
        else:
            self._go_on()

    @on(EntryForm.Passed)
    def pass_on(self) -> None:
        """Go on to the next number."""
        self._go_on()

    def _go_on(self) -> None:
        if self.numbers.move(1) and (number := self.numbers.chosen) is not None:
            self._open_form(number)
        else:
            self._close_form()

    @on(NotCarried)
    def refused(self, event: NotCarried) -> None:
        """Go back to the number that was refused, with what was typed; the message is told by the base too."""
        entry = self._under_way.pop(event.command, None)
        if entry is None or (self.typing and self.form.field("figures").text):
            return  # another number is being typed: that is not taken out of anybody's hands
        self.numbers.choose(entry.number.name)
        self._open_form(entry.number, confirm=entry.confirm)
        self.form.again(entry, self.prefs, getattr(event.error, "message", str(event.error)))


def command_for(view: SheetView, entry: Entry) -> EnterSpec | EnterOnSheet:
    """Return what the shop is asked to keep."""
    printed = entry.taken.printed if entry.taken else None
    number = entry.number
    new = number.shown is None
    make = EnterSpec if view.where == VEHICLE else EnterOnSheet
    return make(
        view.key,
        number.name,
        printed.low if printed else "",
        printed.nominal if printed else "",
        printed.high if printed else "",
        state=entry.state or "-",
        kind=entry.kind,
        document=entry.document,
        page=entry.page,
        confirm=entry.confirm,
        also=printed.also if printed else "",
        note=entry.note,
        why=entry.why,
        label=number.label if new else "",
        quantity=number.quantity if new else "",
        unit=entry.taken.unit if entry.taken else "",
    )
