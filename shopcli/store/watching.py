"""Has another terminal written? One cheap question, asked on a connection of its own, whichever engine there is.

SQLite counts commits of other connections (``PRAGMA data_version``): nothing is read, not even a page of the file
while nobody writes. A server says so by itself (``LISTEN``/``NOTIFY``): every transaction that may write notifies,
and the server passes it on when it is committed.
"""

import sqlite3
import threading
from collections.abc import Callable
from typing import Any, Protocol

from shopcli.store.place import Place

EVERY_S = 1.0
LONGEST_S = 10.0
CHANNEL = "shop_records"


class Watch(Protocol):
    """What is asked whether anything was written since it was last asked."""

    waits: bool  # whether asking waits by itself until something is written, or a while is over

    def changed(self) -> bool:
        """Return whether something was written by another connection since the last time."""
        ...

    def close(self) -> None:
        """Let go of the connection."""
        ...


class FileWatch:
    """Watches a file. It belongs to the thread that asks."""

    waits = False

    def __init__(self, place: Place) -> None:
        self._place = place
        self._connection: sqlite3.Connection | None = None
        self._seen: int | None = None

    def changed(self) -> bool:
        """Return whether another connection committed since the last time; the first time only looks."""
        if not self._place.name:
            return False
        if self._connection is None:
            self._connection = sqlite3.connect(
                self._place.to_read, uri=True, isolation_level=None, check_same_thread=False
            )
        (number,) = self._connection.execute("PRAGMA data_version").fetchone()
        before, self._seen = self._seen, number
        return before is not None and before != number

    def close(self) -> None:
        """Close the connection."""
        if self._connection is not None:
            self._connection.close()
            self._connection = None


class ServerWatch:
    """Listens to a server: every writer says so with its commit, within milliseconds. It belongs to the thread that asks."""

    waits = True

    def __init__(self, place: Place, wait_s: float = EVERY_S) -> None:
        self._place = place
        self._wait_s = wait_s
        self._connection: Any = None
        self._heard_once = False

    def changed(self) -> bool:
        """Wait a while for a commit; the first time only begin to listen.

        Whoever listens again after the server was away has missed what was said meanwhile: that counts as a change.
        """
        if self._connection is None or self._connection.closed:
            import psycopg

            self._connection = psycopg.connect(self._place.dsn, autocommit=True, connect_timeout=5)
            self._connection.execute(f"LISTEN {CHANNEL}")
            again, self._heard_once = self._heard_once, True
            return again
        try:
            return any(True for _ in self._connection.notifies(timeout=self._wait_s, stop_after=1))
        except Exception:
            self.close()
            raise

    def close(self) -> None:
        """Close the connection."""
        if self._connection is not None:
            self._connection.close()
            self._connection = None


def watch(place: Place) -> Watch:
    """Return what watches these records."""
    return ServerWatch(place) if place.file is None else FileWatch(place)


class Watcher:
    """A thread that asks once in a while and tells; it ends with `stop`, and with the process.

    Records out of reach are asked for again after a longer and longer while; `reach` is told False once, and True when
    they are back.
    """

    def __init__(
        self,
        place: Place,
        tell: Callable[[], object],
        every_s: float = EVERY_S,
        reach: Callable[[bool], object] = bool,
    ) -> None:
        self._watch = watch(place)
        self._tell = tell
        self._reach = reach
        self._every_s = every_s
        self._lost = 0  # how often in a row they were out of reach
        self._end = threading.Event()
        self._thread = threading.Thread(target=self._run, name="watching", daemon=True)

    def start(self) -> None:
        """Begin to watch."""
        self._thread.start()

    def stop(self) -> None:
        """Watch no more."""
        self._end.set()

    def _run(self) -> None:
        try:
            while not self._end.is_set():
                self._ask()
                if not self._watch.waits or self._lost:
                    self._end.wait(min(self._every_s * 2 ** min(self._lost, 9), LONGEST_S))
        finally:
            self._watch.close()

    def _ask(self) -> None:
        try:
            changed = self._watch.changed()
        except Exception:  # noqa: BLE001 - what is wrong is told in words by whoever reads them
            self._lost += 1
            if self._lost == 1 and not self._end.is_set():
                self._reach(False)
            return
        back, self._lost = bool(self._lost), 0
        if self._end.is_set():
            return
        if back:
            self._reach(True)
        if changed:
            self._tell()
