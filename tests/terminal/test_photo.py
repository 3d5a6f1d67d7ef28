"""A photo at a real terminal: the library asks it what it can do, and no answer of it is taken for typing."""

from pathlib import Path

from shopcli.store.photos import keep_photo
from tests.conftest import Busy
from tests.store.test_photos import picture
from tests.terminal.driver import ROOT, Person


def test_a_photo_is_shown_and_the_keys_work_on(busy_shop: Busy, tmp_path: Path) -> None:
    keep_photo(
        busy_shop.shop,
        picture(tmp_path / "a.jpg"),
        by=2,
        card_id=busy_shop.card,
        number="J00001",
        caption="a red one",
    )
    busy_shop.shop.close()
    (tmp_path / "shop.toml").write_text('shop_name = "Test Lane Motors"\n', encoding="utf-8")
    (tmp_path / "clock").write_text("2026-11-25T10:15:00+00:00", encoding="utf-8")
    names = (str(busy_shop.shop.place.file), str(tmp_path / "shop.toml"), str(tmp_path / "clock"), "Tom")
    person = Person(*names, program=(str(ROOT / "tests" / "terminal" / "timed_app.py"),))
    try:
        person.see("LRK 120")
        person.process.send("%C%J00001\r")
        person.see("Bench  J00001")
        person.press("p")
        person.see("What else")
        person.type("look at")
        person.press("enter")
        person.see("a red one")
        person.press("enter")
        person.see("Esc goes back")
        person.see("▀|▄|█")
        person.press("esc")
        person.see("F9 Take off")
        person.press("esc")
        person.see("d Done")
        person.leave()
    finally:
        if person.process.isalive():
            person.kill()
