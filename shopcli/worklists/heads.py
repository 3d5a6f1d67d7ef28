"""What a few templates are called and which system they are for: the heads of their files, nothing of the library is read.

Reading the whole library takes longer than all that a week shows.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from shopcli.shipped import shipped

NO_SYSTEM = "other"


@dataclass(frozen=True, slots=True)
class Head:
    """Title and system of a template, whether it is done because it is due, and what it includes."""

    title: str
    system: str
    service: bool = False
    include: tuple[str, ...] = ()


def heads(names: Iterable[str], own: Path | None = None) -> dict[str, Head]:
    """Return the heads of the templates that are there; the shop's own folder lies over ours.

    Parameters
    ----------
    names : iterable of str
        Names of templates; what is none is left out.
    own : Path, optional
        The shop's own folder.
    """
    folders = [folder / "tasks" for folder in (own, shipped("jobtemplates")) if folder is not None]
    found = {}
    for name in dict.fromkeys(names):
        if not name or "/" in name or name.startswith("."):
            continue
        file = next((f for folder in folders if (f := folder / f"{name}.toml").is_file()), None)
        head = None if file is None else _head(file, file.stat().st_mtime_ns)
        if head is not None:
            found[name] = head
    return found


@lru_cache(maxsize=256)
def _head(file: Path, _changed_ns: int) -> Head | None:
    """Return the head of a file as it was at that moment: periods looked through ask for the same few again and again."""
    import tomllib

    try:
        text = file.read_text(encoding="utf-8")
        table = tomllib.loads(text.split("\n[", 1)[0])
    except (OSError, UnicodeDecodeError, ValueError):
        return None  # whoever loads the library is told what is wrong with it
    title, system = table.get("title"), table.get("system")
    included = table.get("include")
    return Head(
        str(title or file.stem),
        str(system or NO_SYSTEM),
        service=table.get("service") is True,
        include=tuple(map(str, included)) if isinstance(included, list) else (),
    )


def planned(called: Mapping[str, Head]) -> frozenset[str]:
    """Return those of the templates of a card that are done because they are due: services, and what these include.

    Examples
    --------
    >>> oil, points = Head("Oil", "lubrication"), Head("Points", "ignition")
    >>> sorted(planned({"yearly": Head("Yearly", "car", True, ("oil",)), "oil": oil, "points": points}))
    ['oil', 'yearly']
    """
    found = {name for name, head in called.items() if head.service}
    while more := {n for name in found for n in called[name].include if n in called} - found:
        found |= more
    return frozenset(found)
