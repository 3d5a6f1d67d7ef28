"""The bare reference: the smallest application of the same framework that paints one line."""

from textual.app import App, ComposeResult
from textual.widgets import Static


class Hello(App[None]):
    """One line and nothing else."""

    def compose(self) -> ComposeResult:
        yield Static("HELLO-FIRST-PAINT")


if __name__ == "__main__":
    Hello().run()
