"""Pictures of the task in hand, one at a time: right and left go through them, down turns the crank on."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from shopcli.columns import shown
from shopcli.screens.acts import bindings
from shopcli.screens.bench.inhand import InHand
from shopcli.screens.bench.pictures import Sheet, sheets
from shopcli.screens.doing import Acting
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.lines import Line
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.screens.widgets.topbar import TopBar

OTHERS = ("app.desk", "app.bench", "app.week", "app.person", "app.sheets")


class PicturePane(LinesPane):
    """One picture."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._sheet: Sheet | None = None
        self._turn = 0

    def show(self, sheet: Sheet, turn: int) -> None:
        """Show a picture at one of its turns."""
        self._sheet, self._turn = sheet, turn
        self.refresh(layout=True)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Lay the picture out."""
        del rows
        return self._sheet.lines(width, self._turn) if self._sheet is not None else []


class PictureScreen(Acting[None]):
    """The pictures that fit a task, the one it is looked at with first."""

    CSS_PATH = "pictures.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("pictures")
    AUTO_FOCUS = None
    HELP_STATION = "pictures"

    def __init__(self, hand: InHand) -> None:
        super().__init__()
        self.sheets, self.at = sheets(hand)
        self.turns = [0] * len(self.sheets)

    def compose(self) -> ComposeResult:
        """Lay out heading, picture and keys."""
        yield TopBar("Pictures")
        with VerticalScroll(id="picture-scroll", can_focus=False):
            yield PicturePane(id="picture")
        yield KeyBar("pictures", without=OTHERS)

    def on_mount(self) -> None:
        """Show the first one."""
        self.look_at_clock()
        self._show()

    @property
    def sheet(self) -> Sheet:
        """The picture looked at."""
        return self.sheets[self.at]

    def _show(self) -> None:
        number = f"{self.at + 1} of {len(self.sheets)}"
        self.query_one(TopBar).say(shown(f"Pictures  {number}  {self.sheet.title}"))
        self.query_one("#picture", PicturePane).show(self.sheet, self.turns[self.at])

    def _go(self, by: int) -> None:
        self.at = (self.at + by) % len(self.sheets)
        self.query_one("#picture-scroll").scroll_home(animate=False)
        self._show()

    def _turn(self, by: int) -> None:
        if self.sheet.turns > 1:
            self.turns[self.at] = (self.turns[self.at] + by) % self.sheet.turns
            self._show()
        else:
            scroll = self.query_one("#picture-scroll")
            scroll.scroll_relative(y=by * max(1, scroll.size.height // 2), animate=False)

    def action_next(self) -> None:
        """Look at the next picture."""
        self._go(1)

    def action_previous(self) -> None:
        """Look at the picture before."""
        self._go(-1)

    def action_turn(self) -> None:
        """Turn the crank on, or read on."""
        self._turn(1)

    def action_turn_back(self) -> None:
        """Turn the crank back, or read back."""
        self._turn(-1)

    def action_back(self) -> None:
        """Go back to the task."""
        self.dismiss(None)
