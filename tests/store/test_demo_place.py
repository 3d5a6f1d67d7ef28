"""Where the invented shop is made: never over somebody's records, never half."""

import os
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.shipped import shipped
from shopcli.shop.commands import AddCustomer
from shopcli.store import demo as making
from shopcli.store.demo import demo_file, demo_shop
from shopcli.store.shop import Shop

NOW = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)


@pytest.fixture
def small_story(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The sample data with a story of one card, so that what is tested here is quick."""
    folder = tmp_path / "sample"
    shutil.copytree(shipped("sample_data"), folder)
    story = folder / "story.toml"
    story.write_text(
        '[[card]]\ncar = "LRK 120"\njobs = ["oil-change"]\nopened = "-2 09:00 Maud"\nodometer = 1000\n'
        'told = """\n-1 09:00 Tom works until oil-change:drain\n"""\n',
        encoding="utf-8",
    )
    (folder / "stores.toml").write_text('told = ""\n', encoding="utf-8")
    monkeypatch.setattr(making, "shipped", lambda _name: folder)
    return story


def test_a_shop_of_somebody_is_never_overwritten(make_shop: Callable[..., Shop], tmp_path: Path) -> None:
    own = make_shop("own.db")
    own.close()
    before = (tmp_path / "own.db").read_bytes()
    with pytest.raises(Refused, match="is not a demo") as refused:
        demo_shop(tmp_path / "own.db", now=lambda: NOW)
    assert "another file" in refused.value.hint
    assert (tmp_path / "own.db").read_bytes() == before


def test_a_file_that_is_no_database_is_left_alone(tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear customer,\n")
    with pytest.raises(Refused, match="is not a demo"):
        demo_shop(letter, now=lambda: NOW)
    assert letter.read_text() == "Dear customer,\n"


def test_an_untouched_demo_is_made_again_and_a_used_one_is_kept(small_story: Path, tmp_path: Path) -> None:
    file = tmp_path / "demo.db"
    demo_shop(file, now=lambda: NOW).close()
    later = NOW + timedelta(days=30)
    shop = demo_shop(file, now=lambda: later)
    assert shop.local(shop.fetch("SELECT opened_at FROM card")[0][0]).month == 12
    shop.do(AddCustomer("Somebody new"), by=1)
    shop.close()
    with pytest.raises(Refused, match="worked in since") as refused:
        demo_shop(file, now=lambda: later)
    assert f"--db {file}" in refused.value.hint


def test_a_story_the_shop_refuses_is_named_and_leaves_nothing(small_story: Path, tmp_path: Path) -> None:
    text = small_story.read_text(encoding="utf-8")
    small_story.write_text(text.replace("drain\n", "drain\n-1 11:00 Maud closes\n"), encoding="utf-8")
    with pytest.raises(BadInput, match=r"LRK 120, '-1 11:00 Maud closes'.*sump dry"):
        demo_shop(tmp_path / "demo.db", now=lambda: NOW)
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith("demo.db")] == []


@pytest.mark.parametrize(
    ("line", "complaint"),
    [
        ("-1 09:00 Maud sweeps floor", "'sweeps' is unknown"),
        ("-1 09:00 Maud sends Nobody", "there is no supplier Nobody"),
        ("-1 09:00 Maud sends Fennick Oils", "there is no drafted order"),
        ("-1 09:00 Maud takes Fennick Oils | TL-1001 | 1", "there is no such part to come"),
        ("-1 09:00 Maud gives_back LRK 120 | dynamo", "there is no exchange unit"),
        ("-1 09:00 Maud returns TL-1001 | 500 | too many", "500 would go back"),
    ],
)
def test_what_makes_no_sense_in_the_stores_is_named(
    small_story: Path, tmp_path: Path, line: str, complaint: str
) -> None:
    small_story.with_name("stores.toml").write_text(f'told = """\n{line}\n"""\n', encoding="utf-8")
    with pytest.raises(BadInput, match=complaint):
        demo_shop(tmp_path / "demo.db", now=lambda: NOW)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("-1 11:00 Maud dances", "'dances' is unknown"),
        ("-1 11:00 Nobody closes", "nobody is called Nobody"),
        ("yesterday Maud closes", "cannot be read"),
        ("-1 12:00 Tom works until points:set-gap", "the work stops"),
        ("-1 12:00 Tom orders silver spoons", "wants no 'silver spoons'"),
        ("-1 12:00 Ivy signs", "nothing to sign"),
    ],
)
def test_a_line_that_makes_no_sense_is_named(line: str, says: str, small_story: Path, tmp_path: Path) -> None:
    text = small_story.read_text(encoding="utf-8")
    small_story.write_text(text.replace('"""\n-1', f'"""\n{line}\n-1'), encoding="utf-8")
    with pytest.raises(BadInput, match=says):
        demo_shop(tmp_path / "demo.db", now=lambda: NOW)


def test_an_unknown_key_of_a_card_is_named(small_story: Path, tmp_path: Path) -> None:
    text = small_story.read_text(encoding="utf-8")
    small_story.write_text(text.replace("odometer", "milage"), encoding="utf-8")
    with pytest.raises(BadInput, match="LRK 120 has milage"):
        demo_shop(tmp_path / "demo.db", now=lambda: NOW)


def test_the_shop_tells_the_time_it_was_given(small_story: Path, tmp_path: Path) -> None:
    shop = demo_shop(tmp_path / "demo.db", now=lambda: NOW)
    assert shop.now() == NOW
    assert shop.settings.shop_name == "Tallow Lane Motors"
    assert shop.fetch("SELECT DISTINCT promised FROM card") == [("",)]
    shop.close()


def test_throw_away_files_are_new_each_time_and_swept(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr("platformdirs.user_cache_path", lambda *_a, **_k: tmp_path / "cache")
    first = demo_file()
    assert first.parent == tmp_path / "cache" / "demo"
    second = demo_file()
    assert first != second
    assert first.exists()
    old = datetime.now(UTC).timestamp() - 3 * 24 * 3600
    os.utime(first, (old, old))
    keep = first.with_name("letter.txt")
    keep.write_text("mine")
    os.utime(keep, (old, old))
    demo_file()
    assert not first.exists()
    assert second.exists()
    assert keep.exists()
