"""The table of numbers: whatever stands in it comes back sign by sign, and no cell of it is a formula."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.worklists.sheet_csv import FORMULA, HEAD, Row, read_csv, write_csv

# Any sign but surrogates, which UTF-8 cannot hold, and the zero sign, which no csv reader takes.
TEXT = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\x00"), max_size=30)
NASTY = st.sampled_from(
    ["=1+1", "+1", "-1", "@x", "'", "''", "'=1", '"', ",", ";", "\n", "\r\n", "\t", "\ufeff", " "]
)
CELL = st.one_of(TEXT, NASTY, st.builds(str.__add__, NASTY, TEXT))
NAME = CELL.filter(lambda text: text.strip() != "")


@given(st.lists(st.builds(Row, NAME, *[CELL] * (len(HEAD) - 1)), max_size=5))
def test_the_round_trip_is_exact(rows: list[Row]) -> None:
    text = write_csv(rows)
    read = read_csv(text.encode().decode("utf-8-sig"))
    assert [line.row for line in read] == rows


@given(st.lists(st.builds(Row, NAME, *[CELL] * (len(HEAD) - 1)), min_size=1, max_size=3))
def test_no_cell_begins_a_formula(rows: list[Row]) -> None:
    for cells in csv.reader(io.StringIO(write_csv(rows), newline="")):
        assert not any(cell.startswith(tuple(set(FORMULA) - {"'"})) for cell in cells)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        for line in read_csv(text):
            assert (line.row is None) == bool(line.trouble)
    except BadInput as error:
        assert error.hint


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "empty"),
        ("label,low\n", "needs the column 'name'"),
        ("name,name\n", "each column once"),
        ("name,cheese\n", "no column is called 'cheese'"),
        ("name\n" + "x\n" * 2001, "2001 lines"),
    ],
)
def test_a_table_that_is_none_is_refused(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        read_csv(text)


def test_faults_are_told_by_line() -> None:
    text = 'name,low\r\n"two\r\nlines",1\r\n\r\n,2\r\na,1,extra\r\nb,"' + "x" * 4001 + '"\r\nc,"open'
    lines = read_csv(text)
    assert [(line.line, line.trouble[:20]) for line in lines] == [
        (2, ""),
        (5, "names no number"),
        (6, "has 3 cells, the hea"),
        (7, "the cell low is long"),
        (8, "cannot be read: unex"),
    ]


def test_a_spreadsheets_own_ways_are_read() -> None:
    (line,) = read_csv("\ufeffname;low;from\npoints_gap;0,35 mm;handbook;;\n")
    assert line.row == Row("points_gap", low="0,35 mm", source="handbook")
