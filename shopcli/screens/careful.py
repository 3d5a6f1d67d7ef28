"""A pump of messages that goes on when the shop says no, or the records cannot be reached: it says so in words."""

from textual.message import Message
from textual.message_pump import MessagePump
from textual.worker import WorkerFailed

from shopcli.columns import shown
from shopcli.errors import ShopError

TOLD_S = 12


class Careful(MessagePump):
    """What a handler could not read or do ends that handler and nothing else; every other error ends the program."""

    async def _dispatch_message(self, message: Message) -> None:
        try:
            await super()._dispatch_message(message)
        except ShopError as error:
            tell(self, error)


def shops_own(error: Exception) -> ShopError | None:
    """Return the shop's own error that is behind another one; None when there is none."""
    cause = error.error if isinstance(error, WorkerFailed) else error
    return cause if isinstance(cause, ShopError) else None


def tell(pump: MessagePump, error: ShopError) -> None:
    """Say what went wrong and what helps."""
    said = f"{error.message}. {error.hint}".rstrip()
    pump.app.notify(shown(said), title=error.title, severity="error", markup=False, timeout=TOLD_S)
