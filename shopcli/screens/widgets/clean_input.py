"""A field to type in that keeps out what would drive the terminal or turn a line round."""

from textual.widgets import Input

from shopcli.columns import shown


class CleanInput(Input):
    """An `Input` of one clean line."""

    def validate_value(self, value: str) -> str:
        """Return the text without controls and reordering marks; a line break becomes a blank."""
        return value if value.isascii() and value.isprintable() else shown(value).replace("\n", " ")
