"""Is the database there, and of the version this program knows? A raw look first; alembic only when behind."""

import os
import sqlite3
from datetime import UTC, datetime

from shopcli.errors import StoreTrouble
from shopcli.store.place import Place
from shopcli.store.reader import Reader
from shopcli.store.trouble import told

TYPE_CHECKING = False
if TYPE_CHECKING:
    from pathlib import Path

# The revisions this program knows, oldest first; the last is the one it needs.
REVISIONS = (
    "0001",
    "0002",
    "0003",
    "0004",
    "0005",
    "0006",
    "0007",
    "0008",
    "0009",
    "0010",
    "0011",
    "0012",
    "0013",
    "0014",
    "0015",
    "0016",
    "0017",
    "0018",
    "0019",
    "0020",
    "0021",
    "0022",
)
HEAD = REVISIONS[-1]


def version(place: Place, reader: Reader | None = None) -> str | None:
    """Return the schema version written in the database, asked by a `reader` at hand; None when there is no schema yet.

    Raises
    ------
    StoreTrouble
        When it cannot be opened or is no database.
    """
    if place.name and not os.path.exists(place.name):
        return None
    own = reader or Reader(place)
    with told():
        try:
            rows = own.connection().execute("SELECT version_num FROM alembic_version").fetchall()
        except Exception as error:
            if "no such table" in str(error) or type(error).__name__ == "UndefinedTable":
                return None
            raise
        finally:
            if reader is None:
                own.close()
        return str(rows[0][0]) if rows else None


def backup_beside(file: "Path") -> "Path":
    """Copy a database through the engine's own online backup, beside it, and return the copy's path."""
    stamp = datetime.now(UTC).strftime("%Y%m%dT%H%M%S")
    target = file.with_name(f"{file.stem}-before-{HEAD}-{stamp}{file.suffix}")
    import shutil

    with told():
        if shutil.disk_usage(file.parent).free < file.stat().st_size * 2:
            raise StoreTrouble(
                "there is no room for a backup before the change of schema", hint="Free some space."
            )
        source, copy = sqlite3.connect(file), sqlite3.connect(target)
        try:
            source.backup(copy, pages=-1)
        finally:
            source.close()
            copy.close()
    return target


def bring_up(place: Place, reader: Reader | None = None) -> None:
    """Bring the schema to the version this program needs; which it has, a `reader` at hand is asked.

    Raises
    ------
    StoreTrouble
        When the database is from a newer program, or cannot be written.
    """
    now = version(place, reader)
    if now == HEAD:
        return
    if now is not None and now not in REVISIONS:
        raise StoreTrouble(
            f"these records are of version {now}, written by a newer program; this one knows up to {HEAD}",
            hint="Update this program; the records were not touched.",
        )
    with told():
        if place.file:
            place.file.parent.mkdir(parents=True, exist_ok=True)
            if now is not None:
                backup_beside(place.file)
        from shopcli.store.migrations.run import upgrade

        upgrade(place)
