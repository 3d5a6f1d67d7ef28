"""The licence of everything the program needs, as each package says of itself: ``python -m tests.licences`` prints them."""

import re
from contextlib import suppress
from importlib.metadata import PackageNotFoundError, distribution

from packaging.requirements import Requirement

OURS = "shopcli"
EXTRAS = (
    "",
    "postgres",
    "browser",
    "photos",
)  # what users install; what only the tests need is not passed on
# Licences under which a program under the MIT licence may use a library and be given away with it.
MAY = ("MIT", "BSD", "Apache", "ISC", "PSF", "Python Software Foundation", "MPL", "Mozilla", "HPND", "Zlib", "LGPL", "Unlicense", "0BSD", "CC0", "Public Domain")  # fmt: skip


def needed(name: str = OURS, extras: tuple[str, ...] = EXTRAS) -> frozenset[str]:
    """Return everything a package needs, and what that needs, as far as it is for this machine."""
    found: set[str] = set()
    waiting = [(name, extras)]
    done: set[tuple[str, tuple[str, ...]]] = set()
    while waiting:
        at = waiting.pop()
        if at in done:
            continue
        done.add(at)
        try:
            wants = distribution(at[0]).requires or []
        except PackageNotFoundError:
            continue  # of an extra that is not installed here
        for text in wants:
            want = Requirement(text)
            if want.marker is None or any(want.marker.evaluate({"extra": e}) for e in at[1] or ("",)):
                found.add(re.sub(r"[-_.]+", "-", want.name).lower())
                waiting.append((want.name, tuple(want.extras) or ("",)))
    return frozenset(found - {name})


def licence(name: str) -> str:
    """Return the licence a package names: the expression, else its classifiers, else the first line of its text."""
    said = distribution(name).metadata
    if said.get("License-Expression"):
        return str(said["License-Expression"])
    classes = [
        c.split("::")[-1].strip() for c in said.get_all("Classifier") or () if c.startswith("License ::")
    ]
    classes = [c for c in classes if c != "OSI Approved"]
    if classes:
        return ", ".join(classes)
    return str(said.get("License") or "").strip().split("\n")[0][:60]


def table() -> str:
    """Return the packages by licence, as the notes for engineers have them."""
    by: dict[str, list[str]] = {}
    for name in sorted(needed()):
        with suppress(PackageNotFoundError):
            by.setdefault(licence(name), []).append(name)
    return "\n".join(f"- {said}: {', '.join(names)}" for said, names in sorted(by.items()))


if __name__ == "__main__":
    print(table())
