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
from textual.widgets import Input, Static

from shopcli.screens.acts import bindings
from shopcli.screens.desk import intake
from shopcli.screens.desk.asking_carried import BEFORE_SAVING, AskingCarried
from shopcli.screens.desk.draft import field_of
from shopcli.screens.desk.looking import today
from shopcli.screens.dialogs import Confirm
from shopcli.screens.doing import Carried, Looked, NotCarried, NotLooked
from shopcli.screens.widgets.field import Field, Lookup
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.views import CustomerView, VehicleView

NEW_CUSTOMER = ("phone",)
NEW_VEHICLE = ("make", "model", "year", "sheet", "unit")


class NewCardScreen(AskingCarried):
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
        self._customers: tuple[CustomerView, ...] = ()
        self._vehicles: tuple[VehicleView, ...] = ()
        self._jobs = intake.Jobs((), 0)

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
            yield Field("odometer", "Odometer", check=self._say_odometer)
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

    def _field(self, key: str) -> Field:
        return self.query_one(f"#{key}", Field)

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

    def _say_odometer(self, text: str) -> str:
        last = self._vehicle.last_odometer if self._vehicle else None
        unit = self._vehicle.distance_unit if self._vehicle else self._field("unit").text
        return intake.say_odometer(text, unit, last)

    # Typing and choosing ------------------------------------------------------------------------------

    @on(Field.Entered)
    def go_on(self) -> None:
        """Enter goes to the next field."""
        self.focus_next(Input)

    @on(Lookup.Opened)
    def offer(self, event: Lookup.Opened) -> None:
        """Offer what there is when a field is entered."""
        self._ask(event.field.key, event.field.text)

    @on(Field.Typed)
    def typed(self, event: Field.Typed) -> None:
        """Typing in a lookup undoes what was chosen there, and asks again."""
        key = event.field.key
        if key == "customer":
            self._draft.customer_id, self._draft.new_customer = None, False
            self._forget_vehicle()
        elif key == "vehicle":
            self._forget_vehicle(keep_text=True)
        elif key == "sheet":
            self._draft.sheet = ""
        if isinstance(event.field, Lookup):
            self._ask(key, event.text)

    def _forget_vehicle(self, *, keep_text: bool = False) -> None:
        self._draft.vehicle_id, self._draft.new_vehicle, self._vehicle = None, False, None
        self._draft.decided, self._asked_about = {}, frozenset()
        if not keep_text:
            self._field("vehicle").put("")
            self._field("vehicle").say("")
        self.lay_out()

    def _ask(self, key: str, text: str) -> None:
        shop, draft = self.desk_app.shop, self._draft
        customer_id, sheet, vehicle_id, chosen = draft.customer_id, draft.sheet, draft.vehicle_id, draft.jobs
        if key == "customer":
            self.look(key, lambda: intake.customers(shop, text))
        elif key == "vehicle":
            self.look(key, lambda: intake.vehicles(shop, text, customer_id))
        elif key == "sheet":
            self.look(key, lambda: intake.sheet_choices(shop.library, text))
        elif key == "jobs":
            self.look(key, lambda: intake.jobs(shop, sheet, vehicle_id, chosen))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Offer what was found."""
        if event.what == "customer":
            self._customers = event.seen
            self._offer_customers()
        elif event.what == "vehicle":
            self._vehicles = event.seen
            self._offer_vehicles()
        elif event.what == "sheet":
            self._lookup("sheet").offer(event.seen)
        elif event.what == "jobs":
            self._jobs = event.seen
            self._offer_jobs()

    def _lookup(self, key: str) -> Lookup:
        return self.query_one(f"#{key}", Lookup)

    def _offer_customers(self) -> None:
        field, draft = self._lookup("customer"), self._draft
        known = str(draft.customer_id) if draft.customer_id is not None else ""
        if draft.customer_id is None and field.text and not self._customers:
            self._new_customer()
        elif not known and not draft.new_customer and not field.wrong:
            field.say("Enter takes the marked one" if self._customers else "")
        field.offer(intake.customer_choices(self._customers, field.text), chosen=known)

    def _offer_vehicles(self) -> None:
        field, draft = self._lookup("vehicle"), self._draft
        if draft.vehicle_id is None and field.text and not self._vehicles:
            self._new_vehicle()
        choices = intake.vehicle_choices(self._vehicles, field.text, draft.customer_id)
        field.offer(choices, chosen=str(draft.vehicle_id) if draft.vehicle_id is not None else "")

    def _offer_jobs(self) -> None:
        field, chosen = self._lookup("jobs"), self._draft.jobs
        field.offer(intake.job_choices(self._jobs.offers, chosen, field.text), chosen=field.chosen)
        if not field.wrong:
            field.say(intake.chosen_jobs(self._jobs, chosen), wrong=bool(self._jobs.trouble))

    @on(Lookup.Picked)
    def picked(self, event: Lookup.Picked) -> None:
        """Take what was chosen."""
        key, taken = event.field.key, event.key
        if key == "jobs":
            self._toggle(taken)
            return
        if key == "customer":
            self._take_customer(taken)
        elif key == "vehicle":
            self._take_vehicle(taken)
        elif key == "sheet":
            self._draft.sheet = "" if taken == intake.NONE else taken.removeprefix("sheet:")
            event.field.put(self._draft.sheet)
            event.field.say("" if self._draft.sheet else "no sheet")
        self.focus_next(Input)

    def _take_customer(self, taken: str) -> None:
        if taken == intake.NEW:
            self._new_customer()
            return
        customer = next(c for c in self._customers if str(c.id) == taken)
        if customer.id != self._draft.customer_id:
            self._forget_vehicle()
        self._draft.customer_id, self._draft.new_customer = customer.id, False
        self._field("customer").put(customer.name)
        self._field("customer").say(customer.phone or "no telephone written")
        self.lay_out()

    def _new_customer(self) -> None:
        self._draft.new_customer = True
        self._field("customer").say("new customer")
        self.lay_out()

    def _take_vehicle(self, taken: str) -> None:
        if taken == intake.NEW:
            self._new_vehicle()
            return
        self._vehicle = next(v for v in self._vehicles if str(v.id) == taken)
        self._draft.vehicle_id, self._draft.new_vehicle = self._vehicle.id, False
        if self._vehicle.customer_id != self._draft.customer_id:
            self._draft.customer_id, self._draft.new_customer = self._vehicle.customer_id, False
            self._field("customer").put(self._vehicle.customer)
            self._field("customer").say(f"the owner of {self._vehicle.registration}")
        self._field("vehicle").put(self._vehicle.registration)
        self._field("vehicle").say(intake.car(self._vehicle))
        self._field("odometer").say(self._say_odometer(self._field("odometer").text))
        self.lay_out()

    def _new_vehicle(self) -> None:
        self._draft.new_vehicle, self._vehicle = True, None
        self._field("vehicle").say("new vehicle")
        self.lay_out()

    def _toggle(self, name: str) -> None:
        offer = next((o for o in self._jobs.offers if o.name == name), None)
        if offer is None or offer.trouble:
            self._field("jobs").say(offer.trouble if offer else "", wrong=True)
            return
        jobs = self._draft.jobs
        self._draft.jobs = tuple(j for j in jobs if j != name) if name in jobs else (*jobs, name)
        self._field("jobs").put("")
        self._field("jobs").say("")
        self._ask("jobs", "")

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
