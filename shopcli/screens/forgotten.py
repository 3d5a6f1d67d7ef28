"""Asking about a clock that was not stopped: until when was it work? Nothing is cut off that nobody said.

No Enter answers: it may have been meant for something else.
"""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.columns import shown
from shopcli.errors import BadInput
from shopcli.present import day, h_mm
from shopcli.screens.careful import Careful
from shopcli.shop.clock_commands import WorkedUntil
from shopcli.shop.time_views import AskedView
from shopcli.shop.typed_times import read_end
from shopcli.store.reads import times

if TYPE_CHECKING:
    from shopcli.screens.app import ShopApp


def question(one: AskedView) -> str:
    """Return what is asked."""
    since = f"{one.started:%H:%M}, {day(one.started.date())}"
    if one.ended is None:
        return shown(f"Your clock on '{one.task}' ({one.card}) runs since {since}; {one.why}.")
    return shown(
        f"Your clock on '{one.task}' ({one.card}) ran from {since} to {one.ended:%H:%M}, {day(one.ended.date())};"
        f" {one.why}."
    )


class ForgottenClock(Careful, ModalScreen[str | None]):
    """Ask until when somebody was really on a task: the shop's end, another time, or all of it."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [
        Binding("1", "answer('end')", "The end"),
        Binding("2", "answer('other')", "Another time"),
        Binding("3", "answer('through')", "Worked through"),
        Binding("escape", "answer('')", "Later"),
    ]

    def __init__(self, one: AskedView, now: str) -> None:
        super().__init__()
        self._one = one
        self._now = now

    def compose(self) -> ComposeResult:
        """Show the question and the ways to answer."""
        one = self._one
        upto = self._now if one.ended is None else f"{one.ended:%H:%M}"
        worked = h_mm(int((one.until - one.started).total_seconds()))
        with Vertical(classes="dialog"):
            yield Static(Content(question(one)), classes="dialog-question")
            yield Static(Content("Until when was it work?"), classes="dialog-note")
            for key, words in (
                ("1", f"until {one.until:%H:%M} ({worked})"),
                ("2", "until another time"),
                ("3", f"I really worked through, until {upto}"),
            ):
                yield Static(Content.assemble((key, "bold"), f"  {words}"))
            yield Static(
                Content("Esc asks me later; nothing is changed until I say so"), classes="dialog-keys"
            )

    def action_answer(self, answer: str) -> None:
        """Give the answer back."""
        self.dismiss(answer or None)


def ask_about(app: "ShopApp", waiting: Sequence[AskedView]) -> None:
    """Ask about one clock after the other."""
    if not waiting:
        return
    one, *rest = waiting
    shop = app.shop

    def answered(answer: str | None) -> None:
        if answer == "end":
            settle(WorkedUntil(one.entry_id, int(one.until.timestamp())))
        elif answer == "through":
            settle(WorkedUntil(one.entry_id))
        elif answer == "other":
            _ask_time(app, one, settle)

    def settle(command: WorkedUntil) -> None:
        app.act_here(command)
        ask_about(app, rest)

    app.push_screen(ForgottenClock(one, f"{shop.local(shop.at()):%H:%M}"), answered)


def _ask_time(app: "ShopApp", one: AskedView, settle: Callable[[WorkedUntil], None]) -> None:
    from shopcli.screens.dialogs import AskText

    shop, started = app.shop, int(one.started.timestamp())
    last = shop.at() if one.ended is None else int(one.ended.timestamp())

    def read(text: str) -> int:
        end = read_end(text, started, one.started.date(), shop.settings.tz())
        if end > last:
            raise BadInput("that is after the clock ran", hint=f"Between {one.started:%H:%M} and then.")
        return end

    def understood(text: str) -> str:
        if not text.strip():
            return ""
        end = shop.local(read(text))
        return f"until {end:%H:%M}, {day(end.date())}: {h_mm(int(end.timestamp()) - started)}"

    def keep(text: str | None) -> None:
        if text is not None:
            settle(WorkedUntil(one.entry_id, read(text)))

    asked = AskText(
        "Until when was it work?", note=question(one), placeholder="17:30", check=read, understood=understood
    )
    app.push_screen(asked, keep)


def waiting(app: "ShopApp") -> tuple[AskedView, ...]:
    """Return the clocks to ask whoever stands here about."""
    return times.asked(app.shop, app.who.id)
