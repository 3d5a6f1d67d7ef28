"""Photos at the bench: a new one offered, one by its path, of a finding; looked at where the terminal can, else by path."""

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from shopcli.screens.app import ShopApp
from shopcli.screens.bench import photographing
from shopcli.screens.photo_view import ShowPhoto, read_picture
from shopcli.screens.photos import PhotosScreen
from shopcli.shop.commands import AddFinding
from shopcli.store.photos import keep_photo
from shopcli.store.reads.people import person
from shopcli.store.reads.photos import photos
from shopcli.store.shop import Shop
from tests.conftest import SETTINGS, START, Busy, Clock
from tests.stations.bench_help import SMALL, Standing, bench_shop, standing
from tests.stations.build import HOSTILE, still
from tests.store.test_photos import picture


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


@pytest.fixture
def no_terminal(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The library asks a terminal what it can do; here is none to be asked."""
    with Path(os.devnull).open("w", encoding="utf-8") as nobody:
        monkeypatch.setattr(sys, "__stdout__", nobody)
        yield


async def answer(here: Standing, text: str) -> None:
    field = here.app.focused
    assert isinstance(field, Input)
    field.value = text
    await here.pilot.pause()
    await here.press("enter")


async def kept(here: Standing) -> None:
    for _ in range(200):
        if "Photo kept" in here.says:
            return
        await here.pilot.pause(0.02)
    raise AssertionError(here.says)


async def test_the_newest_photo_is_offered_and_kept_with_the_task(busy: Busy, tmp_path: Path) -> None:
    watched = tmp_path / "camera"
    watched.mkdir()
    os.utime(picture(watched / "IMG 7 [x].jpg"), (START.timestamp() - 300, START.timestamp() - 300))
    busy.shop.settings = SETTINGS._replace(photo_folder=str(watched))
    async with standing(busy) as here:
        await here.press("p")
        await here.type("add one")
        assert "IMG 7 [x].jpg" in here.words()
        assert "5 min ago" in here.words()
        await here.press("enter", "enter")
        await answer(here, "the cover [/oops]")
        await kept(here)
    (photo,) = photos(busy.shop, busy.card)
    assert (photo.of, photo.caption) == ("task: Take the cover off", "the cover [/oops]")


async def test_a_photo_by_its_path_of_a_finding(busy: Busy, tmp_path: Path) -> None:
    busy.do(AddFinding(busy.card, "front", "hose perished", "stop"))
    source = picture(tmp_path / "hose.png", "PNG")
    async with standing(busy) as here:
        await here.press("p")
        await here.type("add one")
        await answer(here, str(tmp_path / "nothing.png"))
        assert "there is no such file" in here.words()
        await answer(here, str(source))
        await here.type("hose")
        await answer(here, "")
        await kept(here)
    (photo,) = photos(busy.shop, busy.card)
    assert photo.of == "finding: hose perished"


async def test_what_is_no_picture_is_refused_in_words(busy: Busy, tmp_path: Path) -> None:
    (tmp_path / "x.jpg").write_text("no picture", encoding="utf-8")
    async with standing(busy) as here:
        await here.press("p")
        await here.type("add one")
        await answer(here, str(tmp_path / "x.jpg"))
        await here.press("enter")
        await answer(here, "")
        for _ in range(200):
            if "is no picture" in here.says:
                break
            await here.pilot.pause(0.02)
        assert "x.jpg is no picture" in here.says
    assert photos(busy.shop, busy.card) == ()


def keep(busy: Busy, path: Path, caption: str = "") -> None:
    keep_photo(busy.shop, path, by=2, card_id=busy.card, number="J00001", caption=caption)


async def look(here: Standing) -> None:
    await here.press("p")
    await here.type("look at them")
    assert isinstance(here.app.screen, PhotosScreen)
    await here.settle()


async def test_a_photo_is_shown(busy: Busy, tmp_path: Path, no_terminal: None) -> None:
    keep(busy, picture(tmp_path / "a.jpg"), "a red square")
    async with standing(busy) as here:
        await look(here)
        await here.press("enter")
        assert isinstance(here.app.screen, ShowPhoto)
        assert here.app.screen.query("#picture")
        assert "a red square" in here.words()
        await here.press("escape")
        await here.press("o")
        await answer(here, "blurred")
        assert photos(busy.shop, busy.card) == ()
        assert "No photo is on this card" in here.words()


async def test_a_damaged_photo_is_told_by_its_path(busy: Busy, tmp_path: Path, no_terminal: None) -> None:
    (tmp_path / "a.jpg").write_bytes(b"\xff\xd8\xff\xe0" + b"rubbish" * 40)
    keep(busy, tmp_path / "a.jpg")
    async with standing(busy) as here:
        await look(here)
        await here.press("enter")
        assert isinstance(here.app.screen, ShowPhoto)
        assert not here.app.screen.query("#picture")
        assert "It cannot be shown in this terminal." in here.words()
        assert "J00001-" in here.words()


async def test_without_the_library_the_path_is_told(
    busy: Busy, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shopcli.screens.photo_view.find_spec", lambda _name: None)
    monkeypatch.delitem(sys.modules, "textual_image.widget", raising=False)
    keep(busy, picture(tmp_path / "a.jpg"))
    async with standing(busy) as here:
        await look(here)
        await here.press("enter")
        assert "It cannot be shown in this terminal." in here.words()


async def test_a_file_that_is_gone_is_said(busy: Busy, tmp_path: Path) -> None:
    keep(busy, picture(tmp_path / "a.jpg"))
    photos(busy.shop, busy.card)[0].path.unlink()
    async with standing(busy) as here:
        await look(here)
        assert "! the file is gone" in here.words()


async def test_odd_captions_are_shown_not_obeyed(busy: Busy, tmp_path: Path) -> None:
    for number, text in enumerate(HOSTILE):
        keep(busy, picture(tmp_path / f"{number}.png", "PNG", (number, 0, 0)), text[:190])
    async with standing(busy, size=SMALL) as here:
        await look(here)
        assert "[/oops]" in here.words()


def test_pictures_are_read_upright_and_small(tmp_path: Path) -> None:
    from PIL import Image

    large = Image.new("RGB", (4000, 3000))
    exif = large.getexif()
    exif[0x0112] = 6  # turned a quarter: EXIF 2.3, tag Orientation
    large.save(tmp_path / "a.jpg", exif=exif)
    read = read_picture(tmp_path / "a.jpg")
    assert read is not None
    assert read.height > read.width
    assert max(read.size) <= 1600
    assert read_picture(tmp_path / "none.jpg") is None


def test_ages_are_said_as_one_remembers() -> None:
    assert [photographing.age(s) for s in (0, 59, 60, 3599, 3600, 86400)] == [
        "just now",
        "just now",
        "1 min ago",
        "59 min ago",
        "1 h ago",
        "1 d ago",
    ]


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
def test_the_photos_of_a_card(
    busy: Busy, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, snap_compare, size: tuple[int, int]
) -> None:
    monkeypatch.chdir(tmp_path)  # a path that is the same on every machine
    busy.shop.settings = SETTINGS._replace(photos_kept="photos")
    task = busy.task("bench-test:set-gap").id
    keep_photo(
        busy.shop, _flat(tmp_path, 1), by=2, card_id=busy.card, number="J00001", task_id=task, caption="burnt"
    )
    keep_photo(busy.shop, _flat(tmp_path, 2), by=3, card_id=busy.card, number="J00001")
    app = ShopApp(busy.shop, person(busy.shop, "Tom"), card_id=busy.card)

    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)
        app.push_screen(PhotosScreen(busy.card, "J00001"))
        await still(pilot)

    assert snap_compare(app, terminal_size=size, run_before=stand)


def _flat(folder: Path, number: int) -> Path:
    """Write a picture whose bytes, and so its name, are the same on every machine."""
    path = folder / f"{number}.gif"
    path.write_bytes(b"GIF89a\x01\x00\x01\x00\x80\x00\x00\xff\xff\xff" + bytes([number]) + b"\x00\x00;")
    return path
