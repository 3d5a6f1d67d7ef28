"""What is known of the chosen number, below the list."""

from shopcli.screens.sheets.wording import pane_lines
from shopcli.screens.widgets.lines import Line, fitted
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.sheet_views import NumberView
from shopcli.units import METRIC, Preferences


class NumberPane(LinesPane):
    """All layers of one number."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._number: NumberView | None = None
        self._prefs = METRIC

    def show(self, number: NumberView | None, prefs: Preferences) -> None:
        """Show a number."""
        self._number, self._prefs = number, prefs
        self.refresh(layout=True)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Lay the layers out; where they do not all fit the last line says so."""
        plain = bool(getattr(self.app, "plain", False))
        return fitted(
            pane_lines(self._number, width, self._prefs, plain=plain), rows, "F3 shows the history", width
        )
