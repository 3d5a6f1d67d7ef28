"""Copies while others write, the oldest thrown away; and the drill: what was lost is there again."""

import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shopcli.errors import BadInput, Refused, StoreTrouble
from shopcli.shop.commands import AddCustomer
from shopcli.store.place import Place, find_place
from shopcli.store.shop import Shop, open_shop
from shopcli.store.whole.backups import back_up, backups, due, restore, usual_folder
from shopcli.store.whole.examining import examine
from shopcli.store.whole.moving import first_difference
from shopcli.store.whole.written import lines
from tests.conftest import SETTINGS, Clock

HELD_OPEN = """
import sqlite3, sys
connection = sqlite3.connect(sys.argv[1])
connection.execute("SELECT COUNT(*) FROM card").fetchall()
print("open", flush=True)
sys.stdin.read()
"""
NOW = datetime(2026, 11, 26, 18, 0, tzinfo=UTC)


def place_of(file: Path) -> Place:
    return find_place(str(file))


def test_the_newest_copies_stay(whole: Shop, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    folder.mkdir()
    (folder / "notes.txt").write_text("ours")
    (folder / "shop-by-hand.db").write_text("not one of them")
    made = [back_up(whole.place, folder, NOW + timedelta(hours=n), keep=3) for n in range(5)]
    assert backups(folder, "shop") == made[:1:-1]
    assert sorted(f.name for f in folder.iterdir()) == sorted(
        ["notes.txt", "shop-by-hand.db", *(f.name for f in made[2:])]
    )
    assert first_difference(place_of(made[-1]), whole.place) == ""


def test_when_a_copy_is_due(whole: Shop, tmp_path: Path) -> None:
    assert whole.place.file
    folder = usual_folder(whole.place)
    assert folder == whole.place.file.parent / "backups"
    assert due(whole.place, folder, NOW, 24)
    assert not due(whole.place, folder, NOW, 0), "never by itself"
    back_up(whole.place, folder, NOW, keep=3)
    assert not due(whole.place, folder, NOW + timedelta(hours=23), 24)
    assert due(whole.place, folder, NOW + timedelta(hours=24), 24)
    assert due(whole.place, folder, NOW - timedelta(hours=1), 24), (
        "a clock set back is no reason to wait for it"
    )


def test_a_copy_taken_while_others_write_is_whole(whole: Shop, tmp_path: Path) -> None:
    end = threading.Event()

    def write() -> None:
        number = 0
        while not end.is_set():
            number += 1
            whole.do(AddCustomer(f"Customer {number}", "01632 960000"), by=1)

    writer = threading.Thread(target=write)
    writer.start()
    try:
        made = [back_up(whole.place, tmp_path / "copies", NOW + timedelta(hours=n), keep=9) for n in range(6)]
    finally:
        end.set()
        writer.join()
    counts = []
    for file in made:
        there = open_shop(str(file), settings=SETTINGS)
        assert examine(there) == ()
        counts.append(there.fetch("SELECT COUNT(*) FROM customer")[0][0])
        there.close()
    assert counts == sorted(counts)
    assert counts[-1] > 1


def test_the_drill(whole: Shop, tmp_path: Path) -> None:
    assert whole.place.file
    copy = back_up(whole.place, tmp_path / "copies", NOW, keep=3)
    then = list(lines(whole.place))
    whole.do(AddCustomer("Entered after it"), by=1)
    later = list(lines(whole.place))
    whole.close()
    kept = restore(copy, whole.place, NOW)
    assert list(lines(whole.place)) == then
    assert kept
    assert list(lines(place_of(kept))) == later, "what was there is not lost"
    again = open_shop(str(whole.place.file), settings=SETTINGS, now=Clock())
    assert examine(again) == ()
    again.do(AddCustomer("Entered after the drill"), by=1)
    again.close()


def test_lines_restore_as_well(whole: Shop, tmp_path: Path) -> None:
    told = list(lines(whole.place))
    file = tmp_path / "shop.jsonl"
    file.write_text("".join(f"{line}\n" for line in told), encoding="utf-8")
    whole.close()
    assert restore(file, whole.place, NOW)
    assert list(lines(whole.place)) == told


def test_a_server_is_copied_as_lines(whole: Shop, postgres_url: str, tmp_path: Path) -> None:
    from shopcli.store.whole.moving import move
    from shopcli.store.whole.written import read_in

    server = find_place(postgres_url)
    move(whole.place, server)
    copy = back_up(server, tmp_path / "copies", NOW, keep=3)
    assert copy.suffix == ".jsonl"
    assert backups(copy.parent, "server") == [copy]
    with pytest.raises(Refused, match="not replaced by a file"):
        restore(copy, server, NOW)
    with copy.open(encoding="utf-8") as source:
        read_in(place_of(tmp_path / "again.db"), source)
    assert first_difference(place_of(tmp_path / "again.db"), whole.place) == ""


def cut_short(file: Path) -> None:
    file.write_bytes(file.read_bytes()[: 4096 * 20])


def another_page(file: Path) -> None:
    data = bytearray(file.read_bytes())
    for at in range(4096 * 8, len(data), 4096 * 2):
        data[at : at + 900] = b"\xa5" * 900
    file.write_bytes(data)


def a_letter(file: Path) -> None:
    file.write_text("Dear Ada")


def newer(file: Path) -> None:
    with closing(sqlite3.connect(file)) as there:
        there.execute("UPDATE alembic_version SET version_num = '9999'")
        there.commit()


@pytest.mark.parametrize("spoil", [cut_short, another_page, a_letter, newer])
def test_a_spoilt_copy_is_refused_and_nothing_changes(
    whole: Shop, tmp_path: Path, spoil: Callable[[Path], None]
) -> None:
    assert whole.place.file
    copy = back_up(whole.place, tmp_path / "copies", NOW, keep=3)
    spoil(copy)
    before, here = list(lines(whole.place)), sorted(whole.place.file.parent.iterdir())
    whole.close()
    with pytest.raises((StoreTrouble, BadInput)):
        restore(copy, whole.place, NOW)
    assert list(lines(whole.place)) == before
    assert [f for f in sorted(whole.place.file.parent.iterdir()) if f not in here] == []


def test_records_open_elsewhere_are_not_replaced(whole: Shop, tmp_path: Path) -> None:
    assert whole.place.file
    copy = back_up(whole.place, tmp_path / "copies", NOW, keep=3)
    whole.do(AddCustomer("Entered after it"), by=1)
    before = list(lines(whole.place))
    held = subprocess.Popen(
        [
            sys.executable,
            "-c",
            HELD_OPEN,
            str(whole.place.file),
        ],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert held.stdout
        assert held.stdout.readline() == "open\n"
        with pytest.raises(Refused, match="open at another terminal"):
            restore(copy, whole.place, NOW)
        assert list(lines(whole.place)) == before
    finally:
        held.communicate("")
    whole.close()
    assert restore(copy, whole.place, NOW)


def test_there_is_no_such_copy(whole: Shop, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no file"):
        restore(tmp_path / "none.db", whole.place, NOW)


def test_a_folder_that_cannot_be_written_is_told(whole: Shop, tmp_path: Path) -> None:
    (tmp_path / "copies").write_text("a file, not a folder")
    with pytest.raises(StoreTrouble):
        back_up(whole.place, tmp_path / "copies", NOW, keep=3)
