"""Compare a paper with the one that was read and found right."""

import os
from pathlib import Path

FOLDER = Path(__file__).parent / "golden"


def same_as_golden(name: str, text: str) -> None:
    """Assert equality with a kept file; WRITE_GOLDEN=1 keeps the new text, to be read before a commit."""
    path = FOLDER / name
    if os.environ.get("WRITE_GOLDEN"):
        path.write_text(text, encoding="utf-8", newline="\n")
    assert text.splitlines() == path.read_text(encoding="utf-8").splitlines()
