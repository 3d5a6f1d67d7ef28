"""What is chosen on the intake form: the customer, the vehicle, its sheet and the jobs, from what typing finds."""

from textual import on
from textual.widgets import Input

from shopcli.screens.desk import intake
from shopcli.screens.desk.asking_carried import AskingCarried
from shopcli.screens.desk.brought import Known, known_vehicle
from shopcli.screens.doing import Looked
from shopcli.screens.widgets.field import Field, Lookup
from shopcli.shop.views import CustomerView, VehicleView
from shopcli.store.reads.story import VehicleStory

STORY = "story of the vehicle"


class Choosing(AskingCarried):
    """The fields of the form, what they offer and what was taken."""

    def __init__(self) -> None:
        super().__init__()
        self._customers: tuple[CustomerView, ...] = ()
        self._vehicles: tuple[VehicleView, ...] = ()
        self._jobs = intake.Jobs((), 0)
        self._told: VehicleStory | None = None
        self._found_by = ""  # what was typed when the customer was chosen: it may name the car

    def _field(self, key: str) -> Field:
        return self.query_one(f"#{key}", Field)

    def say_odometer(self, text: str) -> str:
        last = self._vehicle.last_odometer if self._vehicle else None
        unit = self._vehicle.distance_unit if self._vehicle else self._field("unit").text
        return intake.say_odometer(text, unit, last)

    @on(Field.Entered)
    def go_on(self, event: Field.Entered) -> None:
        """Enter goes to the next field; in the last one, where nothing is marked, it says what would."""
        if event.field.key == "jobs":
            event.field.say("Letters or arrows mark a job, Enter takes it; F2 saves.")
        else:
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
        self._draft.decided, self._asked_about, self._told = {}, frozenset(), None
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
        elif event.what == STORY:
            self._take_story(event.seen)

    def look_at_story(self, vehicle_id: int) -> None:
        """Read what a vehicle brings along."""
        shop = self.desk_app.shop
        self.look(STORY, lambda: known_vehicle(shop, vehicle_id))

    def _take_story(self, known: Known) -> None:
        if known.vehicle.id == self._draft.vehicle_id:
            self._vehicle, self._told = known.vehicle, known.story
            self._field("vehicle").say(intake.car(known.vehicle))
            self._field("odometer").say(self.say_odometer(self._field("odometer").text))
            self.lay_out()

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
        meant = draft.vehicle_id if draft.vehicle_id is not None else self._meant()
        field.offer(choices, chosen=str(meant) if meant is not None else "")

    def _meant(self) -> int | None:
        """Return the vehicle whose registration found the customer."""
        return intake.named_by(self._vehicles, self._found_by) if not self._field("vehicle").text else None

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
        self._found_by = self._field("customer").text
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
        self._field("odometer").say(self.say_odometer(self._field("odometer").text))
        self.look_at_story(self._vehicle.id)
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
