"""The bench sheet and the squares by commands: printed, written, refused with a way out."""

from pathlib import Path

import pypdfium2

from tests.cli.conftest import Run


def test_the_sheet_is_printed_in_the_units_of_who_asks(run: Run) -> None:
    status, out, _ = run("bench-sheet", "1")
    assert status == 0
    assert "14 to 18 thou" in out
    assert "█" in out
    assert "0.35 to 0.45 mm" in run("bench-sheet", "1", "--by", "Nell")[1]
    plain = run("bench-sheet", "1", "--ascii")[1]
    assert "##" in plain
    assert not set("█▀▄✓▸◦") & set(plain)


def test_the_sheet_is_written(run: Run, tmp_path: Path) -> None:
    pdf, text = tmp_path / "sheet.pdf", tmp_path / "sheet.txt"
    assert run("bench-sheet", "1", "--pdf", str(pdf))[1] == f"Written: {pdf}\n"
    assert "LRK 120" in pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()
    run("bench-sheet", "1", "--out", str(text))
    assert "BENCH SHEET J00001" in text.read_text(encoding="utf-8")
    assert run("bench-sheet", "1", "--pdf", str(tmp_path / "no" / "x.pdf"))[0] == 2
    assert run("bench-sheet", "1", "--pdf", str(pdf), "--out", str(text))[0] == 2


def test_squares_of_cards_and_parts(run: Run, tmp_path: Path) -> None:
    assert run("code", "1")[1].splitlines()[-1] == "%C%J00001"
    assert run("code", "t-002", "--part")[1].splitlines()[-1] == "%P%T-002"
    label = tmp_path / "label.svg"
    run("code", "T-002", "--part", "--svg", str(label))
    assert label.read_text(encoding="utf-8").startswith("<svg")
    assert "no part" in run("code", "X-9", "--part")[2]
