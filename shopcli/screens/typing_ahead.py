"""Keys typed faster than a form can follow land where they would have landed when typed slowly.

A key that moves on (Tab, Enter, an arrow, an F-key) is acted upon only after its message has gone up through the
screen and what it set off has come back; the letters behind it would by then be in the field before. In a screen
that says so they wait their turn. So do keys typed before a screen is made, the first one above all: whoever answers
the telephone while the application starts has typed a name by then. And so do keys at the bench while it is not yet
settled which task they are meant for.
"""

import asyncio
import re
from collections import deque
from collections.abc import Callable
from contextlib import suppress

from textual import events
from textual.app import App

# A letter becomes a value, the value a message, that one a message of the form, and that one a question: whatever a
# message sets off stands behind us in the same queue, so each step costs a round. Two to spare.
ROUNDS = 6
LOOK_S = 0.01
FUNCTION = re.compile(r"f\d+")  # the application acts on it at once: it would overtake a letter before it
LEADS_AWAY = re.compile(r"f\d+|ctrl\+.*")  # such a key is not about what is in hand
LONGEST_S = 5.0  # a question nobody answers holds no keys for longer


class TypingAheadApp(App[None]):
    """An application whose forms take keys in the order and into the fields they were meant for.

    A screen takes part by ``TYPES_AHEAD = True``; in ``open_questions`` it names what it still waits to be told. One
    with ``ONE_BY_ONE = True`` gets a key when it has seen to the one before and is not ``unsettled``.
    """

    def __init__(self) -> None:
        super().__init__()
        self._later: deque[events.Key] = deque()
        self._in_turn = False
        self._afterwards: list[Callable[[], object]] = []

    def when_typed(self, then: Callable[[], object]) -> None:
        """Call something when the keys that came so far have been acted upon."""
        if self._in_turn:
            self._afterwards.append(then)
        else:
            self.call_later(then)

    async def on_event(self, event: events.Event) -> None:
        """Let a key wait while one before it is still on its way."""
        if not isinstance(event, events.Key) or event.is_forwarded:
            await super().on_event(event)
        elif self._in_turn:
            self._later.append(event)
        elif self._moves_on(event) or self._in_order(event) or not self.screen.is_mounted:
            self._in_turn = True
            self._later.append(event)
            self.run_worker(self._take_turns(), group="typing", exit_on_error=False)
        else:
            await super().on_event(event)

    def _moves_on(self, event: events.Key) -> bool:
        return bool(getattr(self.screen, "TYPES_AHEAD", False)) and not event.is_printable

    def _in_order(self, event: events.Key) -> bool:
        return self._one_by_one(event) or bool(FUNCTION.fullmatch(event.key))

    def _one_by_one(self, event: events.Key) -> bool:
        return bool(getattr(self.screen, "ONE_BY_ONE", False)) and not LEADS_AWAY.match(event.key)

    async def _take_turns(self) -> None:
        try:
            while self._later:
                await self._made()
                key = self._later.popleft()
                moves = self._moves_on(key)
                if moves:
                    await self._calm()
                elif self._one_by_one(key):
                    await self._settled()
                elif self._in_order(key):
                    await self._round()
                await super().on_event(key)
                if moves:
                    await self._calm()
        finally:
            self._in_turn = False
            afterwards, self._afterwards = self._afterwards, []
            for then in afterwards:
                self.call_later(then)

    async def _made(self) -> None:
        """Wait until there is a screen that can take a key."""
        while not self.screen.is_mounted:
            made = asyncio.Event()
            if not self.screen.call_later(made.set):
                return  # it is being taken away
            await _happens(made)

    async def _settled(self) -> None:
        """Wait until the screen has seen to the key before, and knows what this one is meant for."""
        await self._round()
        waited = 0.0
        while getattr(self.screen, "unsettled", False) and waited < LONGEST_S:
            await asyncio.sleep(LOOK_S)
            waited += LOOK_S

    async def _calm(self) -> None:
        """Wait until what was typed has been taken in, and what was asked because of it has been answered."""
        for _ in range(ROUNDS):
            await self._round()
        waited = 0.0
        while getattr(self.screen, "open_questions", None) and waited < LONGEST_S:
            await asyncio.sleep(LOOK_S)
            waited += LOOK_S
        await self._round()
        # A field that was just shown can be gone to once the screen was laid out anew.
        painted = asyncio.Event()
        if self.screen.is_running and self.screen.call_after_refresh(painted.set):
            await _happens(painted)

    async def _round(self) -> None:
        """Wait until everything between the field and the application has seen to what stood in its queue."""
        start = self.focused or self.screen
        for node in start.ancestors_with_self:
            passed = asyncio.Event()
            if node.is_running and node.call_later(passed.set):
                await _happens(passed)


async def _happens(event: asyncio.Event) -> None:
    """Wait for something, but not for ever: a widget may be taken away while a key is on its way to it."""
    with suppress(TimeoutError):
        await asyncio.wait_for(event.wait(), LONGEST_S)
