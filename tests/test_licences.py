"""Whatever the program is given away with may be given away with it, and is named in the notes for engineers."""

from importlib.metadata import PackageNotFoundError
from pathlib import Path

import pytest

from tests.licences import MAY, licence, needed

NOTES = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", sorted(needed()))
def test_its_licence_allows_it(name: str) -> None:
    try:
        said = licence(name)
    except PackageNotFoundError:
        pytest.skip("of an extra that is not installed")
    assert any(word in said for word in MAY), said
    assert "GPL" not in said or "LGPL" in said, said
    assert name in NOTES, "python -m tests.licences prints the list anew"
