"""A field to type in that keeps out what would drive the terminal or turn a line round."""

from textual import events
from textual.geometry import Size
from textual.reactive import Reactive
from textual.widgets import Input

from shopcli.columns import shown


class SteadyInput(Input):
    """An `Input` that is as wide as its place: a letter more in it moves nothing, and lays out nothing anew."""

    virtual_size = Reactive(Size(0, 0), layout=False, repaint=False)


class CleanInput(SteadyInput):
    """An `Input` of one clean line."""

    def validate_value(self, value: str) -> str:
        """Return the text without controls and reordering marks; a line break becomes a blank."""
        return value if value.isascii() and value.isprintable() else shown(value).replace("\n", " ")


class FindInput(CleanInput):
    """Where a list is narrowed: a question mark typed into it while it is empty asks for help, as everywhere else."""

    async def on_key(self, event: events.Key) -> None:
        """Hand the question mark on."""
        if event.character == "?" and not self.value:
            event.stop()
            event.prevent_default()
            await self.app.run_action("help")
