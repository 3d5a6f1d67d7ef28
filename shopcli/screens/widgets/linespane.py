"""A pane that lays its lines out for whatever room it is given, and paints no row that is as it was.

What is laid out is kept, and so is every line once it was dressed in its colours: a key that changes two rows of
a list costs two rows, and the screen is laid out anew only where a pane wants more or fewer rows than it has.
"""

from itertools import zip_longest

from textual.content import Content
from textual.geometry import Region, Size
from textual.reactive import Reactive
from textual.strip import Strip
from textual.style import Style
from textual.widget import Widget

from shopcli.screens.widgets.lines import BLANK, Line, as_content
from shopcli.screens.widgets.strips import strip_of

ENDLESS = 9_999
MOST_KEPT = 1_000  # lines kept in their colours; more than any pane shows on a day


class LinesPane(Widget):
    """Base: a subclass says in `lay` what stands in a room of so many columns and rows.

    When that has changed it calls `lay_again`.
    """

    ALLOW_SELECT = False
    DEFAULT_CSS = """
    LinesPane { height: auto; width: 1fr; }
    """
    # A pane shows what it has room for and scrolls nothing by itself: being given other room is no reason to lay out
    # the screen a second time.
    virtual_size = Reactive(Size(0, 0), layout=False, repaint=False)

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, classes=classes)
        self._laid: list[Line] = []
        self._laid_for: Size | None = None
        self._strips: dict[Line, Strip] = {}
        self._dress: tuple[Style, str] | None = None

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the lines for that room, [columns] and [rows]."""
        raise NotImplementedError

    def lay_again(self) -> None:
        """Show what changed: the rows that differ, or the whole screen laid out anew where their number does."""
        size = self.size
        if not self.is_mounted or not self.display or not size:
            self.refresh()  # it is laid out when it comes into sight
        elif self.styles.is_auto_height and self._wanted_rows(size) != size.height:
            self.refresh(layout=True)
        elif self._laid_for != size:
            self.refresh()
        else:
            self._paint_difference(size)

    def _paint_difference(self, size: Size) -> None:
        width, rows = size
        before, after = self._laid[:rows], self.lay(width, rows)
        self._laid = after
        differ = [y for y, (a, b) in enumerate(zip_longest(before, after[:rows])) if a != b]
        if differ:
            self.refresh(*(Region(0, y, width, 1) for y in differ))

    def refresh(
        self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False
    ) -> "LinesPane":
        """Paint anew; asked for without regions, all of it is laid out anew as well."""
        if repaint and not regions:
            self._laid_for = None
        super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)
        return self

    def _wanted_rows(self, size: Size) -> int:
        """Return the rows the lines need, within what the style sheet allows."""
        wanted = max(1, len(self.lay(size.width, ENDLESS)))
        around = self.styles.gutter.height
        least, most = self.styles.min_height, self.styles.max_height
        if least is not None and least.cells is not None:
            wanted = max(wanted, least.cells - around)
        if most is not None and most.cells is not None:
            wanted = min(wanted, most.cells - around)
        return wanted

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Ask for as many rows as the lines need."""
        return max(1, len(self.lay(max(1, width), ENDLESS)))

    def _settle(self) -> None:
        """Lay out for the room there is now, if that was not done yet."""
        size = self.size
        if self._laid_for != size:
            self._laid = self.lay(*size) if size.width else []
            self._laid_for = size
        dress = (self.visual_style, self.app.theme)
        if dress != self._dress or len(self._strips) > MOST_KEPT:
            self._dress = dress
            self._strips.clear()

    def render_lines(self, crop: Region) -> list[Strip]:
        """Return the rows asked for."""
        self._settle()
        return super().render_lines(crop)

    def render_line(self, y: int) -> Strip:
        """Return one row in its colours."""
        line = self._laid[y] if y < len(self._laid) else BLANK
        strip = self._strips.get(line)
        if strip is None:
            strip = self._strips[line] = strip_of(line, self.visual_style)
        return strip

    def render(self) -> Content:
        """Return all of it as one text."""
        self._settle()
        return as_content(self._laid)
