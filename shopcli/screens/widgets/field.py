"""A line of a form: its name, what is typed, and beside it what that was taken for.

A lookup adds, below the line, what the text may mean.
"""

from collections.abc import Callable, Sequence
from contextlib import suppress

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut
from shopcli.errors import ShopError
from shopcli.screens.dialogs import Choice
from shopcli.screens.widgets.clean_input import CleanInput
from shopcli.screens.widgets.marked_list import MarkedList

LABEL_MOST, NOTE_MOST, SAID_MOST = 120, 160, 200


class Field(Vertical):
    """One field. `check` returns what the text is taken for, in words, or raises a `ShopError`."""

    DEFAULT_CSS = """
    Field { height: auto; }
    Field > Horizontal { height: auto; }
    Field .field-label { width: 15; color: $text-muted; }
    Field.-open .field-label { color: $text; text-style: bold; }
    Field Input { width: 32; background: $surface; }
    Field .field-beside { width: 1fr; height: auto; padding: 0 0 0 1; color: $text-muted; }
    Field .field-beside.-wrong { color: $text-error; }
    """

    class Typed(Message):
        """The text changed."""

        def __init__(self, field: "Field", text: str) -> None:
            super().__init__()
            self.field = field
            self.text = text

    class Entered(Message):
        """Enter was pressed: on to the next field."""

        def __init__(self, field: "Field") -> None:
            super().__init__()
            self.field = field

    def __init__(
        self,
        key: str,
        label: str,
        *,
        value: str = "",
        placeholder: str = "",
        check: Callable[[str], str] | None = None,
    ) -> None:
        super().__init__(id=key)
        self._label = label
        self._first = value
        self._placeholder = placeholder
        self._check = check

    def compose(self) -> ComposeResult:
        """Lay out name, text and what it means."""
        with Horizontal():
            yield Static(Content(self._label), classes="field-label")
            # What stands there from the start gives way to what is typed.
            yield CleanInput(
                self._first,
                placeholder=self._placeholder,
                compact=True,
                select_on_focus=bool(self._first),
            )
            yield Static(Content(""), classes="field-beside")

    def on_descendant_focus(self, _event: events.DescendantFocus) -> None:
        """Stand out while it is typed in."""
        self.add_class("-open")

    def on_descendant_blur(self, _event: events.DescendantBlur) -> None:
        """Step back when it is left."""
        self.remove_class("-open")

    def on_mount(self) -> None:
        """Say at once what an empty field means."""
        self._say_back()

    @property
    def key(self) -> str:
        """The name of the field in its form."""
        return self.id or ""

    @property
    def input(self) -> Input:
        """Where it is typed."""
        return self.query_one(Input)

    @property
    def text(self) -> str:
        """What is typed, without blanks around it."""
        return self.input.value.strip()

    @property
    def changed(self) -> bool:
        """Whether somebody typed something."""
        return self.text != self._first.strip()

    def put(self, text: str) -> None:
        """Put a text in the field without asking what it means."""
        with self.prevent(Input.Changed):
            self.input.value = text
            self.input.cursor_position = len(self.input.value)

    def restore(self, text: str) -> None:
        """Put back a text typed before, and say what it means."""
        self.put(text)
        self._say_back()

    @property
    def wrong(self) -> bool:
        """Whether the field shows what is wrong with it."""
        return self.query_one(".field-beside").has_class("-wrong")

    def say(self, words: str, *, wrong: bool = False) -> None:
        """Show what the text means, or what is wrong with it."""
        beside = self.query_one(".field-beside", Static)
        beside.set_class(wrong, "-wrong")
        words = cut(words, SAID_MOST) if words else ""
        beside.update(Content(f"! {words}" if wrong and words else words))

    def trouble(self) -> str:
        """Return what is wrong with the text, or nothing."""
        try:
            if self._check is not None:
                self._check(self.text)
        except ShopError as error:
            return f"{error.message}. {error.hint}".strip()
        return ""

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        self._say_back()
        self.post_message(self.Typed(self, self.text))

    def _say_back(self) -> None:
        words = ""
        if self._check is not None:
            with suppress(ShopError):
                words = self._check(self.text)
        self.say(words)

    @on(Input.Blurred)
    def _left(self, event: Input.Blurred) -> None:
        event.stop()
        trouble = self.trouble()
        if trouble:
            self.say(trouble, wrong=True)

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        self.enter()

    def enter(self) -> None:
        """Leave the field by Enter."""
        self.post_message(self.Entered(self))


class Lookup(Field):
    """A field that offers what the text may mean; the arrows choose, Enter takes.

    One for `several` takes one after the other: Enter takes only what an arrow or a letter has just marked, so that an
    Enter too many takes nothing and gives nothing back.
    """

    DEFAULT_CSS = """
    Lookup MarkedList { display: none; height: auto; max-height: 7; margin: 0 0 0 14; background: $surface; }
    Lookup.-open MarkedList.-some { display: block; }
    Lookup MarkedList > .option-list--option { padding: 0 1 !important; }
    """
    BINDINGS: list[BindingType] = [
        Binding("down", "choose(1)", "Down", show=False),
        Binding("up", "choose(-1)", "Up", show=False),
    ]

    class Picked(Message):
        """One of the choices was taken."""

        def __init__(self, field: "Lookup", key: str) -> None:
            super().__init__()
            self.field = field
            self.key = key

    class Opened(Message):
        """The field was entered: it wants to know what there is to choose."""

        def __init__(self, field: "Lookup") -> None:
            super().__init__()
            self.field = field

    def __init__(self, key: str, label: str, *, placeholder: str = "", several: bool = False) -> None:
        super().__init__(key, label, placeholder=placeholder)
        self._several = several
        self._marked = not several  # whether what is highlighted was marked by a key of its own

    def compose(self) -> ComposeResult:
        """Add the list below the line."""
        yield from super().compose()
        choices = MarkedList(markup=False, compact=True)
        choices.can_focus = False
        yield choices

    def on_descendant_focus(self, _event: events.DescendantFocus) -> None:
        """Ask for choices when the field is entered."""
        self.post_message(self.Opened(self))

    def offer(self, choices: Sequence[Choice], *, chosen: str = "") -> None:
        """Offer these; `chosen`, or else the first, is what Enter would take."""
        options = self.query_one(OptionList)
        options.set_options(Option(_prompt(c), id=c.key) for c in choices)
        options.set_class(bool(choices), "-some")
        keys = [c.key for c in choices]
        if self._several and not self.text and chosen not in keys:
            options.highlighted = None
        else:
            options.highlighted = (keys.index(chosen) if chosen in keys else 0) if keys else None

    @on(Input.Changed)
    def _mark_by_letters(self) -> None:
        """What is typed marks the first that fits; emptied again it marks nothing."""
        self._marked = not self._several or bool(self.text)

    @property
    def chosen(self) -> str:
        """The choice that is highlighted, or nothing."""
        option = self.query_one(OptionList).highlighted_option
        return option.id or "" if option is not None else ""

    def enter(self) -> None:
        """Take what is chosen, or go on when nothing is offered or marked."""
        if self.chosen and self._marked:
            self._marked = not self._several
            self.post_message(self.Picked(self, self.chosen))
        else:
            super().enter()

    @on(OptionList.OptionSelected)
    def _clicked(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.post_message(self.Picked(self, event.option_id or ""))

    def action_choose(self, by: int) -> None:
        """Choose another one, the typing undisturbed."""
        options = self.query_one(OptionList)
        if options.option_count:
            place = -1 if options.highlighted is None else options.highlighted
            options.highlighted = max(0, min(place + by, options.option_count - 1))
            self._marked = True


def _prompt(choice: Choice) -> Content:
    note = cut(choice.note, NOTE_MOST) if choice.note else ""
    return Content.assemble(cut(choice.label, LABEL_MOST), (f"  {note}" if note else "", "dim"))
