"""The words around the field a reading is typed into: what is asked above it, how it is understood below it."""

from shopcli.screens.widgets.lines import Line, width_of_line, wrapped
from shopcli.screens.widgets.linespane import ENDLESS, LinesPane

RULE, EDGE = "━━ ", "$accent"
STYLES = {
    "fine": "bold $text-success",
    "refused": "bold $text-error",
    "unclear": "bold $text-warning",
    "hint": "$text-muted",
}


class Words(LinesPane):
    """What stands below the field; and where a row is left, the keys that end it."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self.says = ""
        self._style = self._keys = ""

    def show(self, words: str, style: str, keys: str = "") -> None:
        """Show other words."""
        self.says, self._style, self._keys = words, style, keys
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the words in so many columns."""
        lines = wrapped(self.says, width, self._style)
        return (
            [*lines, ((self._keys, STYLES["hint"]),)] if self._keys and len(lines) < rows < ENDLESS else lines
        )


class Question(Words):
    """What is asked, as the edge above the field."""

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return one line to both sides of the words, or the words where it takes more."""
        del rows
        lines = wrapped(self.says, width - len(RULE), self._style)
        rule = (RULE, EDGE)
        if len(lines) > 1:
            return [(rule, *line) if line is lines[0] else line for line in lines]
        left = width - len(RULE) - width_of_line(lines[0]) - 1
        return [(rule, *lines[0], (f" {RULE[0] * max(0, left)}", EDGE))]
