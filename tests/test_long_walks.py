"""What is walked before a release only is there under the name the list has for it."""

from pathlib import Path

import pytest

from tests.long_walks import LONG

HERE = Path(__file__).parent


@pytest.mark.parametrize("path", LONG)
def test_every_walk_is_there(path: str) -> None:
    text = (HERE / path).read_text(encoding="utf-8")
    for name in LONG[path]:
        assert name[0] in "*[" or f"def {name.split('[', 1)[0]}(" in text, name
