"""Photos into the shop's own folder: by content and not by name, no larger than allowed, under a name of our own."""

import os
import time
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from shopcli.cli import main
from shopcli.errors import BadInput, NotFound, Refused, StoreTrouble
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import AddFinding, AddPhoto, RemovePhoto
from shopcli.shop.photo_names import KINDS, safe_name
from shopcli.store.photos import keep_photo, kind_of, newest, path_of, photos_folder
from shopcli.store.reads.photos import photos
from tests.conftest import SETTINGS, Busy


def picture(path: Path, kind: str = "JPEG", colour: tuple[int, int, int] = (200, 40, 40)) -> Path:
    out = BytesIO()
    Image.new("RGB", (24, 16), colour).save(out, kind)
    path.write_bytes(out.getvalue())
    return path


def keep(busy: Busy, path: Path, **more: object) -> str:
    keep_photo(busy.shop, path, by=busy.people["Tom"], card_id=busy.card, number="J00001", **more)  # type: ignore[arg-type]
    return photos(busy.shop, busy.card)[-1].file


@pytest.mark.parametrize(
    ("kind", "ending"), [("JPEG", "jpg"), ("PNG", "png"), ("WEBP", "webp"), ("GIF", "gif")]
)
def test_a_photo_is_copied_and_noted(busy_shop: Busy, tmp_path: Path, kind: str, ending: str) -> None:
    source = picture(tmp_path / "IMG 0001 [front].bin", kind)
    task = busy_shop.task("points:set-gap")
    name = keep(busy_shop, source, task_id=task.id, caption="the gap")
    assert name.startswith("J00001-")
    assert name.endswith(f".{ending}")
    (view,) = photos(busy_shop.shop, busy_shop.card)
    assert (view.of, view.caption, view.by, view.there) == (
        f"task: {task.task.title}",
        "the gap",
        "Tom",
        True,
    )
    assert view.path.read_bytes() == source.read_bytes()
    assert view.path.parent == photos_folder(busy_shop.shop) == tmp_path / "shop-photos"
    assert sorted(p.name for p in view.path.parent.iterdir()) == [name], "no draft is left"


def test_a_photo_of_a_finding_is_kept_in_the_finding_too(busy_shop: Busy, tmp_path: Path) -> None:
    finding = busy_shop.do(AddFinding(busy_shop.card, "front", "hose perished", "stop")).id  # type: ignore[attr-defined]
    name = keep(busy_shop, picture(tmp_path / "a.jpg"), finding_id=finding)
    assert busy_shop.shop.fetch("SELECT photo FROM finding") == [(name,)]
    done = busy_shop.do(RemovePhoto(photos(busy_shop.shop, busy_shop.card)[0].id, "the wrong car"))
    assert any("stays in the shop's folder" in line for line in done.said), "and says so"
    assert busy_shop.shop.fetch("SELECT photo FROM finding") == [("",)]
    assert photos(busy_shop.shop, busy_shop.card) == ()
    assert path_of(busy_shop.shop, name).is_file(), "the file stays"


@pytest.mark.parametrize(
    "content",
    [b"", b"#!/bin/sh\nrm -rf /\n", b"<svg onload='x'/>", b"%PDF-1.7", b"\xff\xd8", b"GIF90a" + bytes(40)],
)
def test_only_pictures_by_their_content(busy_shop: Busy, tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "looks-like.jpg"
    path.write_bytes(content)
    with pytest.raises(BadInput, match="is no picture"):
        keep(busy_shop, path)
    assert not photos_folder(busy_shop.shop).exists()


def test_a_photo_too_large_is_refused(busy_shop: Busy, tmp_path: Path) -> None:
    busy_shop.shop.settings = SETTINGS._replace(photo_most_mb=1)
    path = picture(tmp_path / "big.jpg")
    with path.open("ab") as file:
        file.truncate((1 << 20) + 1)
    with pytest.raises(BadInput, match="larger than 1 MB"):
        keep(busy_shop, path)


def test_what_is_no_file_is_refused(busy_shop: Busy, tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="there is no file"):
        keep(busy_shop, tmp_path / "none.jpg")
    with pytest.raises((StoreTrouble, BadInput)):
        keep(busy_shop, tmp_path)
    with pytest.raises(BadInput, match="is no file"):
        keep(busy_shop, Path("/dev/zero"))


@pytest.mark.parametrize(
    "name",
    [
        "../../etc/passwd.jpg",
        "a/b.jpg",
        "..\\x.jpg",
        ".hidden.jpg",
        "x.jpg\n",
        "x.py",
        "x" * 99 + ".jpg",
        "J1.png",
    ],
)
def test_a_record_never_names_a_path(busy_shop: Busy, name: str) -> None:
    with pytest.raises(BadInput, match="no photo of the shop's folder"):
        busy_shop.do(AddPhoto(busy_shop.card, name, "jpeg", 1))


@given(st.text(max_size=60))
def test_a_safe_name_stays_in_its_folder(name: str) -> None:
    if safe_name(name):
        assert Path(name).name == name
        assert (Path("/a") / name).resolve().parent == Path("/a")
        assert name.rpartition(".")[2] in KINDS.values()


def test_a_refused_photo_leaves_no_file(busy_shop: Busy, tmp_path: Path) -> None:
    path = picture(tmp_path / "a.jpg")
    with pytest.raises(NotFound):
        keep(busy_shop, path, task_id=9999)
    assert list(photos_folder(busy_shop.shop).iterdir()) == []
    keep(busy_shop, path)
    with pytest.raises(Refused, match="there already"):
        keep(busy_shop, path)
    assert len(list(photos_folder(busy_shop.shop).iterdir())) == 1, "the one that is kept stays"


def test_an_odd_card_number_makes_a_plain_name(busy_shop: Busy, tmp_path: Path) -> None:
    path = picture(tmp_path / "a.jpg")
    keep_photo(busy_shop.shop, path, by=2, card_id=busy_shop.card, number="../J 1/[x]")
    assert photos(busy_shop.shop, busy_shop.card)[0].file.startswith("J-1-x-")


def test_the_newest_of_the_watched_folder_are_offered(busy_shop: Busy, tmp_path: Path) -> None:
    assert newest(busy_shop.shop) == ()
    watched = tmp_path / "camera"
    watched.mkdir()
    busy_shop.shop.settings = SETTINGS._replace(photo_folder=str(watched))
    for age, name in enumerate(("new.jpg", "older.png", "old.jpg")):
        path = picture(watched / name)
        os.utime(path, (time.time() - age * 60, time.time() - age * 60))
    (watched / "note.txt").write_text("no picture", encoding="utf-8")
    (watched / "link.jpg").symlink_to(watched / "new.jpg")
    assert [o.path.name for o in newest(busy_shop.shop)] == ["new.jpg", "older.png", "old.jpg"]
    assert [o.path.name for o in newest(busy_shop.shop, 1)] == ["new.jpg"]
    busy_shop.shop.settings = SETTINGS._replace(photo_folder=str(tmp_path / "gone"))
    with pytest.raises(StoreTrouble, match="cannot be read"):
        newest(busy_shop.shop)


def test_a_photo_is_taken_back(busy_shop: Busy, tmp_path: Path) -> None:
    keep(busy_shop, picture(tmp_path / "a.jpg"))
    busy_shop.do(TakeBack(busy_shop.shop.fetch("SELECT MAX(id) FROM journal")[0][0]))
    assert photos(busy_shop.shop, busy_shop.card) == ()


def test_kinds_are_told_by_their_first_bytes() -> None:
    assert kind_of(b"\x00\x00\x00\x18ftypheic" + bytes(20)) == "heic"
    assert kind_of(b"RIFF\x00\x00\x00\x00WEBPVP8 ") == "webp"
    assert kind_of(b"RIFF\x00\x00\x00\x00WAVEfmt ") is None


Run = Callable[..., tuple[int, str, str]]


def test_photos_by_commands(
    busy_shop: Busy, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    watched = tmp_path / "camera"
    watched.mkdir()
    (tmp_path / "s.toml").write_text(f"photo_folder = '{watched}'\n", encoding="utf-8")
    monkeypatch.setenv("SHOPCLI_DB", str(busy_shop.shop.place.file))
    monkeypatch.setenv("SHOPCLI_SETTINGS", str(tmp_path / "s.toml"))
    monkeypatch.setenv("SHOPCLI_BY", "Tom")

    def run(*words: str) -> tuple[int, str, str]:
        status = main(words)
        out = capsys.readouterr()
        return status, out.out, out.err

    assert run("photos", "1")[1] == "No photo is on this card.\n"
    assert "no new photo" in run("photo", "1")[2]
    picture(watched / "a.jpg")
    assert run("photo", "1", "--task", "set-gap", "--caption", "as found")[1].startswith(
        "Photo kept: J00001-"
    )
    out = run("photos", "1")[1]
    assert "as found" in out
    assert str(tmp_path / "shop-photos") in out
    assert '"kind": "jpeg"' in run("photos", "1", "--json")[1]
    assert run("photo", "1", str(tmp_path / "none.jpg"))[0] == 2
    assert "taken off" in run("photo-remove", "1", "J00001", "blurred")[1]
