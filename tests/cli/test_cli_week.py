"""The week from the shell: the page, a table, rows of a figure, files, a time taken over; who may see what."""

import csv
import json
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.conftest import Run


def test_the_report_of_this_week_is_printed_for_a_timer(run: Run) -> None:
    status, out, err = run("week", "--by", "Olive")
    assert (status, err) == (0, "")
    assert "2026-W48" in out
    for words in ("On Monday", "In figures", "Where cards wait", "When all that is booked in is done"):
        assert words in out
    assert max(map(len, out.splitlines())) <= 80
    assert run("week", "2026-W47", "--by", "Olive", "--weeks", "4", "--ascii")[1].isascii()


def test_money_and_hours_are_the_owners(run: Run) -> None:
    owner, mechanic = run("week", "--by", "Olive", "--full")[1], run("week", "--full")[1]
    assert "What came of it" in owner
    assert "What came of it" not in mechanic
    assert "By person" not in mechanic
    status, _out, err = run("week", "--rows", "invoiced")
    assert status == 2
    assert "for the owner" in err
    assert run("week", "--rows", "invoiced", "--by", "Olive")[0] == 0


def test_one_table_all_tables_and_their_names(run: Run, tmp_path: Path) -> None:
    out = run("week", "--table", "flow-weeks")[1].splitlines()
    assert len(out) == 14
    assert out[-1].split()[:2] == ["W48", "Mon"]
    status, _out, err = run("week", "--table", "list")
    assert status == 2
    assert "flow-weeks, " in err
    data = json.loads(run("week", "--json", "--by", "Olive")[1])
    assert data["weeks"] == ["2026-W48"]
    assert len(data["tables"]["flow-weeks"]) == 13
    assert run("week", "--csv", str(tmp_path), "--by", "Olive")[0] == 0
    rows = list(csv.DictReader((tmp_path / "2026-W48-flow-weeks.csv").read_text().splitlines()))
    assert rows[-1]["opened"] == str(data["tables"]["flow-weeks"][-1]["opened"]) == "1"
    assert len(list(tmp_path.glob("*.csv"))) == len(data["tables"])
    assert run("week", "--csv", str(tmp_path / "none"))[0] == 2


def test_the_rows_of_a_figure(run: Run) -> None:
    out = run("week", "--rows", "opened:2026-W48")[1]
    assert "J00001" in out
    assert "1 in all" in out
    status, _out, err = run("week", "--rows", "nonsense")
    assert status == 2
    assert "no figure" in err


def test_page_and_pdf_of_an_earlier_week(run: Run, tmp_path: Path) -> None:
    page, pdf = tmp_path / "w.html", tmp_path / "w.pdf"
    assert run("week", "-1", "--by", "Olive", "--html", str(page), "--pdf", str(pdf))[0] == 0
    assert "2026-W47" in page.read_text(encoding="utf-8")
    made = pypdfium2.PdfDocument(pdf.read_bytes())
    assert len(made) == 1
    made.close()


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("week", "2026-W60"), "not a week"),
        (("week", "soon"), "not a week"),
        (("week", "2026-W49"), "has not begun"),
        (("week", "--weeks", "0"), "0 weeks"),
        (("listed-time", "points", "much"), "not a factor"),
        (("listed-time", "points", "1.5"), "for the owner"),
        (("listed-time", "points", "nan", "--by", "Olive"), "not a factor"),
    ],
)
def test_what_cannot_be_is_said(run: Run, words: tuple[str, ...], message: str) -> None:
    status, _out, err = run(*words)
    assert status == 2
    assert message in err


def test_a_time_is_taken_over(run: Run) -> None:
    assert "1.5 times" in run("listed-time", "points", "1,5", "--by", "Olive")[1]
    assert "as its template says" in run("listed-time", "points", "1", "--by", "Olive")[1]
