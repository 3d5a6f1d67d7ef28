"""How the application goes to what lies over the stations: times, sums, stores, calls, sheets, help; nothing twice."""

from textual.app import App
from textual.screen import ModalScreen

from shopcli.shop.listed import PersonView
from shopcli.store.shop import Shop


class GoingApp(App[None]):
    """An application that opens each of its screens once; each is loaded when it is first gone to."""

    shop: Shop
    who: PersonView

    async def action_quit(self) -> None:
        """Leave; whoever's clock runs is asked first what becomes of it."""
        from shopcli.screens.app import ShopApp
        from shopcli.screens.leaving import LeavingScreen, leave

        if isinstance(self, ShopApp) and self.is_shut:
            self.exit()
        elif isinstance(self, ShopApp) and not isinstance(self.screen, LeavingScreen):
            self.run_worker(leave(self), group="asks", exit_on_error=False)

    def action_times(self) -> None:
        """Open the times of whoever stands here, today's."""
        from shopcli.screens.times.station import TimesScreen

        if not any(isinstance(screen, TimesScreen) for screen in self.screen_stack):
            self.push_screen(TimesScreen(self.who.id, self.shop.local(self.shop.at()).date()))

    def action_sums(self) -> None:
        """Open the workshop sums: from the bench with what is in hand there, from elsewhere empty."""
        from shopcli.screens.bench.station import BenchScreen
        from shopcli.screens.workings.panel import WorkingsPanel

        if isinstance(self.screen, BenchScreen):
            self.screen.action_working()
        elif isinstance(self.screen, WorkingsPanel):
            self.screen.action_another()
        else:
            self.push_screen(WorkingsPanel())

    def action_tools(self) -> None:
        """Open the register of measuring tools."""
        from shopcli.screens.desk.tools import ToolsScreen

        if not isinstance(self.screen, ToolsScreen):
            self.push_screen(ToolsScreen())

    def action_people(self) -> None:
        """Open the page of people."""
        from shopcli.screens.people.station import PeopleScreen

        if not any(isinstance(screen, PeopleScreen) for screen in self.screen_stack):
            self.push_screen(PeopleScreen())

    def action_offers(self) -> None:
        """Open the offers of the shop."""
        from shopcli.screens.ahead.offers import OffersScreen

        if not isinstance(self.screen, OffersScreen):
            self.push_screen(OffersScreen())

    def action_stores(self) -> None:
        """Open the stores, at the shelf; pressed there, nothing happens."""
        from shopcli.screens.stores.page import StoresPage
        from shopcli.screens.stores.pages import page

        if not isinstance(self.screen, ModalScreen) and not any(
            isinstance(screen, StoresPage) for screen in self.screen_stack
        ):
            self.push_screen(page("shelf"))

    def action_ring(self) -> None:
        """Open the list of whom to ring."""
        from shopcli.screens.ringing.station import RingScreen

        if not any(isinstance(screen, RingScreen) for screen in self.screen_stack):
            self.push_screen(RingScreen())

    def action_sheets(self) -> None:
        """Open the sheets at what is in hand; pressed there, choose another."""
        from shopcli.screens.sheets.looking import in_hand
        from shopcli.screens.sheets.station import SheetsScreen

        if isinstance(self.screen, SheetsScreen):
            self.screen.choose_another()
        elif not isinstance(self.screen, ModalScreen) and not any(
            isinstance(screen, SheetsScreen) for screen in self.screen_stack
        ):
            self.push_screen(SheetsScreen(in_hand(self.screen)))

    def action_help(self) -> None:
        """Explain the screen."""
        from shopcli.screens.help import HelpScreen

        mode = self.current_mode if self.current_mode in self.MODES else type(self).DEFAULT_MODE
        station = getattr(self.screen, "HELP_STATION", mode)
        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(station))
