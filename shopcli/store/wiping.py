"""What was erased is overwritten: a database only marks rows as free, and their bytes stay in the file until it is written anew.

Copies made before still hold what was erased; they are named, so that they can be thrown away.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

from shopcli.errors import ShopError
from shopcli.store.place import Place
from shopcli.store.shop import Shop
from shopcli.store.trouble import told

PATIENCE_S = 10
NOT_YET = "The file could not be written anew while another terminal reads: leave the others, and run: shopcli wipe."
# What lay in rows that are free now; the finding index keeps the letters of words that went.
AFRESH = "INSERT INTO find_text (find_text) VALUES ('rebuild')"


def wipe(shop: Shop) -> tuple[str, ...]:
    """Write the records anew without what is free in them; return what is to be said about it and about copies."""
    try:
        with told():
            whole = _file(shop.place.file) if shop.place.file else _server(shop.place)
    except ShopError:
        whole = False
    done = "What lay there is overwritten." if whole else NOT_YET
    return (done, *copies(shop))


def _file(file: Path) -> bool:
    with closing(sqlite3.connect(file, timeout=PATIENCE_S, isolation_level=None)) as records:
        records.execute("PRAGMA secure_delete=ON")
        records.execute(AFRESH)
        records.execute("VACUUM")
        busy, _written, _moved = records.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        return not busy


def _server(place: Place) -> bool:
    import psycopg

    with psycopg.connect(place.dsn, autocommit=True) as records:
        records.execute(f"SET lock_timeout = '{PATIENCE_S}s'")
        records.execute("VACUUM (FULL)")
    return True


def copies(shop: Shop) -> Iterator[str]:
    """Say which copies of the records there are and of when, and what of a server's is not ours to see."""
    from shopcli.store.whole.backups import backups, usual_folder

    file = shop.place.file
    folder = usual_folder(shop.place, shop.settings.backup_folder)
    found = backups(folder, file.stem if file else "server")
    if file is not None:  # made beside the records before a change of the tables, and by a restore
        found += sorted(
            other
            for kind in ("before", "replaced")
            for other in file.parent.glob(f"{file.stem}-{kind}-*{file.suffix}")
        )
    if found:
        yield "Copies made before still hold it; delete them when you can do without them:"
        for copy in found:
            made = datetime.fromtimestamp(copy.stat().st_mtime, shop.settings.tz())
            yield f"  {made:%Y-%m-%d %H:%M}  {copy}"
    if file is None:
        yield "The server's own log and its backups hold it until they are thrown away."
    yield "Papers that were printed or saved as files, and copies kept elsewhere, are yours to look through."
