"""Small questions: each asks one thing, returns a typed answer and knows nobody who asks. Esc is always "no"."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut, shown
from shopcli.errors import ShopError
from shopcli.folded import folded
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.clean_input import CleanInput
from shopcli.screens.widgets.marked_list import MarkedList

TOLD_MOST, CHOICE_MOST = 800, 160
# Rows of a list to pick from, and how much of the screen a dialog may take, [%] as the style sheet has it.
FEWEST, MOST, HIGHEST = 2, 14, 90


@dataclass(frozen=True, slots=True)
class Choice:
    """Something to pick: a key to give back, what to show, and a quieter second line."""

    key: str
    label: str
    note: str = ""


def _told(text: str) -> Content:
    """Return text of anybody's as something to show: a few lines of it, and nothing that drives a terminal."""
    return Content(shown(text if len(text) <= TOLD_MOST else f"{text[:TOLD_MOST]}…"))


def _note(note: str) -> tuple[str | tuple[str, str], ...]:
    return ("\n  ", (cut(note, CHOICE_MOST), "dim")) if note else ()


class AskText(Careful, ModalScreen[str | None]):
    """Ask for one line. `check` may refuse it with a `ShopError`; what was typed stays in the field then.

    `understood` says, while it is typed, what the text is taken for. A value that is `offered` gives way to the first
    letter typed; else it is there to be mended.
    """

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [Binding("escape", "cancel", "Back")]

    def __init__(
        self,
        question: str,
        *,
        value: str = "",
        note: str = "",
        placeholder: str = "",
        check: Callable[[str], object] | None = None,
        understood: Callable[[str], str] | None = None,
        allow_empty: bool = False,
        offered: bool = False,
    ) -> None:
        super().__init__()
        self._offered = offered
        self._question = question
        self._value = value
        self._note = note
        self._placeholder = placeholder
        self._check = check
        self._understood = understood
        self._allow_empty = allow_empty

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(_told(self._question), classes="dialog-question")
            if self._note:
                yield Static(_told(self._note), classes="dialog-note")
            yield CleanInput(self._value, placeholder=self._placeholder, select_on_focus=self._offered)
            yield Static(Content(""), classes="dialog-understood")
            yield Static(Content(""), classes="dialog-error")
            yield Static(Content("Enter keeps it, Esc goes back"), classes="dialog-keys")

    @on(Input.Changed)
    def say_understood(self, event: Input.Changed) -> None:
        """Say what the text is taken for; what cannot be read yet is simply not said."""
        self._say("")
        if self._understood is None:
            return
        try:
            words = self._understood(event.value)
        except ShopError:
            words = ""
        self.query_one(".dialog-understood", Static).update(Content(words))

    @on(Input.Submitted)
    def keep(self, event: Input.Submitted) -> None:
        """Give the text back when it passes."""
        text = event.value.strip()
        if not text and not self._allow_empty:
            self._say("Nothing is typed yet.")
            return
        try:
            if self._check:
                self._check(text)
        except ShopError as error:
            self._say(f"{error.message}. {error.hint}")
            return
        self.dismiss(text)

    def _say(self, words: str) -> None:
        self.query_one(".dialog-error", Static).update(_told(words))

    def action_cancel(self) -> None:
        """Go back without an answer."""
        self.dismiss(None)


class Pick(Careful, ModalScreen[str | None]):
    """Ask which one. Typing narrows, Enter takes, Esc goes back.

    Without `preset` no choice stands ready for a stray Enter: an arrow or the typing has to choose one.
    """

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [
        Binding("escape", "cancel", "Back"),
        Binding("down", "move(1)", "Down", show=False, priority=True),
        Binding("up", "move(-1)", "Up", show=False, priority=True),
    ]

    def __init__(
        self, question: str, choices: Sequence[Choice], *, note: str = "", preset: bool = True
    ) -> None:
        super().__init__()
        self._preset = preset
        self._question = question
        self._choices = tuple(choices)
        self._note = note
        self._shown: tuple[Choice, ...] = self._choices

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(_told(self._question), classes="dialog-question")
            if self._note:
                yield Static(_told(self._note), classes="dialog-note")
            yield CleanInput(placeholder="type to narrow")
            yield MarkedList(*self._options(self._choices))
            keys = (
                "Enter takes it, Esc goes back"
                if self._preset
                else "The arrows choose, Enter takes, Esc goes back"
            )
            yield Static(Content(keys), classes="dialog-keys")

    def on_mount(self) -> None:
        """Begin with the first one chosen, where one is to be."""
        self._highlight_first(chosen=self._preset)
        self.call_after_refresh(self._leave_room)

    def on_resize(self) -> None:
        """Fit into another size of terminal."""
        self.call_after_refresh(self._leave_room)

    def _leave_room(self) -> None:
        """Let the list have what question, note, field and keys leave: the keys are never cut off."""
        dialog, found = self.query_one(".dialog"), self.query_one(MarkedList)
        others = [child for child in dialog.children if child is not found]
        used = sum(child.outer_size.height + child.styles.margin.height for child in others)
        room = self.size.height * HIGHEST // 100 - dialog.gutter.height - used
        found.styles.max_height = max(FEWEST, min(MOST, room))

    @staticmethod
    def _options(choices: Sequence[Choice]) -> list[Option]:
        return [Option(Content.assemble(cut(c.label, CHOICE_MOST), *_note(c.note))) for c in choices]

    def _highlight_first(self, *, chosen: bool) -> None:
        """Choose the first one, or none: the list itself would always choose it."""
        self.query_one(OptionList).highlighted = None
        if chosen:
            self._highlight(0)

    def _highlight(self, index: int) -> None:
        options = self.query_one(OptionList)
        if options.option_count:
            options.highlighted = max(0, min(index, options.option_count - 1))

    @on(Input.Changed)
    def narrow(self, event: Input.Changed) -> None:
        """Show only what holds every word typed."""
        words = folded(event.value).split()
        self._shown = tuple(
            c for c in self._choices if all(w in folded(f"{c.label} {c.note}") for w in words)
        )
        options = self.query_one(OptionList)
        options.clear_options()
        options.add_options(self._options(self._shown))
        self._highlight_first(chosen=self._preset or bool(event.value.strip()))

    @on(Input.Submitted)
    def take(self) -> None:
        """Give back the highlighted one."""
        index = self.query_one(OptionList).highlighted
        if index is not None and index < len(self._shown):
            self.dismiss(self._shown[index].key)

    @on(OptionList.OptionSelected)
    def take_clicked(self, event: OptionList.OptionSelected) -> None:
        """Give back the one clicked."""
        self.dismiss(self._shown[event.option_index].key)

    def action_move(self, by: int) -> None:
        """Move the highlight while the field keeps the typing; the first move chooses the first one."""
        at = self.query_one(OptionList).highlighted
        self._highlight(0 if at is None else at + by)

    def action_cancel(self) -> None:
        """Go back without an answer."""
        self.dismiss(None)


class Confirm(Careful, ModalScreen[bool]):
    """Ask yes or no; only ``y`` says yes, so a stray Enter closes nothing."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [Binding("y", "yes", "Yes"), Binding("n,escape", "no", "No")]

    def __init__(self, question: str, *, note: str = "") -> None:
        super().__init__()
        self._question = question
        self._note = note

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(_told(self._question), classes="dialog-question")
            if self._note:
                yield Static(_told(self._note), classes="dialog-note")
            yield Static(Content("y  yes      n or Esc  no"), classes="dialog-keys")

    def action_yes(self) -> None:
        """Say yes."""
        self.dismiss(True)

    def action_no(self) -> None:
        """Say no."""
        self.dismiss(False)


class AskKey(Careful, ModalScreen[str | None]):
    """Ask which of a few ways, each by a letter of its own; Enter takes none, so a key too many decides nothing."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [Binding("escape", "cancel", "Back")]

    def __init__(self, question: str, choices: Sequence[Choice], *, note: str = "", back: str = "") -> None:
        super().__init__()
        self._question = question
        self._choices = tuple(choices)
        self._note = note
        self._back = back or "goes back"

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(_told(self._question), classes="dialog-question")
            if self._note:
                yield Static(_told(self._note), classes="dialog-note")
            yield Static(Content("\n").join(map(_lettered, self._choices)), classes="dialog-letters")
            yield Static(Content(f"The letter takes it, Esc {self._back}"), classes="dialog-keys")

    def on_key(self, event: events.Key) -> None:
        """Take the way whose letter was pressed."""
        sign = (event.character or "").casefold()
        if any(c.key == sign for c in self._choices):
            event.stop()
            self.dismiss(sign)

    def action_cancel(self) -> None:
        """Go back without an answer."""
        self.dismiss(None)


def _lettered(choice: Choice) -> Content:
    note = [("\n   ", ""), (cut(choice.note, CHOICE_MOST), "dim")] if choice.note else []
    return Content.assemble((f"{choice.key}  ", "bold"), cut(choice.label, CHOICE_MOST), *note)
