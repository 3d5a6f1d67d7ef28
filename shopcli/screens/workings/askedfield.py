"""One input of a sum as a line of a form: what it is, what is typed, and beside it how that is understood."""

from dataclasses import dataclass

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from shopcli.columns import cut
from shopcli.screens.widgets.clean_input import CleanInput
from shopcli.screens.workings.answering import takes
from shopcli.workings.frame import Input as Asked
from shopcli.worklists.known_inputs import Known
from shopcli.worklists.workings_words import default_text_of, may_be_left_out

LONGEST = 400
LABEL_MOST, BESIDE_MOST = 60, 120


class AskedField(Horizontal):
    """A field made from the description of an input."""

    @dataclass
    class Typed(Message):
        """The text changed."""

        asked: str

    @dataclass
    class Entered(Message):
        """Enter was pressed: on to the next field."""

        asked: str

    @dataclass
    class Open(Message):
        """The field has the focus now."""

        asked: str

    def __init__(self, asked: Asked, text: str, known: Known | None) -> None:
        super().__init__(id=f"in-{asked.name}", classes="asked")
        self.asked = asked
        self.known = known
        self._first = text

    def compose(self) -> ComposeResult:
        """Lay out label, text and what it means."""
        empty = default_text_of(self.asked)
        yield Static(Content(cut(self.asked.label, LABEL_MOST)), classes="asked-label")
        yield CleanInput(
            self._first, placeholder=empty, compact=True, max_length=LONGEST, select_on_focus=False
        )
        yield Static(Content(""), classes="asked-beside")

    @property
    def text(self) -> str:
        """What is typed."""
        return self.query_one(Input).value.strip()

    @property
    def wrong(self) -> bool:
        """Whether the text cannot be taken."""
        return self.has_class("-wrong")

    def put(self, text: str) -> None:
        """Put a text into the field."""
        field = self.query_one(Input)
        field.value = text
        field.cursor_position = len(text)

    def enter(self) -> None:
        """Take the focus, the cursor behind what is typed."""
        field = self.query_one(Input)
        field.focus()
        field.cursor_position = len(field.value)

    def say(self, understood: str, trouble: str) -> None:
        """Show how the text is understood, or that it is not."""
        self.set_class(bool(trouble), "-wrong")
        whence = self.known.whence if self.known and self.text == self.known.text else ""
        if trouble:
            words = f"! {trouble}"
        elif self.text:
            words = ", ".join(filter(None, (understood, whence)))
        else:
            words = takes(self.asked) + ("" if may_be_left_out(self.asked) else ", wanted")
        self.query_one(".asked-beside", Static).update(Content(cut(words, BESIDE_MOST) if words else ""))

    def on_descendant_focus(self, _event: events.DescendantFocus) -> None:
        """Stand out while it is typed in."""
        self.add_class("-open")
        self.post_message(self.Open(self.asked.name))

    def on_descendant_blur(self, _event: events.DescendantBlur) -> None:
        """Step back when it is left."""
        self.remove_class("-open")

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        self.post_message(self.Typed(self.asked.name))

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.post_message(self.Entered(self.asked.name))
