"""Lists taken in from the shell."""

import json
from pathlib import Path

from tests.cli.conftest import Run
from tests.conftest import Busy


def test_a_list_is_looked_at_and_kept(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    file = tmp_path / "kunden.csv"
    file.write_text("Kunde;Tel\nBea Kestrel;01632 960311\n", encoding="utf-8-sig")
    words = ("list-in", "customers", str(file), "--column", "name=Kunde", "--column", "phone=Tel")
    status, out, err = run(*words)
    assert status == 0
    assert "Bea Kestrel" in out
    assert "Only looked at" in err
    assert run(*words, "--write")[1].endswith("Kept for the shop.\n")
    data = json.loads(run(*words, "--write", "--json")[1])
    assert [line["outcome"] for line in data["lines"]] == ["same"]
    assert busy_shop.shop.fetch("SELECT phone FROM customer WHERE name = 'Bea Kestrel'") == [
        ("01632 960311",)
    ]


def test_what_is_wrong_is_told(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "cars.csv"
    file.write_text("registration,make,customer\nZ 1,Lark,Nobody\n")
    status, out, err = run("list-in", "vehicles", str(file), "--write")
    assert status == 1
    assert "there is no customer" in out
    assert "Nothing was kept" in err
    assert "names no column" in run("list-in", "vehicles", str(file), "--column", "make")[2]
    file.write_bytes(b"registration\n\xff\n")
    assert "line 2" in run("list-in", "vehicles", str(file))[2]
