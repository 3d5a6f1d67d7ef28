"""The bare reference for standing idle: one line of the same framework that counts the seconds."""

from textual.app import App, ComposeResult
from textual.widgets import Static


class Ticking(App[None]):
    """One line, shown anew each second."""

    count = 0

    def compose(self) -> ComposeResult:
        yield Static("TICKING 0")

    def on_mount(self) -> None:
        self.set_interval(1.0, self.tick)

    def tick(self) -> None:
        self.count += 1
        self.query_one(Static).update(f"TICKING {self.count}")


if __name__ == "__main__":
    Ticking().run()
