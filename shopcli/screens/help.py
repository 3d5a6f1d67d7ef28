"""The help page of a station, made from the list of acts, so that it cannot tell of keys that are not there."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.screens.acts import acts_of, key_names
from shopcli.screens.careful import Careful
from shopcli.screens.help_about import ELSEWHERE

ABOUT = {
    "desk": "The open cards, by customer and vehicle. Type to narrow the list by registration, name, telephone, card number, job, task or tag;"
    " the arrows choose, Enter opens the card at the bench.",
    "bench": "One card. The task in hand stands in the middle with its caution first and its number large."
    ' Type a number to take a reading, as you read it: 6 thou, .006", 0,15 mm, 40 ftlb.'
    " Enter keeps it and goes on to the next; the arrows go to another place; before a new figure strikes the one there it asks."
    " A scanned card opens here from any screen; a scanned part goes to the task in hand.",
    "week": "How the week went: what to do on Monday, what went out, what is stuck, where the hours went, what earns, what is ahead.",
    "desk_customer": "Who the customer is and how they are reached: for the telephone, for papers and invoices."
    " Enter goes from line to line, F2 writes it down. Invoices that were issued stay as they are.",
    "desk_new": "A new card, from top to bottom with Enter. The first letters of a name, a telephone number"
    " or a registration find a known customer; typing on makes a new one. What the vehicle brings along from"
    " earlier visits is shown as soon as it is known.",
    "carried": "What earlier visits left on this vehicle: findings, and checks that fall due. Its figure takes a thing"
    " on: it becomes a task of the card, with the job it wants. What is left is asked again at the next visit.",
    "desk_closing": "Everything that still keeps the card from being closed. Enter mends what is chosen; when"
    " the list is empty the card can be closed, and its invoice is written.",
    "workings": "The workshop sums. Type values as you read them, with their unit: 16 thou, 0,38 mm, 40 ftlb; a bare"
    " figure is taken in the unit beside the field. Several figures stand with blanks or ; between. What the vehicle"
    " and the task know is filled in already. The answer, its steps, source and cautions follow every key.",
    "sheets": "The numbers of a vehicle or a spec sheet. Type to narrow the list; Enter types a number as it is printed:"
    ' 0.35-0.45 mm, 14-16-18 thou, .014" to .018", 9+ bar for at least, 0.3- V for at most, a second print in brackets.'
    " A bare figure counts in the unit shown beside it. Enter goes on to the page, Enter again keeps the number and goes"
    " on to the next; document and page stay. An empty number is passed over. What is marked ? is common practice and"
    " judges nothing before it is confirmed; what is marked ≠ is contradicted by another layer or document.",
    "sheet_facts": "The facts work lists are made from. An empty field takes what the wider sheet says, which stands"
    " beside it. Cards already open keep the facts they were made with.",
    "photos": "The photos of the card. Enter shows the chosen one where the terminal can; the path stands below it.",
    "parts": "The parts of the card, those of the task in hand first. One key says what became of the chosen one.",
    "tools": "The shop's measuring tools: what each reads, when it was calibrated, when it is due. The bench names the"
    " one that fits a number and notes it with the reading; one past its calibration is said, not refused.",
    "order": "The order of work of a card: what is started first so that waiting costs nothing, who does what, what"
    " drains or charges meanwhile, and why each task stands where it does. Times count from now. A wish the rules of the"
    " trade stand against is refused with the reason.",
    "where": "Where a card stands, for somebody who comes back to it: the next thing to do, who is on it, what you did"
    " last, what others did since, what hangs on the car, what was promised, which parts are here.",
    "times": "The times of one day, breaks among them. Every change wants a reason and stays readable; only the owner"
    " changes those of others.",
    "pictures": "The task in pictures: the cap with its leads, the order bolts are tightened in, readings as bars, the"
    " valves to set at this crank position, the tags on the vehicle. Only what the vehicle's facts tell is drawn.",
    "summary": "The summary of a card as the customer reads it: as it stands while the card is open, as invoiced"
    " after that.",
    **ELSEWHERE,
}
TITLES = {
    "needs": "To order",
    "purchases": "Orders",
    "order_paper": "An order",
    "ring": "Whom to ring",
    "handing": "Hand-over",
    "ahead": "Price and promise",
    "weekrows": "Rows of a figure",
    "order": "Order of work",
    "sheet_facts": "Facts",
    "workings": "Sums",
    "desk_customer": "A customer",
    "desk_new": "New card",
    "carried": "From earlier visits",
    "desk_closing": "Closing check",
    "where": "Where was I",
}


class HelpScreen(Careful, ModalScreen[None]):
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
            for act in sorted(acts_of(self._station), key=lambda act: act.id.startswith("app.")):
                line = Content.assemble((f"{key_names(act.keys):>10}", "bold"), f"  {act.label}: {act.help}")
                yield Static(line, classes="help-line")
            yield Static(Content("Esc goes back."), classes="help-about")
