"""The help page of a station, made from the list of acts, so that it cannot tell of keys that are not there."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.screens.acts import acts_of

ABOUT = {
    "desk": "The open cards, by customer and vehicle. Type to narrow the list by registration, name, card number or job;"
    " the arrows choose, Enter opens the card at the bench.",
    "bench": "One card. The task in hand stands in the middle with its caution first and its number large."
    " Type a number to take a reading, as you read it: 6 thou, .006\", 0,15 mm, 40 ftlb.",
    "week": "The shop week by week: cards opened and closed, hours clocked and sold.",
}
NAMES = {"question_mark": "?", "enter": "Enter", "space": "Space", "left": "Left", "right": "Right", "up": "Up", "down": "Down"}


def key_names(keys: str) -> str:
    """Return the keys of an act as they are printed on the keyboard."""
    return ", ".join(NAMES.get(k, k.upper() if k.startswith("f") and k[1:].isdigit() else k) for k in keys.split(","))


class HelpScreen(ModalScreen[None]):
    """What this station is for and what each key does."""

    CSS_PATH = "help.tcss"
    BINDINGS = [Binding("escape,f1,question_mark,q", "dismiss", "Back")]

    def __init__(self, station: str) -> None:
        super().__init__()
        self._station = station

    def compose(self) -> ComposeResult:
        with VerticalScroll(classes="help"):
            yield Static(Content(self._station.capitalize()), classes="help-title")
            yield Static(Content(ABOUT[self._station]), classes="help-about")
            for act in acts_of(self._station):
                line = Content.assemble((f"{key_names(act.keys):>10}", "bold"), f"  {act.label}: {act.help}")
                yield Static(line, classes="help-line")
            yield Static(Content("Esc goes back."), classes="help-about")
