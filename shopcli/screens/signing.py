"""Who stands at the terminal: signing in at the start, changing who it is, and the door that shuts after a while.

Behind the shut door everything stays as it was, typed words too: it is a mode of its own, over whatever was shown.
"""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.app import App
from textual.screen import Screen

from shopcli.errors import Refused, ShopError
from shopcli.screens.doing import Acting
from shopcli.shop.listed import NOBODY, PersonView
from shopcli.store.reads import people
from shopcli.store.shop import Shop

if TYPE_CHECKING:
    from concurrent.futures import ThreadPoolExecutor

    from textual.widget import AwaitMount

SIGN_IN = "sign in"


def door() -> Screen[None]:
    """Return the screen of the shut door; loaded when it first shuts."""
    from shopcli.screens.signin import SignInScreen

    return SignInScreen()


class SigningApp(App[None]):
    """An application at which nobody with a PIN is taken for themselves without typing it.

    While it `is_shut` no key of a station acts, nothing is shown over the door and no word of an answer is seen.
    """

    LOOK_S = 15.0  # how often it is seen whether the door is to shut, [s]
    is_first_start = False  # set by whoever starts it on records nobody has used yet
    FIRST_STATION: ClassVar[str] = "desk"
    shop: Shop
    queue: "ThreadPoolExecutor"

    def __init__(self, shop: Shop, who: PersonView | None, *, must_sign_in: bool) -> None:
        self.must_sign_in = must_sign_in
        signed_in = who is not None and not must_sign_in and not people.has_pin(shop, who.id)
        self.who = who if who is not None and signed_in else NOBODY
        self.expected = who.id if who is not None and not signed_in else None  # is asked first at the door
        self.is_shut = not signed_in
        self._covered = self.FIRST_STATION  # the mode behind the door, and whether anything of it is there
        self._is_covering = False
        self._last_input_at = shop.at()
        self._unsaid: list[Callable[[], None]] = []
        if self.is_shut:
            self.DEFAULT_MODE = SIGN_IN  # type: ignore[misc]  # before the framework makes its first screen
        super().__init__()

    # The door --------------------------------------------------------------------------------------------

    def keep_door(self) -> None:
        """Begin to see whether anybody is still here; at the first start it is asked whose shop it is."""
        if self.is_first_start:
            from shopcli.screens.first import ask_whose

            self.run_worker(ask_whose(self), group="asks", exit_on_error=False)
        self.set_interval(self.LOOK_S, self.look_round)

    def look_round(self) -> None:
        """See whether who stands here works here still, as what, and whether anybody stands here at all."""
        if self.see_idle():
            return
        try:
            known = {person.id: person for person in people.people(self.shop)}
        except ShopError:
            return  # what else is read says that the records are out of reach
        if known.get(self.who.id) != self.who:
            self.stand_here(self.who.id, anew=True)

    def see_idle(self) -> bool:
        """Shut the door when nobody pressed a key for long and whoever was here has a PIN; say whether it is shut."""
        now, most = self.shop.at(), self.shop.settings.lock_after_minutes * 60
        self._last_input_at = min(self._last_input_at, now)  # a clock put back begins the wait anew
        if not self.is_shut and most and now - self._last_input_at >= most and self._has_pin():
            self.shut()
        return self.is_shut

    def _has_pin(self) -> bool:
        try:
            return self.must_sign_in or people.has_pin(self.shop, self.who.id)
        except ShopError:
            return False  # records out of reach: nobody could be let in again

    def shut(self) -> None:
        """Shut the door over whatever is shown."""
        self._covered, self._is_covering, self.expected = self.current_mode, True, self.who.id
        self.clear_notifications()
        super().switch_mode(SIGN_IN)
        self.is_shut = True
        from shopcli.screens.signin import SignInScreen

        lowest = self.screen_stack[0]
        if isinstance(lowest, SignInScreen) and lowest.is_mounted:
            lowest.begin()

    def let_in(self, person_id: int) -> None:
        """Open the door to somebody whose PIN was right, or who has none: to where it was shut."""
        same = person_id == self.who.id
        self.is_shut, self._last_input_at = False, self.shop.at()
        self.stand_here(person_id, self._covered)
        unsaid, self._unsaid = self._unsaid, []
        for say in unsaid if same else ():
            say()

    def stand_here(self, person_id: int, mode: str = "", *, anew: bool = False) -> None:
        """Take somebody for who stands here, and show every screen as theirs; `anew` when their name is another."""
        known = {person.id: person for person in people.people(self.shop)}
        if person_id not in known:  # does not work here any more
            self.shut()
            return
        changed, self.who = anew or person_id != self.who.id, known[person_id]
        if mode:
            self.switch_mode(mode)
        for screen in self.screen_stack if changed else ():
            if isinstance(screen, Acting) and screen.is_mounted:
                screen.who_changed()
        self.ask_forgotten()

    def ask_forgotten(self) -> None:
        """Ask whoever stands here about clocks that were not stopped."""
        raise NotImplementedError

    def action_person(self) -> None:
        """Ask who stands here: two keys, this one and a figure or an initial."""
        from shopcli.screens.who import WhoScreen
        from shopcli.store.reads.times import standing

        def take(key: int | None) -> None:
            if key is not None:
                self.stand_here(key)

        if not any(isinstance(screen, WhoScreen) for screen in self.screen_stack):
            self.push_screen(WhoScreen(standing(self.shop), self.who.id, self.shop.at()), take)

    def prove(self, person_id: int, then: Callable[[], object]) -> None:
        """Go on once somebody proved who they are; who stands here need not, nor who has no PIN.

        Raises
        ------
        Refused
            When they have no PIN where everybody must sign in.
        """
        from shopcli.screens.askpin import pin_of

        def proved(pin: str | None) -> None:
            if pin is not None:
                then()

        name = next((person.name for person in people.people(self.shop) if person.id == person_id), "")
        if person_id == self.who.id:
            then()
        elif people.has_pin(self.shop, person_id):
            self.push_screen(pin_of(self, person_id, name), proved)
        elif self.must_sign_in:
            raise Refused(f"{name} has no PIN", hint="Without one nobody is let in here.")
        else:
            then()

    # What the shut door keeps back -----------------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """Note that somebody is here; whoever comes back after long finds the door shut, and their key does nothing."""
        if isinstance(event, events.InputEvent) and not event.is_forwarded:
            if not self.is_shut and self.see_idle():
                return
            self._last_input_at = self.shop.at()
        await super().on_event(event)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Let nothing be done but leave while the door is shut."""
        if self.is_shut and action != "quit":
            return False
        return super().check_action(action, parameters)

    def switch_mode(self, mode: str) -> "AwaitMount":
        """Go to another station; nowhere while the door is shut."""
        if self.is_shut and mode != SIGN_IN:
            mode = self.current_mode
        return super().switch_mode(mode)

    def push_screen(self, screen: Any, *args: Any, **more: Any) -> Any:
        """Show a screen; while the door is shut, behind it, unless it is the question for the PIN."""
        if self.is_shut and "mode" not in more:
            from shopcli.screens.askpin import AskPin

            if not isinstance(screen, AskPin) and self._is_covering:
                more["mode"] = self._covered
        return super().push_screen(screen, *args, **more)

    def notify(self, message: str, **more: Any) -> None:
        """Say something; while the door is shut it waits for who was there."""
        say = partial(super().notify, message, **more)
        if self.is_shut:
            self._unsaid.append(say)
        else:
            say()
