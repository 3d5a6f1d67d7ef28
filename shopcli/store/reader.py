"""The read side's connection: SQL text straight through the driver, one connection a thread, never a write.

The mapper costs twelve times as much for a list and half a second to import; the first screen is painted
without it.
"""

import sqlite3
import threading
from collections.abc import Sequence

from shopcli.shop.fetching import Rows, for_server
from shopcli.store.place import Place
from shopcli.store.trouble import told

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

# Pages of the file a thread keeps, at most: in the two megabytes of the engine's own choice a period of the week, or the open
# bills of ten years, push themselves out again and are fetched anew with every key.
CACHE_KIB = 16 * 1024


class Reader:
    """``reader.fetch(sql, params)`` with ``?`` parameters, on either engine."""

    def __init__(self, place: Place) -> None:
        self.place = place
        self._local = threading.local()
        self._all: list[tuple[Any, threading.Lock]] = []
        self._guard = threading.Lock()

    def _connect(self) -> "tuple[Any, threading.Lock]":
        if self.place.name:
            connection: Any = sqlite3.connect(
                self.place.to_read, uri=True, isolation_level=None, check_same_thread=False
            )
            connection.execute("PRAGMA busy_timeout=5000")
            connection.execute("PRAGMA query_only=ON")
            connection.execute(f"PRAGMA cache_size=-{CACHE_KIB}")
        else:
            import psycopg

            connection = psycopg.connect(self.place.dsn, autocommit=True)
        # A connection closed under a thread that reads it takes the whole process with it.
        held = connection, threading.Lock()
        with self._guard:
            self._all.append(held)
        self._local.held = held
        return held

    def connection(self) -> "Any":
        """Return this thread's connection."""
        return (getattr(self._local, "held", None) or self._connect())[0]

    def fetch(self, sql: str, params: Sequence[object] = ()) -> Rows:
        """Return the rows of a query.

        Raises
        ------
        StoreTrouble
            When the records cannot be read.
        """
        with told():
            held = getattr(self._local, "held", None) or self._connect()
            if self.place.name:
                return self._rows(held, sql, params)
            sql = for_server(sql)
            try:
                return self._rows(held if not _gone(held) else self._connect(), sql, params)
            except Exception:
                # A server that was started anew in between is noticed with the first question only.
                if not _gone(self._local.held):
                    raise
            return self._rows(self._connect(), sql, params)

    @staticmethod
    def _rows(held: "tuple[Any, threading.Lock]", sql: str, params: Sequence[object]) -> Rows:
        connection, reading = held
        with reading:
            return list(connection.execute(sql, tuple(params)).fetchall())

    def close(self) -> None:
        """Close every thread's connection, each when its thread has read to the end."""
        with self._guard:
            held, self._all = self._all, []
            self._local = threading.local()
        for connection, reading in held:
            with reading:
                connection.close()


def _gone(held: "tuple[Any, threading.Lock]") -> bool:
    connection, _reading = held
    return bool(connection.closed or connection.broken)
