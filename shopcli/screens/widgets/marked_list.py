"""A list whose chosen entry is marked by a bar as well as by its ground, so that it is seen without colours too."""

from rich.segment import Segment
from textual.strip import Strip
from textual.widgets import OptionList

BAR = "▌"


class MarkedList(OptionList):
    """Every entry leaves its first column free for the bar."""

    DEFAULT_CSS = """
    MarkedList { border: none; padding: 0; background: $background; scrollbar-size-vertical: 1; }
    MarkedList:focus { border: none; background-tint: $background 0%; }
    MarkedList > .option-list--option-highlighted, MarkedList:focus > .option-list--option-highlighted {
        background: $primary 30%; color: $text; text-style: bold;
    }
    MarkedList:light > .option-list--option-highlighted, MarkedList:light:focus > .option-list--option-highlighted {
        background: $primary 16%;
    }
    /* In the terminal's own palette a ground of ours could swallow the colour of a word: the bar must do. */
    MarkedList:ansi > .option-list--option-highlighted, MarkedList:ansi:focus > .option-list--option-highlighted {
        background: ansi_default; color: ansi_default;
    }
    """

    def render_line(self, y: int) -> Strip:
        """Put the bar before each line of the chosen entry."""
        strip = super().render_line(y)
        first = next(iter(strip), None)
        chosen = self.highlighted
        if first is None or first.style is None or chosen is None or first.style.meta.get("option") != chosen:
            return strip
        return Strip.join([Strip([Segment(BAR, first.style)], 1), strip.crop(1)])
