"""The one place that makes the writing engine and sets what a connection must have."""

from pathlib import Path
from typing import Any

from sqlalchemy import Engine, create_engine, event

from shopcli.errors import StoreTrouble
from shopcli.store.place import Place
from shopcli.store.watching import CHANNEL

PATIENCE_MS = 5000
PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={PATIENCE_MS}")
# Any number will do, as long as every writer of a shop's records asks for the same one.
WRITERS = 0x73686F70
ONE_WRITER = (
    f"SET LOCAL lock_timeout = {PATIENCE_MS}; SELECT pg_advisory_xact_lock({WRITERS}); NOTIFY {CHANNEL}"
)


def open_engine(place: Place, *, new: bool = False) -> Engine:
    """Return an engine for writing: one writer at a time, the next waits for it a while. Only a `new` file is made.

    Rules look first and act then (what is left of an invoice, whether a clock runs), and numbers have no gaps:
    both want a writer to see what the one before it left. On SQLite every transaction begins IMMEDIATE: two
    writers that begin by reading and then upgrade fail each other more often than not, whatever the timeout. A
    server would let two of them look at once; there each asks for one lock that is given back with its transaction,
    and has the server tell whoever listens once it is committed.
    """
    if place.file is None:
        return _on_server(place)
    engine = create_engine(place.url)

    file, opened = place.file, list[tuple[int, int] | None]()

    @event.listens_for(engine, "do_connect")
    def _before_connect(*_told: Any) -> None:
        if not new and not file.exists():
            raise _gone()  # the driver would make an empty one in its place

    @event.listens_for(engine, "connect")
    def _on_connect(connection: Any, _record: Any) -> None:
        if not opened:
            opened.append(_which(file))
        connection.isolation_level = None
        for pragma in PRAGMAS:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Any) -> None:
        if [_which(file)] != opened:
            # The file we hold is gone from its folder: what were written to it nobody would ever find.
            raise _gone()
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def _gone() -> StoreTrouble:
    return StoreTrouble(
        "the records were moved, replaced or deleted under this terminal; nothing was written",
        hint="Leave and start again; a copy may be put back with: shopcli restore.",
    )


def _which(file: Path) -> tuple[int, int] | None:
    """Return what tells a file from another of its name; None when there is none."""
    try:
        found = file.stat()
    except FileNotFoundError:
        return None
    return found.st_dev, found.st_ino


def _on_server(place: Place) -> Engine:
    engine = create_engine(place.url, pool_pre_ping=True)

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Any) -> None:
        connection.exec_driver_sql(ONE_WRITER)

    return engine
