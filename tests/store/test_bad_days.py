"""A few of the bad days of ``python -m tests.trials``: terminals killed, files torn, a server stopped under them."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def trial(*words: str) -> str:
    out = subprocess.run(
        [sys.executable, "-m", "tests.trials", *words],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert out.returncode == 0, out.stdout + out.stderr
    print(out.stdout)
    return out.stdout


def test_a_few_torn_copies() -> None:
    acknowledged = re.search(r"(\d+) acts acknowledged", trial("torn", "6"))
    assert acknowledged
    assert int(acknowledged[1]) > 0


@pytest.mark.long
def test_kills() -> None:
    assert "300" in trial("kills", "300")


@pytest.mark.long
@pytest.mark.parametrize("where", ["file", "server"])
def test_a_crowd(where: str) -> None:
    assert "killed" in trial("mixed", "60", where)
