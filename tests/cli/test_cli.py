"""Every command over real records: what it prints, its exit status, and that a refusal says the way out."""

import json
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest

from shopcli.cli.parser import build_parser
from tests.cli.conftest import Run
from tests.conftest import Busy


@pytest.fixture
def run(run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """Return a runner of commands over the busy shop's records, with settings of their own."""
    (tmp_path / "s.toml").write_text(
        'shop_name = "Test Lane Motors"\nlabour_minor = 6000\n', encoding="utf-8"
    )
    monkeypatch.setenv("SHOPCLI_SETTINGS", str(tmp_path / "s.toml"))
    return run


def test_list_and_narrow(run: Run) -> None:
    status, out, _err = run("list")
    assert status == 0
    assert "Ada Lark" in out
    assert "LRK 120" in out
    assert "J00001" not in run("list", "nobody")[1]
    (row,) = json.loads(run("list", "--json")[1])
    assert (row["number"], row["tasks"], row["promised"]) == ("J00001", 20, "2026-11-27")


def test_show_gives_the_numbers_in_the_persons_units(run: Run) -> None:
    assert "14 to 18 thou" in run("show", "1")[1]
    assert "0.35 to 0.45 mm" in run("show", "1", "--by", "Nell")[1]
    data = json.loads(run("show", "J00001", "--json")[1])
    assert "oil-change:drain" in [task["task"]["key"] for task in data["tasks"]]


def test_new_for_a_stranger_and_for_a_known_car(run: Run) -> None:
    status, out, _err = run(
        *("new", "zzz 9", "--customer", "Zoe New", "--phone", "1", "--make", "Brindle", "--model", "1600"),
        *("--sheet", "demo-brindle-1600", "--for", "plugs-leads", "--odometer", "12", "--authority", "99.50"),
    )
    assert status == 0, out
    assert out.splitlines() == ["Zoe New added.", "ZZZ 9 added.", "Card J00002 opened."]
    assert run("new", "lrk 120", "--words", "Brakes squeal")[1].startswith("Card J00003 opened.")
    assert "ZZZ 9" in run("vehicles", "zzz")[1]
    assert "Zoe New" in run("customers", "zoe")[1]


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("new", "NEW 1"), "not known yet"),
        (("new", "LRK 120", "--for", "plug-leads"), "plugs-leads"),
        (("new", "LRK 120", "--authority", "lots"), "not an amount"),
        (("show", "J99999"), "no card"),
        (("reading", "1", "set-gap", "40 psi"), "psi measures pressure"),
        (("reading", "1", "set-gap", "40 lb"), "a length is wanted"),
        (("done", "1", "set-gap"), "still wants"),
        (("done", "1", "no such task"), "no task"),
        (("clock", "on"), "wants a card and a task"),
        (("clock", "off"), "not running"),
        (("leave-out", "1", "set-gap", " "), "needs a reason"),
        (("close", "1"), "cannot close"),
        (("waive", "1", "owed:7", "why not"), "hinders"),
        (("fit", "1", "flux capacitor"), "which part"),
        (("pay", "1", "-5"), "not an amount"),
        (("number", "LRK 120", "points_gap", "--nominal", "16 thou"), "document"),
    ],
)
def test_refusals_say_what_and_how(run: Run, words: tuple[str, ...], message: str) -> None:
    status, _out, err = run(*words)
    assert status == 2
    assert message in err


def test_the_bench_from_the_shell(run: Run) -> None:
    assert run("clock", "on", "1", "set-gap")[1] == "Clock running on 'Set the points gap'.\n"
    assert "Set the points gap" in run("clock", "show")[1]
    assert "in limits" in run("reading", "1", "set-gap", "16 thou")[1]
    assert "as found: out of limits, low" in run("reading", "1", "gap-found", "12 thou", "--found")[1]
    out = run("done", "1", "set-gap")[1]
    assert "Owed now: Check the dwell." in out
    assert run("leave-out", "1", "check-dwell", "meter away")[0] == 0
    assert run("take-back", "1", "check-dwell")[0] == 0
    assert "Finding kept" in run("finding", "1", "engine bay", "hose perished", "--bad", "watch")[1]
    assert (
        "kept for LRK 120"
        in run("number", "LRK 120", "dwell", "--low", "50 deg", "--high", "58 deg", "--document", "X")[1]
    )
    status, out, _err = run("check", "1")
    assert status == 1
    assert "owed:" in out
    assert json.loads(run("check", "1", "--json")[1])[0]["mend"]


def test_parts_and_money_from_the_shell(run: Run) -> None:
    assert "fitted by Tom" in run("fit", "1", "contact set")[1]
    assert run("price", "1", "contact set", "9.10")[1] == "contact set: 9.10 a pc.\n"
    assert "on order" in run("order", "1", "rotor")[1]
    assert "not used" in run("not-used", "1", "distributor cap")[1]
    assert "Deposit of 50.00 taken" in run("pay", "1", "50")[1]
    data = json.loads(run("summary", "1", "--json")[1])
    assert Decimal(data["totals"]["with_vat"]) == Decimal("10.92")
    assert Decimal(data["totals"]["due"]) == Decimal("-39.08")


def test_hold_go_on_and_close(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    from tests.shop.test_closing import settle_everything

    assert run("hold", "1", "waiting for parts")[0] == 0
    assert run("go-on", "1")[0] == 0
    settle_everything(busy_shop)
    assert run("check", "1")[0] == 0
    assert "invoice INV-000001" in run("close", "1")[1]
    file = tmp_path / "summary.html"
    assert run("summary", "1", "--html", "--out", str(file))[0] == 0
    assert file.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert run("summary", "1", "--out", str(tmp_path / "no" / "where.txt"))[0] == 2
    assert "Card J00001" in run("summary", "1")[1]


def test_templates_sheets_preview(run: Run) -> None:
    status, out, err = run("templates")
    assert status == 0, err
    assert "oil-change" in out
    assert "demo-lark-1200" in run("sheets")[1]
    assert "hands-on" in run("preview", "points", "--vehicle", "LRK 120")[1]
    assert "hands-on" in run("preview", "engine-service", "--sheet", "demo-corvane-24")[1]
    assert run("preview", "points", "--vehicle", "NO 1")[0] == 2


def test_hostile_text_never_drives_the_terminal(run: Run, busy_shop: Busy) -> None:
    from shopcli.shop.commands import OpenCard

    busy_shop.do(
        OpenCard(busy_shop.vehicle, words="a\x1b]0;owned\x07b \u202egnp.exe", title="[/oops] {{7*7}}")
    )
    for words in (("list",), ("show", "2"), ("summary", "2"), ("check", "2")):
        _status, out, err = run(*words)
        assert "\x1b" not in out + err
        assert "\u202e" not in out + err


def test_every_command_explains_itself() -> None:
    parser = build_parser()
    sub = next(a for a in parser._actions if a.dest == "handler" or a.choices)
    assert sub.choices
    for name, command in sub.choices.items():
        text = command.format_help()
        assert command.description, name
        assert "usage: " in text
        module, _, function = command.get_default("handler").partition(":")
        import importlib

        assert callable(getattr(importlib.import_module(f"shopcli.cli.{module}"), function)), name


def test_without_a_terminal_the_application_says_what_to_do(run: Run) -> None:
    status, _out, err = run()
    assert status == 2
    assert "needs a terminal" in err


def test_a_reader_that_goes_away_is_no_error(busy_shop: Busy) -> None:
    command = f"{sys.executable} -m shopcli --db {busy_shop.shop.place.file} templates | head -1"
    out = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {command}"], capture_output=True, text=True, check=False
    )
    assert out.stderr == ""
