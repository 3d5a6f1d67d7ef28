"""The read side's connection: SQL text straight through the driver, one connection a thread, never a write.

The mapper costs twelve times as much for a list and half a second to import; the first screen is painted
without it.
"""

import sqlite3
import threading
from collections.abc import Sequence
from typing import Any

from shopcli.store.place import Place
from shopcli.store.trouble import told

Rows = list[tuple[Any, ...]]


class Reader:
    """``reader.fetch(sql, params)`` with ``?`` parameters, on either engine."""

    def __init__(self, place: Place) -> None:
        self.place = place
        self._local = threading.local()
        self._all: list[Any] = []
        self._guard = threading.Lock()

    def _connect(self) -> Any:
        if self.place.file:
            uri = self.place.file.absolute().as_uri() + "?mode=ro"
            connection: Any = sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False)
            connection.execute("PRAGMA busy_timeout=5000")
            connection.execute("PRAGMA query_only=ON")
        else:
            import psycopg

            connection = psycopg.connect(self.place.dsn, autocommit=True)
        with self._guard:
            self._all.append(connection)
        self._local.connection = connection
        return connection

    def fetch(self, sql: str, params: Sequence[object] = ()) -> Rows:
        """Return the rows of a query.

        Raises
        ------
        StoreTrouble
            When the records cannot be read.
        """
        with told():
            connection = getattr(self._local, "connection", None) or self._connect()
            if self.place.file is None:
                if connection.closed or connection.broken:
                    connection = self._connect()
                return list(connection.execute(sql.replace("?", "%s"), tuple(params)).fetchall())
            return list(connection.execute(sql, tuple(params)).fetchall())

    def close(self) -> None:
        """Close every thread's connection."""
        with self._guard:
            for connection in self._all:
                connection.close()
            self._all.clear()
        self._local = threading.local()
