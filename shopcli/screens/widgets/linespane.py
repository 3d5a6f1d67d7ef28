"""A pane that lays its lines out anew for whatever room it is given."""

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from shopcli.screens.widgets.lines import Line, as_content

ENDLESS = 9_999


class LinesPane(Widget):
    """Base: a subclass says in `lay` what stands in a room of so many columns and rows."""

    ALLOW_SELECT = False
    DEFAULT_CSS = """
    LinesPane { height: auto; width: 1fr; }
    """

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the lines for that room, [columns] and [rows]."""
        raise NotImplementedError

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Ask for as many rows as the lines need."""
        return max(1, len(self.lay(max(1, width), ENDLESS)))

    def render(self) -> Content:
        """Show the lines for the room there is."""
        width, rows = self.size
        return as_content(self.lay(width, rows)) if width else Content("")
