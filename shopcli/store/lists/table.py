"""Reads a table whatever stands between its cells, and finds our columns by the names of its head."""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.store.lists.kinds import Cells, Kind
from shopcli.worklists.sheet_csv import unguarded
from shopcli.worklists.words import did_you_mean

MOST_LINES, LONGEST_CELL = 20_000, 2_000
DELIMITERS = ",;\t|"


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a list by its number in the file; `trouble` says why it cannot be read."""

    number: int
    cells: Cells
    trouble: str = ""


def read(kind: Kind, text: str, mapping: Mapping[str, str]) -> list[Line]:
    """Return the lines of a table, each with its number in the file; empty ones are left out.

    Raises
    ------
    BadInput
        When the table as a whole cannot be read, or a column it must have is missing.
    """
    rows = _rows(text)
    if not rows:
        raise BadInput("the table is empty", hint=f"Its first line names the columns: {_named(kind)}.")
    if len(rows) > MOST_LINES:
        raise BadInput(f"the table has over {MOST_LINES} lines", hint="Take it in piece by piece.")
    (_at, head), *body = rows
    where = _where(kind, head, mapping)
    return [_line(number, row, where) for number, row in body if any(cell.strip() for cell in row)]


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Return the rows with the number of their last line in the file."""
    first = text.lstrip("\r\n").split("\n", 1)[0]
    delimiter = max(DELIMITERS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows: list[tuple[int, list[str]]] = []
    try:
        for row in reader:
            if row or rows:
                rows.append((reader.line_num, row))
            if len(rows) > MOST_LINES + 1:
                break
    except csv.Error as error:
        raise BadInput(
            f"line {reader.line_num} cannot be read: {error}", hint="Save the table as CSV."
        ) from error
    return rows


def _where(kind: Kind, head: Sequence[str], mapping: Mapping[str, str]) -> dict[str, int]:
    """Return in which place each of our columns stands."""
    for column in mapping:
        if column not in kind.columns:
            raise BadInput(
                f"{kind.name} have no column '{column[:40]}'",
                hint=did_you_mean(column, kind.columns) or f"They have: {_named(kind)}.",
            )
    there: dict[str, int] = {}
    for place, cell in enumerate(head):
        name = _plain(cell)
        if name and name in there:
            raise BadInput(f"two columns are called '{cell.strip()[:40]}'", hint="Give one another name.")
        there[name] = place
    where = {}
    for column in kind.columns:
        called = mapping.get(column, column)
        if _plain(called) in there:
            where[column] = there[_plain(called)]
        elif column in mapping:
            raise BadInput(
                f"the table has no column '{called[:40]}'", hint=f"It has: {', '.join(head)[:200]}."
            )
        elif column in kind.needs:
            raise BadInput(
                f"the table has no column for {column}",
                hint=f"Say which one it is, like --column '{column}=Name of it'; it has: {', '.join(head)[:200]}.",
            )
    return where


def _plain(name: str) -> str:
    """Return the name of a column however it is written.

    Examples
    --------
    >>> _plain(" Post-Code "), _plain("post_code")
    ('postcode', 'postcode')
    """
    return "".join(c for c in name.casefold() if c.isalnum())


def _line(number: int, row: Sequence[str], where: Mapping[str, int]) -> Line:
    cells = {c: unguarded(row[at].strip()) if at < len(row) else "" for c, at in where.items()}
    long = next((c for c, cell in cells.items() if len(cell) > LONGEST_CELL), "")
    return Line(number, cells, f"{long} has over {LONGEST_CELL} characters" if long else "")


def _named(kind: Kind) -> str:
    return ", ".join(kind.columns)
