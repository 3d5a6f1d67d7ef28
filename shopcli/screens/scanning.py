"""A scanner types what it reads, quickly, and ends with Enter: its codes are caught before any field sees them.

A code of ours is told by how it begins, not by how fast it comes. The few signs of its beginning are held back until
it is plain whether they are one; whatever they are not is handed on at once, in order, as it was typed.
"""

from textual import events
from textual.app import App
from textual.timer import Timer

from shopcli.codes import Code, begins_code, is_code, read_code

# A hand that typed the first sign of a code gets it back after so long; a scanner's next sign is there in a few ms.
PAUSE_S = 0.15
# The whole beginning is no typing of anybody's; it is held longer, for a line that stammers.
LONG_PAUSE_S = 1.5


class Held:
    """The keys held back, and what they say."""

    def __init__(self) -> None:
        self.keys: list[events.Key] = []
        self.text = ""

    def take(self, key: events.Key) -> tuple[tuple[events.Key, ...], Code | None]:
        """Take in a key; return the keys to be handed on now, and a code when one is whole."""
        if key.key == "enter" and is_code(self.text):
            code = read_code(self.text)
            if code is not None:
                self.let_go()
                return (), code
        character = key.character if key.is_printable and key.character else ""
        if character and begins_code(self.text + character):
            self.keys.append(key)
            self.text += character
            return (), None
        freed = self.let_go()
        if freed and character and begins_code(character):
            self.keys, self.text = [key], character
            return freed, None
        return (*freed, key), None

    def let_go(self) -> tuple[events.Key, ...]:
        """Return what is held, and hold nothing any more."""
        freed = tuple(self.keys)
        self.keys, self.text = [], ""
        return freed

    @property
    def patience(self) -> float:
        """How long to wait for the next sign, [s]."""
        return LONG_PAUSE_S if is_code(self.text) else PAUSE_S


class ScanningApp(App[None]):
    """An application in which a scanned code does what it says, whatever stands on the screen."""

    def __init__(self) -> None:
        super().__init__()
        self._held = Held()
        self._waiting: Timer | None = None

    async def on_event(self, event: events.Event) -> None:
        """Look at every key before it goes anywhere."""
        if not isinstance(event, events.Key) or event.is_forwarded:
            await super().on_event(event)
            return
        if self._waiting is not None:
            self._waiting.stop()
            self._waiting = None
        keys, code = self._held.take(event)
        for key in keys:
            await super().on_event(key)
        if code is not None:
            self.run_worker(self.scanned(code), group="scans", exit_on_error=False)
        elif self._held.keys:
            self._waiting = self.set_timer(self._held.patience, self._give_back)

    async def _give_back(self) -> None:
        """Hand on what was held: it was no code."""
        for key in self._held.let_go():
            await super().on_event(key)

    async def scanned(self, code: Code) -> None:
        """Do what a code says."""
        raise NotImplementedError

    async def clear_away(self) -> None:
        """Take away what lies over the lowest screen: a question is left unanswered, as by Esc."""
        while len(self.screen_stack) > 1:
            await self.screen.dismiss(None)
