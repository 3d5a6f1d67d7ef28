"""The line on top of every station: which station, whose hands, whose clock runs and for how long."""

from shopcli.columns import cut, display_width, shown
from shopcli.present import h_mm
from shopcli.screens.widgets.lines import Line
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.screens.widgets.strips import GROUND
from shopcli.shop.listed import ClockView

NAME_MOST = 20
GAP = 2
LEAST_ROOM = 2
OUT_OF_REACH = "! records out of reach, asking again"


class TopBar(LinesPane):
    """Station on the left, person and running clock on the right."""

    DEFAULT_CSS = """
    TopBar { height: 1; padding: 0 1; background: $primary; color: $text; }
    """

    def __init__(self, station: str) -> None:
        super().__init__()
        self._station = station
        self._hands = ""

    @property
    def says(self) -> str:
        """Who stands here, and what their clock does."""
        return self._hands

    def show(self, who: str, clock: ClockView | None, seconds: int) -> None:
        """Show who stands here and their running clock, or the break they are on."""
        running = "○ no clock"
        if clock is not None:
            sign = "◌ break" if clock.on_break else "●"
            word = "from" if clock.on_break else "on"
            running = f"{sign} {h_mm(seconds)} {word} {cut(clock.card, NAME_MOST)}"
        self._hands = f"{cut(who, NAME_MOST)}  {running}"
        self.lay_again()

    def say(self, station: str) -> None:
        """Show another heading on the left."""
        self._station = shown(station)
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the one line; a heading that is too long is cut."""
        del rows
        hands = OUT_OF_REACH if getattr(self.app, "out_of_reach", False) else self._hands
        room = max(LEAST_ROOM, width - display_width(hands) - (GAP if hands else 0))
        heading = self._station if display_width(self._station) <= room else cut(self._station, room)
        between = " " * (width - display_width(heading) - display_width(hands))
        return [((heading, "bold"), (between, GROUND), (hands, ""))]
