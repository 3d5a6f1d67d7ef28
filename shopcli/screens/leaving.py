"""Leaving the program: whoever's clock runs is asked first whether it runs on without them."""

import asyncio
import uuid
from typing import TYPE_CHECKING

from shopcli.errors import ShopError
from shopcli.present import h_mm
from shopcli.screens.dialogs import AskKey, Choice
from shopcli.screens.doing import Acting
from shopcli.shop.clock_commands import ClockOff
from shopcli.shop.views import ClockView
from shopcli.store.reads.people import running_clocks

if TYPE_CHECKING:
    from shopcli.screens.app import ShopApp

WAYS = (Choice("y", "leave and let it run"), Choice("c", "stop it and leave"))
NOTE = "It runs on while the program does not; nothing is lost."


class LeavingScreen(AskKey):
    """Ask what becomes of a running clock; the answer is ``y``, ``c`` or None."""

    def __init__(self, clock: ClockView, since: int) -> None:
        words = f"Your clock runs on {clock.card}: {clock.task}, {h_mm(since)} so far."
        super().__init__(words, WAYS, note=NOTE, back="stays")


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
