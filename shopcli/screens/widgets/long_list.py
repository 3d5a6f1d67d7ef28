"""A list of one-line rows of which only those in sight are drawn: five thousand parts cost no more than twenty.

It never takes the focus from the typing; the chosen row is marked by a bar as well as by its ground, and stays chosen
by its key when others come and go. A row without a key is a heading and is stepped over.
"""

from collections.abc import Callable, Sequence
from typing import Any, ClassVar

from rich.segment import Segment
from textual import events
from textual.content import Content
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.visual import Visual

from shopcli.screens.widgets.lines import Line
from shopcli.screens.widgets.marked_list import BAR

Rows = Sequence[tuple[str, Any]]
Draw = Callable[[Any, int], Line]


class LongList(ScrollView, can_focus=False):
    """Rows as (key, whatever is drawn); `draw` lays one out in so many columns when it comes into sight."""

    ALLOW_SELECT = False
    COMPONENT_CLASSES: ClassVar[set[str]] = {"long-list--row", "long-list--chosen"}
    DEFAULT_CSS = """
    LongList { height: 1fr; background: $background; scrollbar-size-vertical: 1; scrollbar-gutter: stable;
        text-wrap: nowrap; text-overflow: ellipsis; }
    LongList > .long-list--row { background: $background; color: $foreground; }
    LongList > .long-list--chosen { background: $primary 30%; color: $text; text-style: bold; }
    LongList:light > .long-list--chosen { background: $primary 16%; }
    LongList:ansi > .long-list--chosen { background: ansi_default; color: ansi_default; }
    """

    class Chosen(Message):
        """Another row is chosen."""

    class Opened(Message):
        """The chosen row was clicked once more."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._rows: Rows = ()
        self._draw: Draw | None = None
        self._at: int | None = None
        self._drawn: dict[tuple[int, int, bool], Strip] = {}

    @property
    def chosen(self) -> Any:
        """What is chosen, None where nothing is."""
        return None if self._at is None else self._rows[self._at][1]

    @property
    def chosen_key(self) -> str:
        """The key of what is chosen, empty where nothing is."""
        return "" if self._at is None else self._rows[self._at][0]

    @property
    def columns(self) -> int:
        """Columns a row has, the bar's left out."""
        # Before the first layout the list has no width yet, and the first picture must already be right.
        return max(20, (self.scrollable_content_region.width or self.app.size.width - 3) - 1)

    def show(self, rows: Rows, draw: Draw, *, choose: str = "") -> None:
        """Show these rows; the one chosen before, or `choose`, is chosen again where it is still there.

        Where it went, the one that took its place is chosen: who works a list off goes on with the next.
        """
        wanted, before = choose or self.chosen_key, self._at
        self._rows, self._draw = rows, draw
        self._drawn.clear()
        places = [index for index, (key, _row) in enumerate(rows) if key]
        found = next((index for index in places if rows[index][0] == wanted), None) if wanted else None
        if found is None and places:
            found = min(places, key=lambda index: (abs(index - (before or 0)), index))
        self._at = found
        self.virtual_size = Size(0, len(rows))
        self._bring_into_sight()
        self.refresh()
        self.post_message(self.Chosen())

    def move(self, by: int) -> None:
        """Choose the row so many further on, or back, without running round the ends."""
        places = [index for index, (key, _row) in enumerate(self._rows) if key]
        if not places:
            return
        place = places.index(self._at) if self._at in places else 0
        self._choose(places[max(0, min(place + by, len(places) - 1))])

    def page(self, by: int) -> None:
        """Move by about a screenful."""
        self.move(by * max(1, self.scrollable_content_region.height - 1))

    def _choose(self, index: int) -> None:
        if index == self._at:
            return
        self._at = index
        self._bring_into_sight()
        self.refresh()
        self.post_message(self.Chosen())

    def _bring_into_sight(self) -> None:
        if self._at is None:
            self.scroll_home(animate=False)
            return
        first = self._at
        while first and not self._rows[first - 1][0]:  # the headings above it belong to it
            first -= 1
        self.scroll_to_region(Region(0, first, 1, self._at - first + 1), animate=False, force=True)

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the rows out anew."""
        self._drawn.clear()
        self._bring_into_sight()

    def notify_style_update(self) -> None:
        """Draw anew in another theme."""
        self._drawn.clear()
        super().notify_style_update()

    def on_click(self, event: events.Click) -> None:
        """Choose the row clicked; once more opens it."""
        index = event.y + self.scroll_offset.y
        if not (0 <= index < len(self._rows) and self._rows[index][0]):
            return
        if index == self._at:
            self.post_message(self.Opened())
        else:
            self._choose(index)

    def render_line(self, y: int) -> Strip:
        """Draw one line in sight."""
        index, width = y + self.scroll_offset.y, self.scrollable_content_region.width
        if index >= len(self._rows) or self._draw is None:
            return Strip.blank(width, self.get_visual_style("long-list--row").rich_style)
        chosen = index == self._at
        key = (index, width, chosen)
        if key not in self._drawn:
            self._drawn[key] = self._strip(
                self._draw(self._rows[index][1], self.columns), width, chosen=chosen
            )
        return self._drawn[key]

    def _strip(self, line: Line, width: int, *, chosen: bool) -> Strip:
        style = self.get_visual_style("long-list--row", *(["long-list--chosen"] if chosen else []))
        content = Content.assemble(*line)
        strips = Visual.to_strips(self, content, max(1, width - 1), 1, style, pad=True)
        bar = Strip([Segment(BAR if chosen else " ", style.rich_style)], 1)
        return Strip.join([bar, strips[0] if strips else Strip.blank(width - 1, style.rich_style)])
