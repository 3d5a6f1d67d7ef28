"""Photos on their way into the shop's own folder: looked at by their content, copied under a name of our own.

The name is made of the card's number and the content, so the same picture is there once, and nothing of the path it
came from can lead anywhere.
"""

import hashlib
import os
import re
import stat
from dataclasses import dataclass
from pathlib import Path

from shopcli.errors import BadInput, NotFound, ShopError, StoreTrouble
from shopcli.shop.act import Done
from shopcli.shop.photo_commands import AddPhoto
from shopcli.shop.photo_names import KINDS
from shopcli.store.shop import Shop

NEWEST = 12
HEAD = 32
_HEIC = (b"heic", b"heix", b"mif1", b"hevc")


@dataclass(frozen=True, slots=True)
class Offered:
    """A file of the watched folder that looks like a photo."""

    path: Path
    size: int
    at: int


def kind_of(head: bytes) -> str | None:
    r"""Return what kind of picture a file begins as, None when it is none we keep.

    Examples
    --------
    >>> kind_of(b"\xff\xd8\xff\xe0" + bytes(12)), kind_of(b"#!/bin/sh\n"), kind_of(b"")
    ('jpeg', None, None)
    """
    if head.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if head.startswith((b"GIF87a", b"GIF89a")):
        return "gif"
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "webp"
    return "heic" if head[4:8] == b"ftyp" and head[8:12] in _HEIC else None


def photos_folder(shop: Shop) -> Path:
    """Return the shop's own folder of photos.

    Raises
    ------
    BadInput
        When the records are on a server and the settings name no folder.
    """
    if shop.settings.photos_kept:
        return Path(shop.settings.photos_kept).expanduser()
    if shop.place.file is None:
        raise BadInput("no folder for photos is named", hint='Write photos_kept = "…" into the settings.')
    return shop.place.file.with_name(f"{shop.place.file.stem}-photos")


def path_of(shop: Shop, file: str) -> Path:
    """Return where a photo of the records lies."""
    return photos_folder(shop) / Path(file).name


def _read(path: Path, most: int) -> bytes:
    """Read a whole file that is a photo, and no more than is allowed."""
    try:
        with path.open("rb") as file:
            about = os.fstat(file.fileno())
            if not stat.S_ISREG(about.st_mode):
                raise BadInput(f"{path.name} is no file", hint="Name a photo.")
            if about.st_size > most:
                raise BadInput(
                    f"{path.name} is larger than {most >> 20} MB",
                    hint="photo_most_mb in the settings says how large.",
                )
            return file.read(most + 1)
    except ShopError:
        raise
    except FileNotFoundError as error:
        raise NotFound(f"there is no file {path}", hint="Look at the path again.") from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise StoreTrouble(f"{path} cannot be read: {reason}") from error


def keep_photo(
    shop: Shop,
    path: Path,
    *,
    by: int,
    card_id: int,
    number: str,
    task_id: int | None = None,
    finding_id: int | None = None,
    caption: str = "",
    op: str | None = None,
) -> Done:
    """Copy a photo into the shop's folder and note it on the card.

    Raises
    ------
    BadInput
        When it is no picture by its content, or too large.
    NotFound
        When there is no such file.
    Refused
        See the rule; a file copied for nothing is taken away again.
    StoreTrouble
        When it cannot be read or written.
    """
    content = _read(path.expanduser(), shop.settings.photo_most_mb << 20)
    kind = kind_of(content[:HEAD])
    if kind is None:
        raise BadInput(
            f"{path.name[:60]} is no picture",
            hint="JPEG, PNG, WebP, GIF and HEIC are kept; the content counts.",
        )
    digest = hashlib.sha256(content).hexdigest()[:16]
    name = f"{re.sub(r'[^A-Za-z0-9]+', '-', number).strip('-') or 'card'}-{digest}.{KINDS[kind]}"
    target = photos_folder(shop) / name
    made = _write(target, content)
    try:
        return shop.do(
            AddPhoto(card_id, name, kind, len(content), caption, task_id, finding_id), by=by, op=op
        )
    except Exception:
        if made:
            target.unlink(missing_ok=True)
        raise


def _write(target: Path, content: bytes) -> bool:
    """Write a file in one stroke; return whether it was not there yet."""
    if target.exists():
        return False
    draft = target.with_name(f".{target.name}.{os.getpid()}")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        draft.write_bytes(content)
        draft.replace(target)
    except OSError as error:
        draft.unlink(missing_ok=True)
        raise StoreTrouble(
            f"{target.parent} cannot be written: {error.strerror}", hint="Free some space."
        ) from error
    return True


def newest(shop: Shop, limit: int = NEWEST) -> tuple[Offered, ...]:
    """Return the newest photos of the watched folder, newest first; none when none is watched."""
    watched = shop.settings.photo_folder
    if not watched:
        return ()
    found = []
    try:
        with os.scandir(Path(watched).expanduser()) as entries:
            for entry in entries:
                if entry.is_file(follow_symlinks=False) and entry.name.isprintable():
                    about = entry.stat(follow_symlinks=False)
                    found.append(Offered(Path(entry.path), about.st_size, int(about.st_mtime)))
    except OSError as error:
        raise StoreTrouble(
            f"the folder of new photos cannot be read: {error.strerror}", hint=f"Settings: {watched}"
        ) from error
    found.sort(key=lambda offered: (-offered.at, offered.path.name))
    return tuple(one for one in found[: limit * 4] if _begins_as_picture(one.path))[:limit]


def _begins_as_picture(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return kind_of(file.read(HEAD)) is not None
    except OSError:
        return False
