"""A scanner at a real terminal: its burst of keys opens the card, whatever has the focus; a slow hand types per cent signs."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.conftest import Busy
from tests.terminal.driver import ROOT, Person


@pytest.fixture
def person(busy_shop: Busy, tmp_path: Path) -> Iterator[Person]:
    busy_shop.shop.close()
    (tmp_path / "shop.toml").write_text('shop_name = "Test Lane Motors"\n', encoding="utf-8")
    (tmp_path / "clock").write_text("2026-11-25T10:15:00+00:00", encoding="utf-8")
    names = (str(busy_shop.shop.place.file), str(tmp_path / "shop.toml"), str(tmp_path / "clock"), "Tom")
    made = Person(*names, program=(str(ROOT / "tests" / "terminal" / "timed_app.py"),))
    yield made
    if made.process.isalive():
        made.kill()


def test_a_scan_at_the_desk_and_at_the_bench(person: Person) -> None:
    person.see("LRK 120")
    person.type("5 % off")
    person.see("5 % off")
    person.process.send("%C%J00001\r")
    person.see("Bench  J00001")
    person.see("Why now:")  # a task is in hand
    person.process.send("%P%T-002\r")
    person.see("Parts: ")
    person.process.send("%C%J00077\r")
    person.see("no card 'J00077'")
    person.press("esc", "f5")
    person.see("5 % off")
    person.leave()
