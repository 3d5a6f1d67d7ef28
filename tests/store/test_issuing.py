"""Eight terminals issue at once and a fifth of them lose the line half-way: no number is skipped, none is given twice."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from shopcli.store.schema import HEAD, version
from shopcli.store.shop import open_shop

ROOT = Path(__file__).parents[2]
TERMINALS = 8


@pytest.fixture(params=["file", "server"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Return where records will be; nothing is there yet."""
    return str(tmp_path / "shop.db") if request.param == "file" else request.getfixturevalue("postgres_url")


def issued_together(place: str, each: int, terminals: int) -> list[tuple[int, int, int]]:
    """Let the terminals work and return what each said: issued, lost, waited in vain."""
    out = subprocess.run(
        [sys.executable, "-m", "tests.store.issuers", place, str(terminals), str(each)],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert out.returncode == 0, out.stderr
    return [tuple(map(int, line.split())) for line in out.stdout.splitlines()]


def see_no_gap_and_no_double(place: str, each: int, terminals: int) -> None:
    """Every terminal finds the same empty place first: one brings it up, the others find it ready."""
    told = issued_together(place, each, terminals)
    print("issued, lost, waited:", [sum(column) for column in zip(*told, strict=True)])
    assert len(told) == terminals
    assert sum(issued for issued, _lost, _waited in told) == terminals * each
    assert sum(lost for _issued, lost, _waited in told) > 0
    shop = open_shop(place)
    try:
        assert version(shop.place) == HEAD
        everything = list(range(1, terminals * each + 1))
        numbers = shop.fetch("SELECT number, card_id FROM invoice ORDER BY number")
        assert [number for number, _card in numbers] == everything
        assert len({card for _number, card in numbers}) == terminals * each
        assert shop.fetch("SELECT value FROM counter WHERE name = 'invoice'") == [(terminals * each,)]
        credited = shop.fetch("SELECT number, body FROM credit_note ORDER BY number")
        assert [number for number, _body in credited] == list(range(1, terminals * (each // 2) + 1))
        assert len({json.loads(body)["corrects"] for _number, body in credited}) == len(credited)
        cards = [number for (number,) in shop.fetch("SELECT number FROM card ORDER BY number")]
        assert cards == [f"J{n:05d}" for n in everything]
        assert shop.fetch("SELECT name FROM person") == [("Owner",)]
        assert shop.fetch("SELECT COUNT(*) FROM journal WHERE act = 'CloseCard'") == [(terminals * each,)]
    finally:
        shop.close()


def test_terminals_issue_at_once(place: str) -> None:
    see_no_gap_and_no_double(place, 4, 4)


@pytest.mark.long
def test_eight_terminals_issue_a_hundred_invoices_each(place: str) -> None:
    see_no_gap_and_no_double(place, 100, TERMINALS)
