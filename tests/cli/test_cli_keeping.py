"""Keeping the records safe from the shell: examined, copied, restored, written out, read in, moved."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

from shopcli.shop.commands import AddCustomer
from shopcli.store.place import find_place
from shopcli.store.whole.written import lines
from tests.cli.conftest import Run
from tests.conftest import Busy


def test_examine(run: Run, busy_shop: Busy) -> None:
    assert run("examine") == (0, "✓ Everything holds.\n", "")
    busy_shop.shop.close()
    with closing(sqlite3.connect(str(busy_shop.shop.place.file))) as file:
        file.execute("UPDATE part SET stock_milli = 1, name = name || char(27) WHERE id = 1")
        file.commit()
    status, out, _err = run("examine")
    assert status == 1
    assert "✗ stock: the shelf is the sum of its movements (1): 1, T-001" in out
    assert "Count the part" in out
    assert "\x1b" not in out
    status, out, _err = run("examine", "--json")
    assert status == 1
    assert [wrong["rows"] for wrong in json.loads(out)] == [1]


def test_back_up_and_restore(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    place = busy_shop.shop.place
    then = list(lines(place))
    status, out, _err = run("back-up", "--folder", str(tmp_path / "copies"))
    assert status == 0
    (copy,) = (tmp_path / "copies").iterdir()
    assert out == f"Copied: {copy}\n"
    busy_shop.do(AddCustomer("Entered after it"), "Dora")
    busy_shop.shop.close()
    status, out, _err = run("restore", str(copy))
    assert status == 0
    assert "What was there is kept: " in out
    assert list(lines(place)) == then
    status, _out, err = run("restore", str(tmp_path / "none.db"))
    assert status == 2
    assert "there is no file" in err


def test_write_out_and_read_in(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    file = tmp_path / "shop.jsonl"
    assert run("write-out", str(file)) == (0, f"Written: {file}\n", "")
    assert file.stat().st_mode & 0o777 == 0o600  # what PINs are told by is in it
    told = file.read_text(encoding="utf-8")
    assert run("write-out", "-")[1] == told
    assert "is there already" in run("write-out", str(file))[2]
    fresh = tmp_path / "fresh.db"
    status, out, _err = run("read-in", str(file), "--db", str(fresh))
    assert (status, out) == (0, f"Read in: {told.count(chr(10)) - 2} rows into {fresh}\n")
    assert "records already" in run("read-in", str(file), "--db", str(fresh))[2]
    assert "no file" in run("read-in", str(tmp_path / "none"), "--db", str(fresh))[2]
    (tmp_path / "odd").write_bytes(b"\xff\xfe\x00")
    status, _out, err = run("read-in", str(tmp_path / "odd"), "--db", str(tmp_path / "other.db"))
    assert status == 2
    assert "no written-out shop" in err


def test_move_to(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    target = tmp_path / "moved.db"
    status, out, _err = run("move-to", str(target))
    assert status == 0
    assert "every one compared" in out
    assert list(lines(find_place(str(target)))) == list(lines(busy_shop.shop.place))
    assert "records already" in run("move-to", str(target))[2]


def test_a_customers_data_is_shown_given_and_erased(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    busy_shop.do(AddCustomer("Bea Quick", "01632 960444", address="7 Quiet Row"), "Dora")
    assert "address: 7 Quiet Row" in run("customer-data", "quick")[1]
    shown = json.loads(run("customer-data", "quick", "--json")[1])
    assert [row["act"] for row in shown["journal"]] == ["AddCustomer"]
    file = tmp_path / "bea.json"
    assert run("customer-data", "Bea Quick", "--out", str(file))[1].startswith("Written: ")
    assert json.loads(file.read_text())["customer"][0]["phone"] == "01632 960444"
    assert run("customer-data", "Bea Quick", "--out", str(file))[0] == 2  # nothing is written over
    assert run("customer-data", "nobody here")[0] == 2
    reason = ("--reason", "asked in writing")
    assert "cannot be brought back" in run("erase", "Bea Quick", *reason, "--by", "Olive")[2]
    assert "for the owner, not for Tom" in run("erase", "Bea Quick", *reason, "--for-good")[2]
    status, out, _err = run("erase", "Bea Quick", *reason, "--for-good", "--by", "Olive")
    assert (status, "What lay there is overwritten." in out) == (0, True)
    assert run("customers", "quick")[1].strip() == "name  phone  vehicles"
    assert "What lay there is overwritten." in run("wipe")[1]
