"""Sheets and numbers from the shell: made, entered, confirmed, withdrawn, shown in layers, out to a table and in again."""

import io
import json
import sys
from pathlib import Path

import pytest

from shopcli.worklists.library import Library
from tests.cli.conftest import Run
from tests.stations.build import HOSTILE

BOOK = ("--document", "Lark handbook", "--page", "12")


@pytest.fixture
def run(run: Run, library: Library, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return a runner of commands over the busy shop's records, with an own sheet in them.

    The files of the library are read once for all commands, not once for each.
    """
    monkeypatch.setattr("shopcli.worklists.load.load_library", lambda *_folders: library)
    made = run(
        "sheet-make", "mk2", "--title", "Lark mark 2", "--under", "flat-four-air", "--fact", "volts=12"
    )
    assert made[0] == 0
    return run


def test_a_number_from_sheet_to_vehicle(run: Run) -> None:
    status, out, _ = run("number", "mk2", "points_gap", "--printed", "0.35 to 0.45 mm", *BOOK)
    assert (status, out) == (0, "points gap: kept on the sheet mk2.\n")
    assert run("facts", "LRK 120", "--sheet", "mk2")[0] == 0
    status, out, _ = run(
        "number", "LRK 120", "points_gap", "--low", "0.50", "--high", "0.60", "--unit", "mm", *BOOK
    )
    assert "! mk2 says 0.35 to 0.45 mm" in out
    out = run("numbers", "lrk 120", "points_gap")[1]
    assert "layers: LRK 120 over mk2 over flat-four-air over general" in out
    assert [" ".join(line.split()) for line in out.splitlines()[3:]] == [
        "≠ points_gap 0.50 mm to 0.60 mm handbook: Lark handbook, page 12, by Tom, "
        + _today(out)
        + " LRK 120",
        "differs: 0.35 mm to 0.45 mm handbook: Lark handbook, page 12, by Tom, " + _today(out) + " mk2",
        "hidden: 16 thou (0.4 mm) practice flat-four-air",
    ]
    data = json.loads(run("numbers", "LRK 120", "points_gap", "--json")[1])
    (number,) = data["numbers"]
    assert [one["layer"]["name"] for one in number["layers"]] == ["LRK 120", "mk2", "flat-four-air"]
    assert [one["layer"]["name"] for one in number["against"]] == ["mk2"]


def _today(out: str) -> str:
    return out.split("by Tom, ")[1][:10]


def test_confirm_history_and_withdraw(run: Run) -> None:
    assert "practice" in run("numbers", "mk2", "points")[1]
    assert "needs its document" in run("number", "mk2", "points_gap", "--confirm")[2]
    assert run("number", "mk2", "points_gap", "--confirm", *BOOK)[0] == 0
    assert run("number", "mk2", "points_gap", "--printed", "15 thou", "--why", "page 13", *BOOK)[0] == 0
    out = run("numbers", "mk2", "--history", "points_gap")[1]
    assert "page 13" in out
    assert "16 thou" in out
    entries = json.loads(run("numbers", "mk2", "--history", "points_gap", "--json")[1])
    assert [e["printed"]["nominal"] for e in entries] == ["15 thou", "16 thou"]
    assert run("withdraw", "mk2", "points_gap", "a misprint")[1] == "points gap: withdrawn.\n"
    assert "no such entry" in run("withdraw", "mk2", "points_gap", "again")[2]
    assert run("withdraw", "mk2", "points_gap", "of the mark 1", "--entry", str(entries[1]["row"]))[0] == 0
    assert "withdrawn: of the mark 1" in run("numbers", "mk2", "--history", "points_gap")[1]


def test_sheets_and_facts(run: Run) -> None:
    assert run("sheet-change", "mk2", "--title", "Lark, late", "--fact", "earth=positive")[0] == 0
    data = json.loads(run("facts", "mk2", "--json")[1])
    assert data["own"] == {"earth": "positive", "volts": "12"}
    assert data["inherited"]["layout"] == "flat four"
    assert run("facts", "mk2", "--fact", "earth=")[0] == 0
    assert json.loads(run("facts", "mk2", "--json")[1])["own"] == {"volts": "12"}
    assert run("facts", "LRK 120", "--fact", "heads=iron")[0] == 0
    assert "heads" in run("facts", "LRK 120")[1]
    assert "mk2" in run("sheets")[1]
    assert "moon" in run("number", "mk2", "moon", "--printed", "3 thou", "--quantity", "length", *BOOK)[1]
    assert "moon" in run("numbers", "mk2", "moon")[1]


REFUSED = [
    (("numbers", "nowhere"), "no sheet and no vehicle"),
    (("number", "general", "points_gap", "--low", "1 mm"), "is a shipped sheet"),
    (("number", "mk2", "points_gap", "--printed", "40 psi", *BOOK), "pressure"),
    (("number", "mk2", "moon", "--printed", "40 psi", *BOOK), "no sheet knows"),
    (("number", "mk2", "points_gap", "--low", "1 mm", "--document", "x"), "needs its page"),
    (("numbers", "mk2", "--history", "moon"), "no number is called"),
    (("sheet-make", "mk2", "--title", "x"), "there already"),
    (("sheet-make", "a", "--title", "x", "--fact", "volts"), "is no fact"),
    (("sheet-change", "LRK 120", "--title", "x"), "is a vehicle"),
    (("facts", "general", "--fact", "volts=6"), "is a shipped sheet"),
    (("table-in", "general", "-"), "is a shipped sheet"),
    (("table-in", "mk2", "/nowhere/x.csv"), "cannot read"),
    (("table-out", "mk2", "--out", "/nowhere/x.csv"), "cannot write"),
]


def test_refusals_say_what_and_how(run: Run) -> None:
    for words, message in REFUSED:
        status, _out, err = run(*words)
        assert (status, message in err) == (2, True), err


# Tables -----------------------------------------------------------------------------------------------------


def test_a_table_goes_out_and_comes_in_exactly(run: Run, tmp_path: Path) -> None:
    run(
        "number",
        "mk2",
        "points_gap",
        "--printed",
        '.014" to .018" (0.35 to 0.45 mm)',
        "--note",
        "=1+1",
        *BOOK,
    )
    run("number", "mk2", "intake_vacuum", "--printed", "-430 mmHg", "--state", "hot", "--from", "measured")
    run(
        "number",
        "mk2",
        "moon",
        "--printed",
        "3",
        "--unit",
        "thou",
        "--quantity",
        "length",
        "--label",
        "@moon",
        *BOOK,
    )
    file = tmp_path / "mk2.csv"
    assert run("table-out", "mk2", "--out", str(file))[0] == 0
    text = file.read_bytes().decode()
    assert text == run("table-out", "mk2")[1].replace("\n", "\r\n").replace("\r\r\n", "\r\n")
    assert "'-430 mmHg" in text
    assert "'=1+1" in text
    run("sheet-make", "copy", "--title", "Copy", "--under", "flat-four-air")
    status, out, err = run("table-in", "copy", str(file))
    assert (status, "Only looked at" in err, out.count(" new ")) == (0, True, 3)
    assert run("table-out", "copy")[1].count("\n") == 1, "a look keeps nothing"
    assert run("table-in", "copy", str(file), "--write")[0] == 0
    assert run("table-out", "copy", "--out", str(tmp_path / "copy.csv"))[0] == 0
    assert (tmp_path / "copy.csv").read_bytes() == file.read_bytes()
    again = json.loads(run("table-in", "copy", str(file), "--write", "--json")[1])
    assert {line["outcome"] for line in again["lines"]} == {"same"}
    rows = json.loads(run("numbers", "copy", "--history", "points_gap", "--json")[1])
    assert len(rows) == 1, "taken in twice it is there once"


def test_a_wrong_line_is_named_and_nothing_is_kept(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "in.csv"
    file.write_text(
        "name,nominal,unit,from,document,page\n"
        "points_gap,0.40,mm,handbook,Lark,12\n"
        "plug_gap,40 psi,,handbook,Lark,12\n"
        "moon_gap,1 mm,,handbook,Lark,12\n"
        "points_gap,0.45,mm,handbook,Lark,13\n"
        "idle_speed,800 rpm,,hearsay,,\n",
        encoding="utf-8",
    )
    status, out, err = run("table-in", "mk2", str(file), "--write")
    assert status == 1
    assert "Nothing was kept" in err
    found = [" ".join(line.split())[:34].strip() for line in out.splitlines()[1:]]
    assert found == [
        "2 points_gap new points gap: kept",
        "3 plug_gap wrong psi measures pres",
        "4 moon_gap wrong no sheet knows a",
        "5 wrong names points_gap again, li",
        "6 idle_speed wrong 'hearsay' is no",
    ]
    assert run("table-out", "mk2")[1].count("\n") == 1
    file.write_text(
        "name,nominal,from,document,page\npoints_gap,0.40 mm,handbook,Lark,12\n", encoding="utf-8"
    )
    assert run("table-in", "mk2", str(file), "--write")[0] == 0
    file.write_text(
        "name,nominal,from,document,page\npoints_gap,0.42 mm,handbook,Lark,13\n", encoding="utf-8"
    )
    assert " changed " in run("table-in", "mk2", str(file), "--write")[1]


def test_a_table_from_standard_input_and_one_that_is_not_text(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def give(data: bytes) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))

    give("\ufeffname;nominal;from\npoints_gap;0,4 mm;plate\n".encode())
    assert run("table-in", "LRK 120", "-", "--write")[0] == 0
    assert "0,4 mm" in run("table-out", "LRK 120")[1]
    give(b"name,nominal\npoints_gap,\xff\n")
    assert "line 2" in run("table-in", "mk2", "-")[2]
    give(b"cheese\n")
    assert "no column" in run("table-in", "mk2", "-")[2]


@pytest.mark.parametrize("text", HOSTILE, ids=["markup", "right to left", "controls", "wide", "endless"])
def test_hostile_text_never_drives_the_terminal(run: Run, text: str, tmp_path: Path) -> None:
    text = text.replace("\x00", "")
    run(
        "number",
        "mk2",
        "points_gap",
        "--low",
        "1 mm",
        "--note",
        text[:300],
        "--document",
        text[:100],
        "--page",
        "1",
    )
    file = tmp_path / "hostile.csv"
    cell = text.replace('"', "'")
    file.write_text(
        f'name,nominal,label,from,note\nplug_gap,"{cell}","{cell}","{cell}","{cell}"\n', encoding="utf-8"
    )
    said = "".join("".join(run(*words)[1:]) for words in (
        ("numbers", "mk2"),
        ("numbers", "mk2", "--history", "points_gap"),
        ("numbers", text),
        ("facts", "mk2", "--fact", f"heads={text}"),
        ("sheet-make", "x", "--title", text),
        ("table-in", "mk2", str(file), "--write"),
        ("withdraw", "mk2", "points_gap", text),
    ))  # fmt: skip
    assert not {"\x1b", "\u202e", "\x07"} & set(said)
