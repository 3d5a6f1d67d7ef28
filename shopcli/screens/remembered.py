"""What a terminal remembers for itself between starts, the theme somebody chose: kept per machine, not in the records."""

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
    try:
        text = _file().read_text(encoding="utf-8")
        import json  # only where something was kept: the first picture waits for it

        kept = json.loads(text)
    except (OSError, ValueError):
        return ""  # a terminal that remembers nothing starts as the settings say
    name = kept.get("theme") if isinstance(kept, dict) else None
    return name if isinstance(name, str) else ""


def remember_theme(name: str) -> None:
    """Keep the theme for the next start; a folder that cannot be written is no reason to stop anybody."""
    import json

    file = _file()
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(json.dumps({"theme": name}), encoding="utf-8")
    except OSError:
        return
