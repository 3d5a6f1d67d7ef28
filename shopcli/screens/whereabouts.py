"""Where was I? One look at a card for somebody who comes back to it: what is next, what was last, what came meanwhile."""

from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from shopcli.screens.acts import bindings
from shopcli.screens.doing import Acting, Looked
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.lines import BLANK, Line, beside, width_of_line, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.lately import WhereView
from shopcli.store.reads.lately import where_was_i
from shopcli.where_words import Block, blocks, heading

WHERE = "where"
TWO_COLUMNS = 100
STYLES = {
    "next": "bold $text-accent",
    "bad": "bold $text-error",
    "open": "$text-warning",
    "quiet": "$foreground-muted",
}
GAP = 4


def laid(shown: tuple[Block, ...], width: int) -> list[Line]:
    """Return blocks one below the other; what can be said in a single line takes no more."""
    lines: list[Line] = []
    apart = False
    for block in shown:
        text, kind = block.lines[0]
        alone: Line = ((f"{block.title}: ", "bold"), (text, STYLES.get(kind, "")))
        if len(block.lines) == 1 and kind != "next" and "\n" not in text and width_of_line(alone) <= width:
            lines += [BLANK] if apart else []
            lines.append(alone)
            apart = False
            continue
        lines += [BLANK] if lines else []
        apart = True
        lines.append(((block.title, "bold underline"),))
        for text, kind in block.lines:
            lines += wrapped(text, width, STYLES.get(kind, ""), first="  ", rest="    ")
    return lines


class WherePane(LinesPane):
    """The whole of it, in two columns where there is room."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._seen: WhereView | None = None

    def show(self, seen: WhereView) -> None:
        """Show where a card stands."""
        self._seen = seen
        self.refresh(layout=True)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the blocks for the room there is."""
        del rows
        if self._seen is None:
            return [(("The card is being read.", ""),)]
        everything = blocks(self._seen)
        if width < TWO_COLUMNS:
            return laid(everything, width)
        room = (width - GAP) // 2
        left = laid(tuple(b for b in everything if not b.side), room)
        right = laid(tuple(b for b in everything if b.side), width - GAP - room)
        return beside(left, right, room, GAP)


class WhereScreen(Acting[int | None]):
    """Where a card stands; Enter goes on with the next thing to do."""

    CSS_PATH = "whereabouts.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("where")
    AUTO_FOCUS = "#where-scroll"
    HELP_STATION = "where"

    def __init__(self, card_id: int) -> None:
        super().__init__()
        self._card_id = card_id
        self._seen: WhereView | None = None

    def compose(self) -> ComposeResult:
        """Lay out the heading and what is said."""
        yield TopBar("Where was I")
        with VerticalScroll(id="where-scroll"):
            yield WherePane(id="where")
        yield KeyBar("where", without=("app.desk", "app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Read the card behind the screen."""
        self.who_changed()

    def who_changed(self) -> None:
        """Somebody else stands here: another last time."""
        self.look_at_clock()
        self.reload()

    def records_changed(self) -> None:
        """Look again; the place in it stays."""
        self.who_changed()

    def reload(self) -> None:
        """Look at the card again."""
        shop, who = self.desk_app.shop, self.desk_app.who.id
        self.look(WHERE, partial(where_was_i, shop, self._card_id, who))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == WHERE:
            self._seen = event.seen
            self.query_one(TopBar).say(f"Where was I  {heading(event.seen)}")
            self.query_one("#where", WherePane).show(event.seen)

    def action_go_on(self) -> None:
        """Go on with the next thing to do."""
        step = self._seen.next if self._seen is not None else None
        self.dismiss(step.task_id if step is not None else None)

    def action_back(self) -> None:
        """Go back to where one stood."""
        self.dismiss(None)
