"""Asking for a PIN: figures shown as dots, tried behind the screen, said in words when it is wrong. Esc backs out."""

import asyncio
from collections.abc import Awaitable, Callable
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from shopcli.columns import shown
from shopcli.errors import BadInput, ShopError
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.clean_input import CleanInput
from shopcli.shop.pin_commands import SignIn
from shopcli.shop.pin_hash import see_form

if TYPE_CHECKING:
    from shopcli.screens.signing import SigningApp
    from shopcli.shop.command import Command

MOST = 12
WAIT = "Looking …"


async def done(app: "SigningApp", command: "Command", by: int) -> tuple[str, ...]:
    """Do something behind the screen, in the queue of all acts, and return what is answered.

    Raises
    ------
    ShopError
        What the shop refuses.
    """
    said: tuple[str, ...] = (await asyncio.wrap_future(app.queue.submit(app.shop.do, command, by=by))).said
    return said


class AskPin(Careful, ModalScreen[str | None]):
    """Ask for a PIN and give it back, once what is `tried` with it is not refused; nothing may be asked for with it."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [Binding("escape", "cancel", "Back")]

    def __init__(
        self,
        question: str,
        *,
        note: str = "",
        tried: Callable[[str], Awaitable[object]] | None = None,
        back: str = "goes back",
    ) -> None:
        super().__init__()
        self._question = question
        self._note = note
        self._tried = tried
        self._back = back
        self._looking = False

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog pin"):
            yield Static(Content(shown(self._question)), classes="dialog-question")
            if self._note:
                yield Static(Content(shown(self._note)), classes="dialog-note")
            yield CleanInput(password=True, restrict="[0-9]*", max_length=MOST, placeholder="figures")
            yield Static(Content(""), classes="dialog-error")
            yield Static(Content(f"Enter takes it, Esc {self._back}"), classes="dialog-keys")

    @on(Input.Submitted)
    def take(self, event: Input.Submitted) -> None:
        """Try what was typed; a wrong one leaves the field empty."""
        event.stop()
        pin = event.value
        if self._looking:
            return
        if not pin:
            self._say("Nothing is typed yet.")
        elif self._tried is None:
            self.dismiss(pin)
        else:
            self._looking = True
            self._say(WAIT)
            self.run_worker(self._try(pin, self._tried), group="acts", exit_on_error=False)

    async def _try(self, pin: str, tried: Callable[[str], Awaitable[object]]) -> None:
        try:
            await tried(pin)
        except ShopError as error:
            self.query_one(Input).value = ""
            self._say(f"{error.message}. {error.hint}")
        else:
            self.dismiss(pin)
        finally:
            self._looking = False

    @on(Input.Changed)
    def say_nothing(self, event: Input.Changed) -> None:
        """Let go of what was said about the one before."""
        if event.value:
            self._say("")

    def _say(self, words: str) -> None:
        self.query_one(".dialog-error", Static).update(Content(shown(words)))

    def action_cancel(self) -> None:
        """Go back; nobody is let in."""
        if not self._looking:
            self.dismiss(None)


def pin_of(
    app: "SigningApp", person_id: int, name: str, note: str = "", *, back: str = "goes back"
) -> AskPin:
    """Return the question for somebody's PIN; it is answered when the PIN is right."""

    async def tried(pin: str) -> None:
        await done(app, SignIn(person_id, pin), person_id)

    return AskPin(f"PIN of {name}", note=note, tried=tried, back=back)


async def new_pin(app: "SigningApp", name: str, note: str) -> str | None:
    """Ask for a new PIN, twice, and return it; None when it was left."""

    async def formed(pin: str) -> None:
        see_form(pin)

    async def same(pin: str) -> None:
        if pin != new:
            raise BadInput("that is not the same", hint="Esc leaves it as it was.")

    new = await app.push_screen_wait(AskPin(f"New PIN of {name}", note=note, tried=formed))
    if new is None:
        return None
    return await app.push_screen_wait(AskPin("The same once more", tried=same))
