"""An odometer that shows less than before: asked about in words, and written down only with the reason."""

from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from textual import on

from shopcli.errors import RunsBackwards
from shopcli.screens.doing import Acting, NotCarried

if TYPE_CHECKING:
    from shopcli.shop.card_commands import ChangeCard, OpenCard

AnswerT = TypeVar("AnswerT")


class AskingBackwards(Acting[AnswerT]):
    """A screen that asks why an odometer runs backwards, and does the same act again with the answer."""

    @on(NotCarried)
    def ask_backwards(self, event: NotCarried) -> None:
        """Ask why, instead of telling a refusal."""
        from shopcli.shop.card_commands import ChangeCard, OpenCard

        if isinstance(event.error, RunsBackwards) and isinstance(event.command, OpenCard | ChangeCard):
            event.prevent_default()
            self._ask_why(event.command, event.error)

    def _ask_why(self, command: "OpenCard | ChangeCard", error: RunsBackwards) -> None:
        from shopcli.screens.dialogs import AskKey, Choice
        from shopcli.shop.odometers import WHYS

        choices = [Choice(why[0], f"Save it as typed: {why}") for why in WHYS]
        reasons = {why[0]: why for why in WHYS}

        def answer(key: str | None) -> None:
            if key is None:
                self.type_odometer_again(command)
            else:
                self.with_reason(command, reasons[key])

        words = f"{error.message[:1].upper()}{error.message[1:]}."
        self.app.push_screen(AskKey(words, choices, back="types it again"), answer)

    def with_reason(self, command: "OpenCard | ChangeCard", reason: str) -> None:
        """Do the act again, with the reason."""
        self.carry_out(replace(command, odometer_why=reason))

    def type_odometer_again(self, command: "OpenCard | ChangeCard") -> None:
        """Go back to where the odometer is typed."""
        raise NotImplementedError
