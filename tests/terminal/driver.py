"""A person at a real terminal: a pseudo-terminal around the application and an emulator that shows what they see."""

import os
import re
import signal
import sys
import time
from pathlib import Path

import pexpect
import pyte

ROOT = Path(__file__).parents[2]
KEYS = {
    "enter": "\r",
    "esc": "\x1b",
    "tab": "\t",
    "up": "\x1b[A",
    "down": "\x1b[B",
    "right": "\x1b[C",
    "left": "\x1b[D",
    "backspace": "\x7f",
    "f1": "\x1bOP",
    "f2": "\x1bOQ",
    "f3": "\x1bOR",
    "f4": "\x1bOS",
    "f5": "\x1b[15~",
    "f6": "\x1b[17~",
    "f7": "\x1b[18~",
    "f8": "\x1b[19~",
    "f9": "\x1b[20~",
    "ctrl+s": "\x13",
    "ctrl+q": "\x11",
}


class Person:
    """Starts the application, types, and reads the screen as text."""

    def __init__(
        self,
        *args: str,
        columns: int = 120,
        rows: int = 40,
        env: dict[str, str] | None = None,
        program: tuple[str, ...] = ("-m", "shopcli"),
    ) -> None:
        self.screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self.screen)
        surroundings = {
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "TERM": "xterm-256color",
            "TEXTUAL_ANIMATIONS": "none",
            # The size of the pseudo-terminal is set after the start; a slow machine would miss it.
            "COLUMNS": str(columns),
            "LINES": str(rows),
            **(env or {}),
        }
        self.process = pexpect.spawn(
            sys.executable,
            [*program, *args],
            dimensions=(rows, columns),
            env=surroundings,
            cwd=str(ROOT),
            timeout=20,
        )
        self.process.delaybeforesend = None  # the keys wait for the screen, not for a while
        self.keys = 0
        self._text: str | None = None

    def _read(self) -> bool:
        try:
            self._stream.feed(self.process.read_nonblocking(65536, timeout=0.05))
            self._text = None
        except pexpect.TIMEOUT:
            return False
        except pexpect.EOF:
            return False
        return True

    @property
    def text(self) -> str:
        """What stands on the screen now; put together once for each time something came."""
        if self._text is None:
            self._text = "\n".join(self.screen.display)
        return self._text

    def see(self, pattern: str, timeout: float = 20.0) -> str:
        """Wait until the pattern stands on the screen and return the screen."""
        deadline = time.monotonic() + timeout
        while not re.search(pattern, self.text):
            self._read()
            if time.monotonic() > deadline:
                raise AssertionError(f"'{pattern}' was not seen. The screen:\n{self.text}")
        return self.text

    def see_gone(self, pattern: str, timeout: float = 20.0) -> None:
        """Wait until the pattern is no longer on the screen."""
        deadline = time.monotonic() + timeout
        while re.search(pattern, self.text):
            self._read()
            if time.monotonic() > deadline:
                raise AssertionError(f"'{pattern}' stays. The screen:\n{self.text}")

    def press(self, *names: str) -> None:
        """Press keys, one after the other, each taken in before the next."""
        for name in names:
            self.process.send(KEYS.get(name, name))
            self.keys += 1
            self.settle()

    def type(self, text: str) -> None:
        """Type text as one goes."""
        self.process.send(text)
        self.keys += len(text)
        self.settle()

    def settle(self, quiet: float = 0.08) -> None:
        """Read until the screen stands still for a moment."""
        last = time.monotonic()
        stop = last + 3
        while time.monotonic() - last < quiet and time.monotonic() < stop:
            if self._read():
                last = time.monotonic()

    def kill(self) -> None:
        """Pull the plug."""
        self.process.kill(signal.SIGKILL)
        self.process.wait()

    def leave(self) -> None:
        """Leave the application the ordinary way; a clock that runs is let run."""
        self.press("ctrl+q")
        deadline = time.monotonic() + 10
        while self.process.isalive() and time.monotonic() < deadline:
            self._read()
            if "Your clock runs" in self.text:
                self.press("y")
                break
        self.process.expect(pexpect.EOF, timeout=10)
        self.process.close()
