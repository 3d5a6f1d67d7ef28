"""What a terminal remembers for itself between starts, such as the theme somebody chose: per machine, not in the records."""

import os
import sys
from pathlib import Path

FILE_NAME = "terminal.json"


def state_folder() -> Path:
    """Return the folder of what this machine keeps for itself."""
    if sys.platform == "linux":  # asked before the first picture: the general way costs more than the reading
        folder = os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state"
        return Path(folder) / "shopcli"
    from platformdirs import user_state_path

    return user_state_path("shopcli", appauthor=False)


def _file() -> Path:
    return state_folder() / FILE_NAME


def remembered_theme() -> str:
    """Return the theme last chosen at this terminal, or nothing; the framework's own variable goes before it."""
    if os.environ.get("TEXTUAL_THEME"):
        return ""
    name = remembered("theme")
    return name if isinstance(name, str) else ""


def remember_theme(name: str) -> None:
    """Keep the theme for the next start."""
    remember("theme", name)


def remembered(name: str) -> object:
    """Return what this terminal kept under a name, None where it kept nothing."""
    return _kept().get(name)


def remember(name: str, value: str | list[int]) -> None:
    """Keep something for the next start; a folder that cannot be written is no reason to stop anybody."""
    import json

    file = _file()
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(json.dumps({**_kept(), name: value}), encoding="utf-8")
    except OSError:
        return


def _kept() -> dict[str, object]:
    try:
        text = _file().read_text(encoding="utf-8")
        import json  # only where something was kept: the first picture waits for it

        kept = json.loads(text)
    except (OSError, ValueError):
        return {}  # a terminal that remembers nothing starts as the settings say
    return kept if isinstance(kept, dict) else {}
