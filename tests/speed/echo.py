"""The bare reference for a key: one field of the same framework that shows what is typed."""

from textual.app import App, ComposeResult
from textual.widgets import Input, Static


class Echo(App[None]):
    """A field and nothing else."""

    def compose(self) -> ComposeResult:
        yield Static("READY-TO-TYPE")
        yield Input()


if __name__ == "__main__":
    Echo().run()
