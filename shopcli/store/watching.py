"""Has another terminal written? One cheap question, asked on a connection of its own, whichever engine there is.

SQLite counts commits of other connections (``PRAGMA data_version``): nothing is read, not even a page of the file
while nobody writes. On a server the newest row of the journal tells; a server that says so by itself
(``LISTEN``/``NOTIFY``) has its place in `ServerWatch`: `changed` is all that anybody asks.
"""

import sqlite3
import threading
from collections.abc import Callable
from typing import Any, Protocol

from shopcli.store.place import Place
from shopcli.store.reader import Reader

EVERY_S = 1.0


class Watch(Protocol):
    """What is asked whether anything was written since it was last asked."""

    def changed(self) -> bool:
        """Return whether something was written by another connection since the last time."""
        ...

    def close(self) -> None:
        """Let go of the connection."""
        ...


class FileWatch:
    """Watches a file. It belongs to the thread that asks."""

    def __init__(self, place: Place) -> None:
        self._place = place
        self._connection: sqlite3.Connection | None = None
        self._seen: int | None = None

    def changed(self) -> bool:
        """Return whether another connection committed since the last time; the first time only looks."""
        if self._place.file is None:
            return False
        if self._connection is None:
            uri = self._place.file.absolute().as_uri() + "?mode=ro"
            self._connection = sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False)
        (number,) = self._connection.execute("PRAGMA data_version").fetchone()
        before, self._seen = self._seen, number
        return before is not None and before != number

    def close(self) -> None:
        """Close the connection."""
        if self._connection is not None:
            self._connection.close()
            self._connection = None


class ServerWatch:
    """Watches a server by the newest row of the journal: every act writes one."""

    def __init__(self, place: Place) -> None:
        self._reader = Reader(place)
        self._seen: Any = None
        self._asked = False

    def changed(self) -> bool:
        """Return whether an act was done since the last time; the first time only looks."""
        number = self._reader.fetch("SELECT MAX(id) FROM journal")[0][0]
        before, self._seen = self._seen, number
        asked, self._asked = self._asked, True
        return asked and before != number

    def close(self) -> None:
        """Close the connection."""
        self._reader.close()


def watch(place: Place) -> Watch:
    """Return what watches these records."""
    return ServerWatch(place) if place.file is None else FileWatch(place)


class Watcher:
    """A thread that asks once in a while and tells; it ends with `stop`, and with the process."""

    def __init__(self, place: Place, tell: Callable[[], object], every_s: float = EVERY_S) -> None:
        self._watch = watch(place)
        self._tell = tell
        self._every_s = every_s
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
            while True:
                self._ask()
                if self._end.wait(self._every_s):
                    return
        finally:
            self._watch.close()

    def _ask(self) -> None:
        try:
            changed = self._watch.changed()
        except Exception:  # noqa: BLE001 - records out of reach are told by whoever reads them
            return
        if changed and not self._end.is_set():
            self._tell()
