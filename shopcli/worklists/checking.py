"""Check files before or after they go into the shop's own folder: one of them alone, or a whole folder.

A file is read as if it lay in the shop's folder already, over everything the shop has, so that what it refers to
is there. What others have wrong is not said of it.
"""

import shutil
import tempfile
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from shopcli.errors import BadTemplate, NotFound
from shopcli.worklists.load import load_library
from shopcli.worklists.toml_read import NAME

KINDS = ("tasks", "sheets", "kits")
SMALL = {"cautions": "caution", "tags": "tag"}


@dataclass(frozen=True, slots=True)
class Checked:
    """What was looked at, and all that is wrong with it."""

    files: tuple[str, ...]
    problems: tuple[BadTemplate, ...]


def check_path(path: Path, folders: Sequence[Path] = ()) -> Checked:
    """Check a file, or a folder laid out like the shipped one.

    Parameters
    ----------
    path : Path
        A file of any of the kinds, wherever it lies, or a folder of them.
    folders : sequence of Path, optional
        The shop's own folders: what lies there may be referred to.

    Raises
    ------
    NotFound
        If there is nothing of that name.
    """
    if path.is_dir():
        return _folder(path, folders)
    if not path.is_file():
        raise NotFound(
            f"there is no file or folder '{path}'", hint="Give its path, or the name of a job of your own."
        )
    with tempfile.TemporaryDirectory() as place:
        inside = Path(place) / where_it_belongs(path)
        inside.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, inside)
        library = load_library(*folders, Path(place))
        found = [p for p in library.problems if p.file == str(inside)]
        told = tuple(BadTemplate(str(path), p.line, _said(p), hint=p.hint) for p in found)
    return Checked((str(path),), told)


def _said(problem: BadTemplate) -> str:
    return problem.message.removeprefix(f"{problem.file}:{problem.line}: ")


def _folder(path: Path, folders: Sequence[Path]) -> Checked:
    library = load_library(*(f for f in folders if f.resolve() != path.resolve()), path)
    inside = sorted(str(f) for f in path.rglob("*.toml") if f.is_file())
    problems = tuple(p for p in library.problems if Path(p.file).is_relative_to(path))
    stray = tuple(
        BadTemplate(f, 1, "lies where nobody looks", hint=f"Put it into {path / _kind(Path(f))}.")
        for f in inside
        if Path(f).relative_to(path).parts[:-1] not in {(k,) for k in KINDS}
        and Path(f).relative_to(path) not in {Path(f"{name}.toml") for name in SMALL}
    )
    return Checked(tuple(inside), problems + stray)


def where_it_belongs(path: Path) -> Path:
    """Return where in a folder of the shop's own a file belongs, by its name and what stands in it.

    Examples
    --------
    >>> where_it_belongs(Path("tags.toml")).as_posix(), where_it_belongs(Path("kits/hub-set.toml")).as_posix()
    ('tags.toml', 'kits/hub-set.toml')
    """
    return Path(path.name) if path.stem in SMALL else Path(_kind(path)) / path.name


def _kind(path: Path) -> str:
    if path.parent.name in KINDS:
        return path.parent.name
    try:
        keys = set(tomllib.loads(path.read_text(encoding="utf-8-sig")))
    except (OSError, ValueError, RecursionError):
        return "tasks"
    if "task" in keys or "include" in keys:
        return "tasks"
    if keys & {"spec", "facts", "under"}:
        return "sheets"
    return "kits" if "kit" in keys and "system" not in keys else "tasks"


def own_entries(folder: Path) -> dict[str, tuple[str, ...]]:
    """Return the names of what lies in a folder of the shop's own, by kind; what cannot be read has none.

    The kinds are ``tasks``, ``sheets``, ``kits``, ``cautions`` and ``tags``.
    """
    found = {}
    for kind in KINDS:
        inside = folder / kind
        files = sorted(inside.glob("*.toml")) if inside.is_dir() else []
        found[kind] = tuple(f.stem for f in files if NAME.fullmatch(f.stem))
    for name, key in SMALL.items():
        found[name] = _keys(folder / f"{name}.toml", key)
    return found


def _keys(file: Path, key: str) -> tuple[str, ...]:
    try:
        block = tomllib.loads(file.read_text(encoding="utf-8-sig")).get(key, {})
    except (OSError, ValueError, RecursionError):
        return ()
    return tuple(sorted(block)) if isinstance(block, dict) else ()
