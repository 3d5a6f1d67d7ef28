"""The one place that makes the writing engine and sets what a connection must have."""

from typing import Any

from sqlalchemy import Engine, create_engine, event

from shopcli.store.place import Place

PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "busy_timeout=5000")


def open_engine(place: Place) -> Engine:
    """Return an engine for writing.

    On SQLite every transaction begins IMMEDIATE: two writers that begin by reading and then upgrade fail
    each other more often than not, whatever the timeout.
    """
    if place.file is None:
        return create_engine(place.url, pool_pre_ping=True)
    engine = create_engine(place.url)

    @event.listens_for(engine, "connect")
    def _on_connect(connection: Any, _record: Any) -> None:
        connection.isolation_level = None
        for pragma in PRAGMAS:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Any) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine
