"""A real pseudo-terminal around a command, so that what is timed is what a person would see."""

import fcntl
import os
import pty
import select
import signal
import struct
import termios
import time
from pathlib import Path

LONGEST_S = 1.0  # a key that paints nothing for so long paints nothing


class Terminal:
    """A command on a terminal of its own."""

    def __init__(
        self, argv: list[str], *, columns: int = 120, rows: int = 40, env: dict[str, str] | None = None
    ) -> None:
        self.started = time.perf_counter()
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # as installed: compiled once, not at every start
            os.environ.update(
                {"TERM": "xterm-256color", "COLUMNS": str(columns), "LINES": str(rows), **(env or {})}
            )
            os.execvp(argv[0], argv)
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self.seen = b""

    def wait_for(self, marker: bytes, timeout: float = 30.0) -> float:
        """Return the seconds since the start at which `marker` was on its way to the screen."""
        deadline = time.perf_counter() + timeout
        while marker not in self.seen:
            left = deadline - time.perf_counter()
            if left <= 0 or not select.select([self.fd], [], [], left)[0]:
                raise TimeoutError(f"{marker!r} not seen; last: {self.seen[-300:]!r}")
            self.seen += os.read(self.fd, 65536)
        return time.perf_counter() - self.started

    def press(self, keys: bytes) -> None:
        """Type."""
        os.write(self.fd, keys)

    def settled(self, quiet: float) -> float:
        """Read until nothing has come for `quiet` seconds; return when the last byte came, 0.0 if none did."""
        last = 0.0
        while select.select([self.fd], [], [], quiet)[0]:
            os.read(self.fd, 65536)
            last = time.perf_counter()
        return last

    def key_to_paint(self, key: bytes, quiet: float) -> float:
        """Return the seconds from a key to the last byte of its picture; 0.0 when it paints nothing."""
        start = time.perf_counter()
        self.press(key)
        if not select.select([self.fd], [], [], LONGEST_S)[0]:
            return 0.0
        return max(0.0, self.settled(quiet) - start)

    def key_until(self, key: bytes, marker: bytes, timeout: float = 10.0) -> float:
        """Return the seconds from a key to the moment `marker` was on its way to the screen.

        Raises
        ------
        TimeoutError
            When it does not come.
        """
        start, seen = time.perf_counter(), b""
        self.press(key)
        while marker not in seen:
            left = start + timeout - time.perf_counter()
            if left <= 0 or not select.select([self.fd], [], [], left)[0]:
                raise TimeoutError(f"{marker!r} not seen after {key!r}; last: {seen[-300:]!r}")
            seen += os.read(self.fd, 65536)
        return time.perf_counter() - start

    def processor_s(self) -> float:
        """Return the seconds of processor all threads of the command have had; 0.0 where the system does not tell."""
        threads = Path(f"/proc/{self.pid}/task").glob("*/schedstat")
        return sum(int(thread.read_text().split()[0]) for thread in threads) / 1e9

    def read(self) -> bytes:
        """Return what has come."""
        return os.read(self.fd, 65536)

    def memory_mb(self) -> float:
        """Return the memory of its own the command holds: what it shares with others is not counted twice."""
        for line in Path(f"/proc/{self.pid}/smaps_rollup").read_text().splitlines():
            if line.startswith("Pss:"):
                return int(line.split()[1]) / 1024
        raise RuntimeError("the system does not tell")

    def close(self) -> None:
        """End the command."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)


def first_paint(argv: list[str], marker: bytes, **kwargs: object) -> float:
    """Return the seconds from start to the first picture that holds `marker`."""
    terminal = Terminal(argv, **kwargs)  # type: ignore[arg-type]
    try:
        return terminal.wait_for(marker)
    finally:
        terminal.close()
