"""A new card in one form, by keyboard alone, while the customer stands there or holds the line.

Enter goes from field to field and takes what is offered; nothing is saved before F2, and nothing typed is
lost when the shop refuses.
"""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from shopcli.screens.acts import bindings
from shopcli.screens.desk import intake
from shopcli.screens.desk.asking_carried import BEFORE_SAVING
from shopcli.screens.desk.choosing import Choosing
from shopcli.screens.desk.draft import field_of
from shopcli.screens.desk.looking import today
from shopcli.screens.dialogs import Confirm
from shopcli.screens.doing import Carried, NotCarried, NotLooked
from shopcli.screens.widgets.field import Field, Lookup
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar

NEW_CUSTOMER = ("phone",)
NEW_VEHICLE = ("make", "model", "year", "sheet", "unit")


class NewCardScreen(Choosing):
    """The form of a new card; answers the card's id, or None."""

    CSS_PATH = "new_card.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("desk_new")
    AUTO_FOCUS = "#customer Input"
    HELP_STATION = "desk_new"
    TYPES_AHEAD = True
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (100, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]

    def compose(self) -> ComposeResult:
        """Lay out the fields in the order things are said."""
        shop = self.desk_app.shop
        currency, now = shop.settings.currency, today(shop)
        yield TopBar("New card")
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
            yield Field("left_with", "Left with it", placeholder="keys, what lies in the car")
            yield Field("authority", "Authority", check=lambda text: intake.say_sum(text, currency))
            yield Field("authority_by", "Who said so", placeholder="name; by phone, in writing")
            yield Field("promised", "Promised for", check=lambda text: intake.say_date(text, now))
            yield Field("title", "What for", placeholder="left empty: the jobs below")
            yield Lookup("jobs", "Jobs", placeholder="Enter chooses, F2 saves")
        yield KeyBar("desk_new", without=("app.desk", "app.sheets"))

    def on_mount(self) -> None:
        """Begin with an empty form."""
        self.look_at_clock()
        self.lay_out()

    def lay_out(self) -> None:
        """Show the fields that are needed, and what the vehicle brings along."""
        self._field("phone").display = self._draft.new_customer
        self.query_one("#new-vehicle").display = self._draft.new_vehicle
        brings = self.query_one("#brings", Static)
        brings.display = self._vehicle is not None
        if self._vehicle is not None:
            width = max(30, self.size.width - 22)
            brings.update(intake.brings_along(self._vehicle, width, self._draft.decided))

    def odometer_now(self) -> int | None:
        """Return what the odometer shows, None while it cannot be read."""
        return intake.odometer_typed(self._field("odometer").text)

    # Saving and leaving -------------------------------------------------------------------------------

    def action_save(self) -> None:
        """Save what is typed: customer, vehicle, card."""
        if self._saving:
            return
        self._draft.texts = {f.key: f.text for f in self.query(Field)}
        faults = self._draft.faults(today(self.desk_app.shop))
        for key, words in faults:
            self._field(key).say(words, wrong=True)
        if faults:
            self._field(faults[0][0]).input.focus()
            return
        self._saving = True
        if self._vehicle is None:
            self.next_act()
        else:
            self.look_at_carried(BEFORE_SAVING)

    def next_act(self) -> None:
        """Ask for the act that is still to be done first."""
        self.carry_out(self._draft.next_act(today(self.desk_app.shop)))

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Go on with the next act, or back to the desk with the card."""
        if self._draft.done(event.command, event.done.id):
            self.tell(event.done.said)
            self.dismiss(event.done.id)
        else:
            self.next_act()

    def on_not_looked(self, event: NotLooked) -> None:
        """Nothing could be read: the card may be saved again."""
        self._saving = False
        super().on_not_looked(event)

    @on(NotCarried)
    def refused(self, event: NotCarried) -> None:
        """Keep what is typed and go where it is wrong; the message is told by the base."""
        self._saving = False
        field = self._field(field_of(event.command, event.error))
        field.say(getattr(event.error, "message", str(event.error)), wrong=True)
        field.input.focus()

    def action_back(self) -> None:
        """Go back; what was typed is thrown away only when that is meant."""
        if not (any(f.changed for f in self.query(Field)) or self._draft.jobs or self._draft.decided):
            self.dismiss(None)
            return
        question = Confirm("Throw away what is typed?", note="No card was opened.")
        self.app.push_screen(question, lambda yes: self.dismiss(None) if yes else None)
