"""The shell of the tests: commands over the busy shop's records, with what they print and their exit status."""

from collections.abc import Callable

import pytest

from shopcli.cli import main
from tests.conftest import Busy

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def shell(capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a runner of commands: exit status, output, complaints."""

    def go(*words: str) -> tuple[int, str, str]:
        status = main(words)
        out = capsys.readouterr()
        return status, out.out, out.err

    return go


@pytest.fixture
def run(shell: Run, busy_shop: Busy, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return a runner of commands over the busy shop's records, Tom at the keys."""
    monkeypatch.setenv("SHOPCLI_DB", str(busy_shop.shop.place.file))
    monkeypatch.setenv("SHOPCLI_BY", "Tom")
    return shell
