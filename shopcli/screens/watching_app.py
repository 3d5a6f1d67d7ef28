"""How the application keeps an eye on the records: what others write, whether they can be reached, whether a copy is due."""

import threading

from textual.app import App

from shopcli.errors import ShopError
from shopcli.screens.careful import Careful, shops_own, tell
from shopcli.screens.doing import Acting, ReachChanged, RecordsChanged
from shopcli.store.shop import Shop
from shopcli.store.watching import Watcher


class WatchingApp(Careful, App[None]):
    """An application that shows what other terminals write, and copies the records when that is due."""

    BACKUP_LOOK_S = 60.0  # once in a while it is seen whether a copy of the records is due
    out_of_reach = False
    _watcher: Watcher | None = None
    _copy_trouble = ""

    def keep_watch(self, shop: Shop) -> None:
        """Begin to watch."""

        def copy() -> None:
            threading.Thread(target=self._copy_when_due, args=(shop,), name="copy", daemon=True).start()

        self._watcher = Watcher(
            shop.place,
            lambda: self.post_message(RecordsChanged()),
            reach=lambda there: self.post_message(ReachChanged(there)),
        )
        self._watcher.start()
        self.set_interval(self.BACKUP_LOOK_S, copy)

    def watch_no_more(self) -> None:
        """End watching."""
        if self._watcher is not None:
            self._watcher.stop()

    def on_records_changed(self) -> None:
        """Another terminal wrote: show it, on top and on the station beneath, with everything left where it was."""
        if not self.is_running:  # the program ends: its screens are being taken down
            return
        for screen in {self.screen_stack[0], self.screen} if self.screen_stack else ():
            if isinstance(screen, Acting):
                screen.records_changed()

    def on_reach_changed(self, message: ReachChanged) -> None:
        """Say on top of every screen that the records are out of reach, until they are back."""
        from shopcli.screens.widgets.topbar import TopBar

        self.out_of_reach = not message.there
        if not self.is_running:
            return
        for screen in self.screen_stack:
            for bar in screen.query(TopBar):
                bar.lay_again()
        if message.there:
            self.notify("The records can be reached again.", markup=False)

    def _handle_exception(self, error: Exception) -> None:
        """Say in words what a worker or a callback could not read; every other error ends the program."""
        own = shops_own(error)
        if own is None:
            super()._handle_exception(error)
        else:
            tell(self, own)

    def _copy_when_due(self, shop: Shop) -> None:
        """Copy the records behind what is being done; say so only when it cannot be done, and once."""
        from shopcli.store.whole.backups import keep_up

        try:
            keep_up(shop)
        except ShopError as error:
            said = f"No copy of the records was made: {error.message}."
            if said != self._copy_trouble:
                self.notify(said, severity="warning", markup=False, timeout=20)
            self._copy_trouble = said
