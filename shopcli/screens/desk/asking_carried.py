"""The part of the intake form that asks what becomes of what earlier visits left, before a card is saved without it."""

from textual import on

from shopcli.screens.desk.backwards import AskingBackwards
from shopcli.screens.desk.carried import Answer, CarriedScreen
from shopcli.screens.desk.draft import Draft
from shopcli.screens.doing import Looked
from shopcli.shop.known import Carried, VehicleView
from shopcli.store.reads.desk import carried

BEFORE_SAVING = "carried before saving"
ANY_TIME = "carried"


class AskingCarried(AskingBackwards[int | None]):
    """Base of the intake form: what is typed, which vehicle it is, and what was decided of its earlier visits."""

    def __init__(self) -> None:
        super().__init__()
        self._draft = Draft()
        self._vehicle: VehicleView | None = None
        self._saving = False
        self._asked_about: frozenset[str] = frozenset()  # what the pop-up has shown

    def lay_out(self) -> None:
        """Show the form as things stand."""
        raise NotImplementedError

    def next_act(self) -> None:
        """Go on saving."""
        raise NotImplementedError

    def odometer_now(self) -> int | None:
        """Return what the odometer shows, None while it cannot be read."""
        raise NotImplementedError

    @on(Looked)
    def take_in_carried(self, event: Looked) -> None:
        """Ask about what was found."""
        if event.what in {ANY_TIME, BEFORE_SAVING}:
            self._ask_carried(event.seen, saving=event.what == BEFORE_SAVING)

    def action_carried(self) -> None:
        """Ask what becomes of what earlier visits left."""
        if self._vehicle is None:
            self.tell("Choose a known vehicle first: only then there is something from before.")
        else:
            self.look_at_carried(ANY_TIME)

    def look_at_carried(self, what: str) -> None:
        """Read what earlier visits left, at the odometer typed."""
        shop, vehicle = self.desk_app.shop, self._vehicle
        if vehicle is not None:
            now = self.odometer_now()
            self.look(what, lambda: carried(shop, vehicle.id, now))

    def _ask_carried(self, left: tuple[Carried, ...], *, saving: bool) -> None:
        """Let it be decided; before saving only when something is due that nobody was asked about yet."""
        due = {one.key for one in left if one.due}
        if saving and due <= self._asked_about | set(self._draft.decided):
            self.next_act()
            return
        if not left or self._vehicle is None:
            self.tell("Nothing is open from earlier visits.")
            return
        self._asked_about |= due
        vehicle = self._vehicle
        asked = CarriedScreen(
            left,
            self._draft.decided,
            unit=vehicle.distance_unit,
            customer=vehicle.customer,
            heading=f"From earlier visits of {vehicle.registration}: now, never, or next time?",
        )
        self.app.push_screen(asked, lambda answer: self._take_decisions(answer, saving=saving))

    def _take_decisions(self, answer: Answer | None, *, saving: bool) -> None:
        if answer is not None:
            self._draft.decided = answer.decided
        self.lay_out()
        if saving and answer is not None and answer.go_on:
            self.next_act()
        else:
            self._saving = False
