"""Copies of a shop's records while it works, the oldest thrown away in time, and the way back from one of them.

A file is copied through the engine's own online backup: a plain copy of a file somebody writes to may be torn. The
records of a server are written out as lines.
"""

import os
import re
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from shopcli.errors import BadInput, Refused, StoreTrouble
from shopcli.store.place import Place, at_file
from shopcli.store.schema import REVISIONS, version
from shopcli.store.shop import Shop
from shopcli.store.trouble import told

STAMP = "%Y%m%dT%H%M%SZ"
NAMED = re.compile(r"-(\d{8}T\d{6}Z)\.(?:db|jsonl)$")
FOLDER = "backups"


def usual_folder(place: Place, wanted: str = "") -> Path:
    """Return where the copies go: the folder wanted, else one beside the records or in the usual place."""
    if wanted:
        return Path(wanted).expanduser()
    if place.file is not None:
        return place.file.parent / FOLDER
    from shopcli.store.place import default_file

    return Path(default_file()).parent / FOLDER


def back_up(place: Place, folder: Path, now: datetime, keep: int) -> Path:
    """Copy the records into a folder, look whether the copy is whole, and throw the oldest ones away.

    Parameters
    ----------
    keep : int
        How many copies stay, the new one with them; at least one.

    Raises
    ------
    StoreTrouble
        When there is no room, the folder cannot be written, or the copy is damaged; the records are as before.
    """
    stem = place.file.stem if place.file else "server"
    suffix = "db" if place.file else "jsonl"
    target = folder / f"{stem}-{now.astimezone(UTC).strftime(STAMP)}.{suffix}"
    partial = target.with_suffix(
        f".{suffix}.{os.getpid()}.part"
    )  # another terminal may copy at the same moment
    with told():
        folder.mkdir(parents=True, exist_ok=True)
        try:
            _copy(place, partial)
            partial.replace(target)
        finally:
            partial.unlink(missing_ok=True)
        for old in backups(folder, stem)[max(keep, 1) :]:
            old.unlink()
    return target


def backups(folder: Path, stem: str) -> list[Path]:
    """Return the copies in a folder, the newest first; other files are let be."""
    if not folder.is_dir():
        return []
    ours = (f for f in folder.iterdir() if f.name.startswith(f"{stem}-") and NAMED.search(f.name))
    return sorted(ours, key=_stamp, reverse=True)


def due(place: Place, folder: Path, now: datetime, hours: float) -> bool:
    """Whether the newest copy is older than wanted; never when `hours` is 0."""
    if not hours:
        return False
    newest = next(iter(backups(folder, place.file.stem if place.file else "server")), None)
    if newest is None:
        return True
    made = datetime.strptime(_stamp(newest), STAMP).replace(tzinfo=UTC)
    return not 0 <= (now - made).total_seconds() < hours * 3600


def keep_up(shop: Shop) -> Path | None:
    """Copy the records when the newest copy is older than the settings want; return the copy that was made."""
    settings, now = shop.settings, shop.now()
    folder = usual_folder(shop.place, settings.backup_folder)
    if not due(shop.place, folder, now, settings.backup_hours):
        return None
    return back_up(shop.place, folder, now, settings.backups_kept)


def _stamp(file: Path) -> str:
    found = NAMED.search(file.name)
    return found[1] if found else ""


def _copy(place: Place, target: Path) -> None:
    if place.file is None:
        from shopcli.store.whole.written import lines

        with target.open("w", encoding="utf-8") as out:
            out.writelines(f"{line}\n" for line in lines(place))
            out.flush()
            os.fsync(out.fileno())
        return
    copy_file(place.file, target)


def copy_file(source: Path, target: Path) -> None:
    """Copy a file of records as it is at one moment, whoever writes to it, and look whether the copy is whole."""
    with (
        closing(sqlite3.connect(source.absolute().as_uri() + "?mode=ro", uri=True)) as had,
        closing(sqlite3.connect(target)) as copy,
    ):
        had.backup(copy, pages=-1)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file, nothing beside it
        must_be_whole(copy, target)
    with target.open("rb") as written:
        os.fsync(written.fileno())


def must_be_whole(connection: sqlite3.Connection, file: Path) -> None:
    """Raise StoreTrouble when a file of records is damaged or its references are broken."""
    said = [row[0] for row in connection.execute("PRAGMA integrity_check(3)")]
    if said != ["ok"]:
        raise StoreTrouble(f"{file.name} is damaged: {'; '.join(said)[:200]}", hint="Take another copy.")
    broken = connection.execute("PRAGMA foreign_key_check").fetchone()
    if broken:
        raise StoreTrouble(f"{file.name} has broken references in {broken[0]}", hint="Take another copy.")


def restore(backup: Path, place: Place, now: datetime) -> Path | None:
    """Put a copy in the place of the records, once it has been read in beside them and looked at.

    Returns
    -------
    Path or None
        Where the records that stood there are kept; None when there were none.

    Raises
    ------
    BadInput
        When there is no such copy, or it is none.
    Refused
        When the records are on a server, or somebody writes to them.
    StoreTrouble
        When the copy is damaged or of a newer program; the records are as before.
    """
    if place.file is None:
        raise Refused(
            "a server's records are not replaced by a file",
            hint="Make an empty database and read the copy into it: shopcli read-in.",
        )
    if not backup.is_file():
        raise BadInput(f"there is no file {backup}")
    file = place.file
    fresh = file.with_name(f"{file.stem}-restoring{file.suffix}")
    with told():
        file.parent.mkdir(parents=True, exist_ok=True)
        try:
            _remove(beside(fresh))
            _bring(backup, fresh)
            kept = _set_aside(file, now)
            fresh.replace(file)
        finally:
            _remove(beside(fresh))
    return kept


def _bring(backup: Path, fresh: Path) -> None:
    if backup.suffix == ".jsonl":
        from shopcli.store.whole.written import read_in

        with backup.open(encoding="utf-8") as lines:
            read_in(at_file(fresh), lines)
        with closing(sqlite3.connect(fresh)) as connection:
            connection.execute("PRAGMA journal_mode=DELETE")
        return
    found = version(at_file(backup))
    if found not in REVISIONS:
        raise StoreTrouble(
            f"{backup.name} is {'of version ' + found if found else 'no copy of a shop'}",
            hint="Take a copy this program knows.",
        )
    copy_file(backup, fresh)


def _set_aside(file: Path, now: datetime) -> Path | None:
    """Move the records that stand there out of the way, with everything that is written and not yet in the file."""
    if not file.exists():
        return None
    kept = file.with_name(f"{file.stem}-replaced-{now.astimezone(UTC).strftime(STAMP)}{file.suffix}")
    with closing(sqlite3.connect(file, timeout=5, isolation_level=None)) as connection:
        try:
            busy = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
            connection.execute("PRAGMA journal_mode=DELETE")  # refused while another connection is open
        except sqlite3.OperationalError:
            busy = 1
        except sqlite3.DatabaseError:
            busy = 0  # damaged: kept as it is, whatever is beside it
        if busy:
            raise Refused(
                "the records are open at another terminal",
                hint="Close every terminal, then restore; nothing was changed.",
            )
    file.replace(kept)
    for extra in beside(file)[1:]:
        if extra.exists():
            extra.replace(kept.with_name(kept.name + extra.name.removeprefix(file.name)))
    return kept


def beside(file: Path) -> list[Path]:
    """Return a file and what the engine keeps beside it."""
    return [file, *(file.with_name(file.name + end) for end in ("-wal", "-shm", "-journal"))]


def _remove(files: Iterable[Path]) -> None:
    for file in files:
        file.unlink(missing_ok=True)
