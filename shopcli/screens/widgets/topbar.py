"""The line on top of every station: which station, whose hands, whose clock runs and for how long."""

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Static

from shopcli.columns import cut, shown
from shopcli.present import h_mm
from shopcli.shop.listed import ClockView

NAME_MOST = 20


class TopBar(Horizontal):
    """Station on the left, person and running clock on the right."""

    DEFAULT_CSS = """
    TopBar { height: 1; background: $primary; color: $text; }
    TopBar .topbar-left { width: 1fr; text-style: bold; padding: 0 1; }
    TopBar .topbar-right { width: auto; padding: 0 1; }
    """

    def __init__(self, station: str) -> None:
        super().__init__()
        self._station = station

    def compose(self) -> ComposeResult:
        yield Static(Content(self._station), classes="topbar-left")
        yield Static(Content(""), classes="topbar-right")

    def show(self, who: str, clock: ClockView | None, seconds: int) -> None:
        """Show who stands here and their running clock, or the break they are on."""
        running = "○ no clock"
        if clock is not None:
            sign = "◌ break" if clock.on_break else "●"
            word = "from" if clock.on_break else "on"
            running = f"{sign} {h_mm(seconds)} {word} {cut(clock.card, NAME_MOST)}"
        self.query_one(".topbar-right", Static).update(Content(f"{cut(who, NAME_MOST)}  {running}"))

    def say(self, station: str) -> None:
        """Show another heading on the left."""
        self.query_one(".topbar-left", Static).update(Content(shown(station)))
