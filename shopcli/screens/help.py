"""The help page of a station, made from the list of acts, so that it cannot tell of keys that are not there."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.screens.acts import acts_of, key_names

ABOUT = {
    "desk": "The open cards, by customer and vehicle. Type to narrow the list by registration, name, card number or job;"
    " the arrows choose, Enter opens the card at the bench.",
    "bench": "One card. The task in hand stands in the middle with its caution first and its number large."
    ' Type a number to take a reading, as you read it: 6 thou, .006", 0,15 mm, 40 ftlb.',
    "week": "The shop week by week: cards opened and closed, hours clocked and sold.",
    "desk_new": "A new card, from top to bottom with Enter. The first letters of a name, a telephone number"
    " or a registration find a known customer; typing on makes a new one. What the vehicle brings along from"
    " earlier visits is shown as soon as it is known.",
    "desk_closing": "Everything that still keeps the card from being closed. Enter mends what is chosen; when"
    " the list is empty the card can be closed, and its invoice is written.",
    "workings": "The workshop sums. Type values as you read them, with their unit: 16 thou, 0,38 mm, 40 ftlb; a bare"
    " figure is taken in the unit beside the field. Several figures stand with blanks or ; between. What the vehicle"
    " and the task know is filled in already. The answer, its steps, source and cautions follow every key.",
    "summary": "The summary of a card as the customer reads it: as it stands while the card is open, as invoiced"
    " after that.",
}
TITLES = {"workings": "Sums", "desk_new": "New card", "desk_closing": "Closing check"}


class HelpScreen(ModalScreen[None]):
    """What this station is for and what each key does."""

    CSS_PATH = "help.tcss"
    BINDINGS = [Binding("escape,f1,question_mark,q", "dismiss", "Back")]

    def __init__(self, station: str) -> None:
        super().__init__()
        self._station = station

    def compose(self) -> ComposeResult:
        with VerticalScroll(classes="help"):
            yield Static(Content(TITLES.get(self._station, self._station.capitalize())), classes="help-title")
            yield Static(Content(ABOUT[self._station]), classes="help-about")
            for act in acts_of(self._station):
                line = Content.assemble((f"{key_names(act.keys):>10}", "bold"), f"  {act.label}: {act.help}")
                yield Static(line, classes="help-line")
            yield Static(Content("Esc goes back."), classes="help-about")
