"""Leaving the program: whoever's clock runs is asked first whether it runs on without them."""

import asyncio
import uuid
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.columns import shown
from shopcli.errors import ShopError
from shopcli.present import h_mm
from shopcli.screens.careful import Careful
from shopcli.screens.doing import Acting
from shopcli.shop.clock_commands import ClockOff
from shopcli.shop.views import ClockView
from shopcli.store.reads.people import running_clocks

if TYPE_CHECKING:
    from shopcli.screens.app import ShopApp

KEYS = "y  leave and let it run      c  stop it and leave      Esc  stay"


class LeavingScreen(Careful, ModalScreen[str]):
    """Ask what becomes of a running clock; the answer is ``y``, ``c`` or nothing."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [
        Binding("y", "answer('y')", "Let it run"),
        Binding("c", "answer('c')", "Stop it"),
        Binding("n,escape", "answer('')", "Stay"),
    ]

    def __init__(self, clock: ClockView, since: int) -> None:
        super().__init__()
        self._clock = clock
        self._since = since

    def compose(self) -> ComposeResult:
        """Show on what the clock runs, and the keys."""
        clock = self._clock
        words = shown(f"Your clock runs on {clock.card}: {clock.task}, {h_mm(self._since)} so far.")
        with Vertical(classes="dialog"):
            yield Static(Content(words), classes="dialog-question")
            yield Static(
                Content("It runs on while the program does not; nothing is lost."), classes="dialog-note"
            )
            yield Static(Content(KEYS), classes="dialog-keys")

    def action_answer(self, answer: str) -> None:
        """Give the answer back."""
        self.dismiss(answer)


async def leave(app: "ShopApp") -> None:
    """Leave, unless the clock of whoever stands here runs and they stay after all."""
    clock = await asyncio.to_thread(_running, app)
    if clock is not None:
        since = max(0, app.shop.at() - int(clock.since.timestamp()))
        answer = await app.push_screen_wait(LeavingScreen(clock, since))
        if not answer or (answer == "c" and not await _stopped(app)):
            return
    app.exit()


def _running(app: "ShopApp") -> ClockView | None:
    try:
        return next((c for c in running_clocks(app.shop) if c.person_id == app.who.id), None)
    except ShopError:
        return None  # records that cannot be read keep nobody here


async def _stopped(app: "ShopApp") -> bool:
    """Stop the clock; where that fails it is said, and nobody leaves thinking otherwise."""
    command, op = ClockOff(), uuid.uuid4().hex
    try:
        await asyncio.wrap_future(app.queue.submit(app.shop.do, command, by=app.who.id, op=op))
    except ShopError as error:
        for screen in reversed(app.screen_stack):
            if isinstance(screen, Acting):
                screen.tell_error(error)
                break
        return False
    return True
