"""The application: three stations over one shop, and who stands in front of it.

The first picture is painted from rows read before the mapper is loaded; a thread behind it loads the rest.
"""

import gc
import threading
from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import SystemCommand
from textual.screen import ModalScreen, Screen

from shopcli.codes import Code
from shopcli.screens.acts import bindings
from shopcli.screens.doing import Acting
from shopcli.screens.going import GoingApp
from shopcli.screens.readonce import ReadOnce
from shopcli.screens.remembered import remember_theme, remembered_theme
from shopcli.screens.scanning import ScanningApp
from shopcli.screens.signing import SIGN_IN, SigningApp, door
from shopcli.screens.themes import OURS
from shopcli.screens.typing_ahead import TypingAheadApp
from shopcli.screens.watching_app import WatchingApp
from shopcli.screens.whole_name import WholeNameApp
from shopcli.shop.listed import PersonView
from shopcli.store.shop import Shop

if TYPE_CHECKING:
    from concurrent.futures import ThreadPoolExecutor
    from pathlib import PurePath

    from textual.command import Provider
    from textual.filter import LineFilter
    from textual.theme import Theme
    from textual.widget import AwaitMount

    from shopcli.shop.command import Command
    from shopcli.shop.ordered import Order


def _desk() -> Screen[None]:
    from shopcli.screens.desk.station import DeskScreen

    return DeskScreen()


def _bench() -> Screen[None]:
    from shopcli.screens.bench.station import BenchScreen

    return BenchScreen()


def _finder() -> "type[Provider]":
    from shopcli.screens.finder import Finder

    return Finder


def _week() -> Screen[None]:
    from shopcli.screens.week.station import WeekScreen

    return WeekScreen()


class ShopApp(SigningApp, GoingApp, ScanningApp, TypingAheadApp, WholeNameApp, WatchingApp):
    """The terminal application of a shop.

    It begins at the sign-in when `who` has a PIN, or is nobody; with `must_sign_in` (in a browser) always, and only
    people with a PIN are let in.
    """

    TITLE = "shopcli"
    CSS_PATH: "ClassVar[list[str | PurePath]]" = ["theme.tcss", "desk/station.tcss"]
    BINDINGS = bindings("app")
    # The desk is not among them: as the default screen its sheet is read with the first, and nothing is read twice.
    MODES: ClassVar[dict[str, Callable[[], Screen[None]]]] = {"bench": _bench, "week": _week, SIGN_IN: door}
    DEFAULT_MODE = "desk"
    ENABLE_COMMAND_PALETTE = True
    COMMANDS = ScanningApp.COMMANDS | {_finder}
    IDLE_S = 600  # whoever presses a key after that long has come back, and is asked about a forgotten clock

    def __init__(
        self,
        shop: Shop,
        who: PersonView | None = None,
        *,
        card_id: int | None = None,
        must_sign_in: bool = False,
    ) -> None:
        self.shop = shop
        super().__init__(shop, who, must_sign_in=must_sign_in)
        self.stylesheet = ReadOnce(variables=self.get_css_variables())
        self.card_id = card_id
        self.task_id: int | None = None  # a task the bench is asked to show first
        self.when_warm: Callable[[], object] = bool  # called once all is loaded that an act needs
        self.orders: dict[int, Order] = {}  # the order of work of each card, as it was last made
        self.plain = shop.settings.ascii_only  # plain characters only, in pictures as in words
        self._last_key_at: int | None = None
        self._choose_theme()

    def get_default_screen(self) -> Screen[None]:
        """Start at the desk."""
        return _desk()

    @cached_property
    def queue(self) -> "ThreadPoolExecutor":
        """The one thread that acts, in the order of the keys; made with the first act."""
        from concurrent.futures import ThreadPoolExecutor

        return ThreadPoolExecutor(max_workers=1, thread_name_prefix="acts")

    def on_mount(self) -> None:
        """Take theme and keys as chosen, and warm up what the first act will need."""
        self.add_mode("desk", _desk)
        self._take_choices()
        self.set_timer(0.2, self._warm)
        self.keep_watch(self.shop)
        self.keep_door()

    def _choose_theme(self) -> None:
        """Take the theme as chosen before any sheet is read: after, every sheet would be read again for it."""
        for theme in OURS:
            self.register_theme(theme)
        for name in (remembered_theme(), self.shop.settings.theme):
            if name in self.available_themes:
                self.theme = name
                self.stylesheet.set_variables(self.get_css_variables())
                return

    def refresh_css(self, animate: bool = True) -> None:
        """Read the sheets again, unless none was read yet."""
        if self.screen_stack:
            super().refresh_css(animate)

    def _take_choices(self) -> None:
        given = self.theme

        def chosen(theme: "Theme") -> None:
            if theme.name != given or remembered_theme():
                remember_theme(theme.name)

        self.theme_changed_signal.subscribe(self, chosen)
        if self.shop.settings.keys or self.is_web:
            from shopcli.screens.keymap import IN_BROWSER, sound

            of_browser = IN_BROWSER if self.is_web else {}
            keymap, complaints = sound({**of_browser, **dict(self.shop.settings.keys)})
            self.set_keymap(keymap)
            for complaint in complaints:
                self.notify(complaint, title="Settings", severity="warning", markup=False, timeout=20)

    def on_unmount(self) -> None:
        """Watch the records no more."""
        self.watch_no_more()

    async def on_event(self, event: events.Event) -> None:
        """See who comes back: the first key, or one after a long while."""
        await super().on_event(event)
        if isinstance(event, events.Key) and not self.is_shut:
            now, before = self.shop.at(), self._last_key_at
            self._last_key_at = now
            if before is None or now - before >= self.IDLE_S:
                self.when_typed(self.ask_forgotten)

    async def scanned(self, code: Code) -> None:
        """Do what a scanned code says."""
        from shopcli.screens.scanned import do_scanned

        if self.is_shut:
            return
        await do_scanned(self, code)

    def ask_forgotten(self) -> None:
        """Ask whoever stands here about clocks that were not stopped, unless something is being asked already."""
        from shopcli.screens.forgotten import ask_about, waiting

        if not self.is_shut and not isinstance(self.screen, ModalScreen):
            ask_about(self, waiting(self))

    def act_here(self, command: "Command") -> None:
        """Do something in the name of whoever stands here; the screen below any question answers."""
        for screen in reversed(self.screen_stack):
            if isinstance(screen, Acting):
                screen.carry_out(command)
                return

    def _warm(self) -> None:
        gc.enable()

        def warm() -> None:
            from shopcli.screens.week.beforehand import load

            self.shop.warm()
            load(self.shop)
            self.when_warm()

        threading.Thread(target=warm, name="warm", daemon=True).start()

    def open_card(self, card_id: int, task_id: int | None = None) -> None:
        """Show a card at the bench, at one of its tasks when that is what is meant."""
        from shopcli.screens.bench.station import BenchScreen

        self.card_id, self.task_id = card_id, task_id
        self.switch_mode("bench")
        # A summary or a closing check, perhaps of another card, may lie over the bench; the bench is always the lowest.
        while len(self.screen_stack) > 1:
            self.screen.dismiss(None)
        bench = self.screen_stack[0]
        if isinstance(bench, BenchScreen):
            bench.show_card(card_id)
            bench.choose_wanted()

    def switch_mode(self, mode: str) -> "AwaitMount":
        """Go to another station; what was told at the one before does not lie over its keys."""
        if mode != self.current_mode:
            self.clear_notifications()
        return super().switch_mode(mode)

    def get_line_filters(self) -> "Sequence[LineFilter]":
        """Bring every line down to plain characters where the terminal has no others."""
        filters = super().get_line_filters()
        if not self.plain:
            return filters
        from shopcli.screens.plain_lines import PlainLines

        return [*filters, PlainLines()]

    def action_desk(self) -> None:
        """Go to the list of open cards; what was looked at of one card lies over it no longer."""
        self.switch_mode("desk")
        while len(self.screen_stack) > 1 and isinstance(self.screen, Acting) and self.screen.OF_ONE_CARD:
            self.screen.dismiss(None)

    def action_bench(self) -> None:
        """Go to the bench."""
        self.switch_mode("bench")

    def action_week(self) -> None:
        """Go to the week."""
        self.switch_mode("week")

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Offer the acts by name in the palette, beside the framework's own."""
        yield from super().get_system_commands(screen)
        yield SystemCommand("Desk", "The list of open cards", self.action_desk)
        yield SystemCommand("Bench", "The card in hand", self.action_bench)
        yield SystemCommand("Week", "The weeks of the shop", self.action_week)
        yield SystemCommand("Sums", "The workshop sums", self.action_sums)
        yield SystemCommand("Sheets", "Spec sheets and the numbers of vehicles", self.action_sheets)
        yield SystemCommand("Stores", "Shelf, orders, goods in, outwork, exchanges", self.action_stores)
        yield SystemCommand("Tools", "The shop's measuring tools and their calibration", self.action_tools)
        yield SystemCommand("Offers", "Offers made, and what was answered to them", self.action_offers)
        yield SystemCommand(
            "Whom to ring", "Who waits for a word of ours, and what was said last", self.action_ring
        )
        yield SystemCommand("Times", "Your own times of a day, to put them right", self.action_times)
        yield SystemCommand("People", "Who works here, what they may do, and PINs", self.action_people)
        yield SystemCommand("Who stands here", "Change the person at this terminal", self.action_person)
