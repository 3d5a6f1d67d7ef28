"""Turns what the database drivers throw into words with a way out. Drivers' names are compared, so none is imported."""

from collections.abc import Iterator
from contextlib import contextmanager

from shopcli.errors import Refused, ShopError, Stale, StoreTrouble

WORDS: tuple[tuple[str, str, str], ...] = (
    (
        "readonly",
        "the records cannot be written: the file or its folder is read-only",
        "Mend the rights of the folder, then try again; nothing was changed.",
    ),
    (
        "read-only",
        "the records cannot be written: they are read-only",
        "Mend the rights, then try again; nothing was changed.",
    ),
    ("disk is full", "the disk is full; nothing was changed", "Free some space, then try again."),
    ("no space left", "the disk is full; nothing was changed", "Free some space, then try again."),
    (
        "disk i/o error",
        "the disk refused to write; nothing was changed",
        "Look at the disk and its free space before going on.",
    ),
    ("locked", "another terminal is writing and did not finish in time", "Try again; nothing was changed."),
    (
        "lock timeout",
        "another terminal is writing and did not finish in time",
        "Try again; nothing was changed.",
    ),
    (
        "not a database",
        "the file is not a shop's records",
        "Point --db at the right file, or restore a backup.",
    ),
    ("malformed", "the records are damaged", "Restore the last backup; keep the damaged file."),
    ("unable to open", "the records cannot be opened", "Does the folder exist, and may you write in it?"),
    (
        "connection",
        "the database server cannot be reached",
        "Is it running? The act was not done; try again.",
    ),
    ("no such table", "the file has no shop's records in it", "Point --db at the right file."),
)
DRIVER_ERRORS = {
    "OperationalError",
    "DatabaseError",
    "InterfaceError",
    "InternalError",
    "PermissionError",
    "DiskFull",
}


def in_words(error: BaseException) -> ShopError | None:
    """Return the error in the shop's words, or None when it is none of the database's."""
    if isinstance(error, ShopError):
        return error
    names = {kind.__name__ for kind in type(error).__mro__}
    if "StaleDataError" in names:
        return Stale(
            "another terminal changed this meanwhile; nothing of yours was written",
            hint="Look again, then repeat.",
        )
    text = str(error).lower()
    if isinstance(error, ImportError):
        return _no_driver(text)
    if "fixed for good" in text:  # each engine has an error of its own for what its triggers refuse
        return Refused("that record is fixed for good and cannot be changed")
    if "IntegrityError" in names:
        if "one_open_clock" in text or "clock_entry.person_id" in text:
            return Refused(
                "that person's clock was started at another terminal", hint="Look again: it is one clock."
            )
        return Refused(
            f"the records do not allow it: {str(error).splitlines()[0]}", hint="Look again, then repeat."
        )
    if isinstance(error, OSError) or names & DRIVER_ERRORS:
        for needle, message, hint in WORDS:
            if needle in text:
                return StoreTrouble(message, hint=hint)
        return StoreTrouble(
            f"the records cannot be used: {str(error).splitlines()[0] if str(error) else error!r}"
        )
    return None


def _no_driver(text: str) -> ShopError | None:
    if "psycopg" not in text:
        return None
    return StoreTrouble(
        "records on a server want the PostgreSQL driver, which is not installed",
        hint="Install it: pip install 'shopcli[postgres]'.",
    )


@contextmanager
def told() -> Iterator[None]:
    """Let database errors out only in words."""
    try:
        yield
    except ShopError:
        raise
    except Exception as error:
        words = in_words(error)
        if words is None:
            raise
        raise words from error
