"""A new card in one form, by keyboard alone, while the customer stands there or holds the line.

Enter goes from field to field and takes what is offered; nothing is saved before F2, and nothing typed is
lost when the shop refuses, the telephone rings or the program ends.
"""

from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from shopcli.errors import RunsBackwards
from shopcli.screens.acts import bindings
from shopcli.screens.desk import intake
from shopcli.screens.desk.asking_carried import BEFORE_SAVING
from shopcli.screens.desk.brought import brings_along
from shopcli.screens.desk.draft import field_of
from shopcli.screens.desk.intake_ahead import Answer, Question, as_content, falls_short, price_and_promise
from shopcli.screens.desk.keeping import Keeping
from shopcli.screens.desk.looking import today
from shopcli.screens.doing import Carried, Looked, NotCarried, NotLooked
from shopcli.screens.widgets.field import Field, Lookup
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar

if TYPE_CHECKING:
    from shopcli.shop.card_commands import ChangeCard, OpenCard

AHEAD = "price and promise"
NO_ODOMETER = "empty: no check by distance can be told. F2 again leaves it empty"


class NewCardScreen(Keeping):
    """The form of a new card; answers the card's id, or None."""

    CSS_PATH = "new_card.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("desk_new")
    AUTO_FOCUS = "#customer Input"
    HELP_STATION = "desk_new"
    TYPES_AHEAD = True
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (100, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]

    def __init__(self) -> None:
        super().__init__()
        self._question: Question | None = None
        self._ahead = Answer()
        # A card may be opened without an odometer, and with a limit below its price: either is asked about once.
        self._odometer_asked = False
        self._limit_asked = ("", "")

    def compose(self) -> ComposeResult:
        """Lay out the fields in the order things are said."""
        shop = self.desk_app.shop
        settings, now = shop.settings, today(shop)
        yield TopBar("New card")
        yield Static(Content(""), id="kept")
        with VerticalScroll(id="form", can_focus=False):
            yield Lookup("customer", "Customer", placeholder="name, telephone or registration")
            yield Field("phone", "Telephone")
            yield Lookup("vehicle", "Vehicle", placeholder="registration")
            with Vertical(id="new-vehicle"):
                yield Field("make", "Make")
                yield Field("model", "Model")
                yield Field("year", "Year", check=intake.say_year)
                yield Lookup("sheet", "Spec sheet", placeholder="the nearest engine")
                yield Field("unit", "Counts in", value="mi", check=intake.say_unit)
            yield Static(Content(""), id="brings")
            yield Field("odometer", "Odometer", check=self.say_odometer)
            yield Field("words", "Customer says", placeholder="in their own words")
            yield Field("car_keys", "Keys", placeholder="how many, which")
            yield Field("left_with", "Left in it", placeholder="what lies in the car")
            yield Field("fuel", "Fuel", placeholder="a quarter, empty")
            yield Field("damage", "Damage", placeholder="scratches, dents, where")
            yield Field("authority", "Authority", check=lambda text: intake.say_sum(text, settings))
            yield Field("authority_by", "Who said so", placeholder="name")
            yield Field(
                "authority_how", "How", placeholder="phone, mail, in person, signed", check=intake.say_how
            )
            yield Field("promised", "Promised for", check=lambda text: intake.say_date(text, now))
            yield Field("title", "What for", placeholder="left empty: the jobs below")
            yield Lookup("jobs", "Jobs", placeholder="letters or arrows, Enter", several=True)
        yield Static(Content(""), id="ahead")
        yield KeyBar("desk_new", without=("app.desk", "app.sheets"))

    def on_mount(self) -> None:
        """Begin with an empty form; one that is kept is offered."""
        self.look_at_clock()
        self.lay_out()
        self.say_kept()

    def lay_out(self) -> None:
        """Show the fields that are needed, and what the vehicle brings along."""
        self._field("phone").display = self._draft.new_customer
        self.query_one("#new-vehicle").display = self._draft.new_vehicle
        limited = bool(self._field("authority").text)
        for key in ("authority_by", "authority_how"):
            self._field(key).disabled = not limited  # its room is kept: nothing moves while a sum is typed
        brings = self.query_one("#brings", Static)
        brings.display = self._vehicle is not None
        if self._vehicle is not None:
            width = max(30, self.size.width - 22)
            decided, shows = self._draft.decided, self.odometer_now()
            brings.update(brings_along(self._vehicle, self._told, width, decided, shows))
        self._show_ahead()

    @on(Field.Typed)
    def lay_out_anew(self, event: Field.Typed) -> None:
        """Ask who allowed a sum only where there is one; say what the odometer makes due."""
        if event.field.key in {"authority", "odometer"}:
            self.lay_out()

    def odometer_now(self) -> int | None:
        """Return what the odometer shows, None while it cannot be read."""
        return intake.odometer_typed(self._field("odometer").text)

    # Price and promise --------------------------------------------------------------------------------

    @on(Field.Entered)
    @on(Lookup.Picked)
    def ask_ahead_later(self) -> None:
        """Ask once what was chosen has been taken in."""
        self.call_later(self.ask_ahead)

    def ask_ahead(self) -> None:
        """See in a thread what the jobs would cost and when they could be ready, if that is another question."""
        draft, shop = self._draft, self.desk_app.shop
        asked = Question(
            draft.jobs,
            draft.vehicle_id,
            draft.sheet,
            self._field("promised").text,
            draft.customer_id,
        )
        if asked == self._question:
            return
        self._question = asked
        self.look(AHEAD, lambda: price_and_promise(shop, asked), holds=False)

    @on(Looked)
    def take_in_ahead(self, event: Looked) -> None:
        """Show what the jobs would cost, and when they could be ready."""
        if event.what == AHEAD:
            self._ahead = event.seen
            self._show_ahead()

    def _show_ahead(self) -> None:
        line = self.query_one("#ahead", Static)
        line.display = bool(self._ahead.lines)
        line.update(as_content(self._ahead, max(20, self.size.width - 4)))
        self.call_after_refresh(self._stay_in_sight)

    def _stay_in_sight(self) -> None:
        """Keep what is typed in above the lines that came up below it."""
        if self.focused is not None and self.focused in self.query("#form Input"):
            field = next(f for f in self.query(Field) if f.input is self.focused)
            field.scroll_visible(animate=False)

    def action_sure(self) -> None:
        """Promise the sure date."""
        if self._ahead.sure is None:
            self.tell("Choose the jobs first: only then there is a date to promise.")
            return
        self._field("promised").restore(self._ahead.sure.isoformat())
        self.keep()
        self.ask_ahead()

    def action_ahead(self) -> None:
        """Show price and promise of the chosen jobs in full; the form waits below."""
        if not self._draft.jobs:
            self.tell("Choose a job first: only then there is a price.")
            return
        from shopcli.screens.ahead.looking import Before
        from shopcli.screens.ahead.screen import AheadScreen

        draft = self._draft
        self.app.push_screen(
            AheadScreen(Before(draft.jobs, draft.vehicle_id, draft.sheet, draft.customer_id))
        )

    # Saving -------------------------------------------------------------------------------------------

    def action_save(self) -> None:
        """Save what is typed: customer, vehicle, card."""
        if self._saving:
            return
        self._draft.odometer_why = ""
        self._draft.texts = {f.key: f.text for f in self.query(Field)}
        faults = self._draft.faults(today(self.desk_app.shop))
        for key, words in faults:
            self._field(key).say(words, wrong=True)
        if faults:
            self._field(faults[0][0]).input.focus()
            return
        if self._asks_first():
            return
        self._saving = True
        if self._vehicle is None:
            self.next_act()
        else:
            self.look_at_carried(BEFORE_SAVING)

    def _asks_first(self) -> bool:
        """Ask once about what may be meant, but is more often forgotten."""
        limit = self._field("authority").text
        short = falls_short(self._ahead, limit)
        if not self._field("odometer").text and not self._odometer_asked:
            self._odometer_asked = True
            field, words = "odometer", NO_ODOMETER
        elif short and self._limit_asked != (limit, short):
            self._limit_asked = limit, short
            field, words = "authority", short
        else:
            return False
        self._field(field).say(words, wrong=True)
        self._field(field).input.focus()
        return True

    def next_act(self) -> None:
        """Ask for the act that is still to be done first."""
        act = self._draft.next_act(today(self.desk_app.shop))
        self.carry_out(act, op=self._draft.op_of(act))

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Go on with the next act, or back to the desk with the card."""
        if self._draft.done(event.command, event.done.id):
            self.keeper.throw_away(self._draft.op)
            self.tell(event.done.said)
            self.dismiss(event.done.id)
        else:
            self.keep()
            self.next_act()

    def on_not_looked(self, event: NotLooked) -> None:
        """Nothing could be read: the card may be saved again."""
        self._saving = False
        super().on_not_looked(event)

    @on(NotCarried)
    def refused(self, event: NotCarried) -> None:
        """Keep what is typed and go where it is wrong; the message is told by the base."""
        if isinstance(event.error, RunsBackwards):
            return  # it is asked why; see backwards
        self._saving = False
        field = self._field(field_of(event.command, event.error))
        field.say(getattr(event.error, "message", str(event.error)), wrong=True)
        field.input.focus()

    def with_reason(self, command: "OpenCard | ChangeCard", reason: str) -> None:
        """Save on, with the reason why the odometer runs backwards."""
        del command
        self._draft.odometer_why = reason
        self.next_act()

    def type_odometer_again(self, command: "OpenCard | ChangeCard") -> None:
        """Go to the odometer; nothing was saved of the card."""
        del command
        self._saving = False
        self._field("odometer").input.focus()
