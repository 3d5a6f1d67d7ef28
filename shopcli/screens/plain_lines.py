"""The last step before a line reaches a terminal that has plain characters only: every sign becomes its twin.

Screens still choose plain pictures of their own where one sign for another would not do (`ShopApp.plain`); this
sees to the rest, frames, scroll bars and names of people, wherever they come from.
"""

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from shopcli.plainly import plainly


class PlainLines(LineFilter):
    """Brings each line down to plain characters."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Return the line in plain characters, its styles untouched."""
        del background
        return [s if s.text.isascii() else Segment(plainly(s.text), s.style, s.control) for s in segments]
