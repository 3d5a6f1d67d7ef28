"""The numbers of a sheet as a table for a spreadsheet, one line a number, and back without losing a sign.

The figures stand as printed, each with its unit; ``unit`` is that of bare figures somebody types into the table. A
cell that a spreadsheet would take for a formula gets an apostrophe in front, which is taken off again on the way in.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import astuple, dataclass, fields

from shopcli.errors import BadInput
from shopcli.worklists.words import did_you_mean

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "'")
MOST_LINES, LONGEST_CELL = 2_000, 4_000


@dataclass(frozen=True, slots=True)
class Row:
    """One number as the table holds it: every cell a text."""

    name: str
    label: str = ""
    quantity: str = ""
    low: str = ""
    nominal: str = ""
    high: str = ""
    unit: str = ""
    also: str = ""
    state: str = ""
    source: str = ""
    document: str = ""
    page: str = ""
    who: str = ""
    on: str = ""
    note: str = ""


FIELDS = tuple(f.name for f in fields(Row))
HEAD = tuple("from" if name == "source" else name for name in FIELDS)
_FIELD = {head: name for head, name in zip(HEAD, FIELDS, strict=True)}  # noqa: C416 - names the pair


@dataclass(frozen=True, slots=True)
class ReadLine:
    """A line of a table with its number in the file: the row, or what is wrong with it."""

    line: int
    row: Row | None
    trouble: str = ""


def guarded(cell: str) -> str:
    """Return a cell no spreadsheet takes for a formula.

    Examples
    --------
    >>> guarded("=1+1"), guarded("0.35 mm"), guarded("'tis")
    ("'=1+1", '0.35 mm', "''tis")
    """
    return f"'{cell}" if cell.startswith(FORMULA) else cell


def unguarded(cell: str) -> str:
    """Return a cell as it was before `guarded`; an apostrophe before anything else is the text's own.

    Examples
    --------
    >>> unguarded("'=1+1"), unguarded("''tis"), unguarded("-430 mmHg")
    ('=1+1', "'tis", '-430 mmHg')
    """
    return cell[1:] if cell[:1] == "'" and cell[1:].startswith(FORMULA) else cell


def write_csv(rows: Iterable[Row]) -> str:
    """Return the table as text: a head, then a line for each number."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEAD)
    for row in rows:
        writer.writerow([guarded(cell) for cell in astuple(row)])
    return out.getvalue()


def read_csv(text: str) -> tuple[ReadLine, ...]:
    r"""Read a table; every line is read, so that all faults are told at once.

    Parameters
    ----------
    text : str
        With a head that names the columns, in any order; commas or semicolons between the cells.

    Raises
    ------
    BadInput
        When there is no head, a column is not known, or the table is too long.

    Examples
    --------
    >>> [line] = read_csv("name;nominal;from;document;page\npoints_gap;0,4 mm;handbook;Lark;12\n")
    >>> line.line, line.row.nominal, line.row.source
    (2, '0,4 mm', 'handbook')
    """
    text = text.removeprefix("\ufeff")
    csv.field_size_limit(max(csv.field_size_limit(), len(text) + 1))
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_between(text), strict=True)
    lines = _numbered(reader)
    first = next(lines, None)
    if first is None or isinstance(first[1], str):
        raise BadInput("the table is empty", hint=f"Its first line names the columns: {','.join(HEAD)}")
    head = _head(first[1])
    found = tuple(_line(number, cells, head) for number, cells in lines if cells)
    if len(found) > MOST_LINES:
        raise BadInput(f"the table has {len(found)} lines", hint=f"At most {MOST_LINES} are taken at a time.")
    return found


def _between(text: str) -> str:
    head = text.partition("\n")[0]
    return ";" if head.count(";") > head.count(",") else ","


def _numbered(reader: Iterator[list[str]]) -> "Iterator[tuple[int, list[str] | str]]":
    """Yield the cells of each line with the number it begins at; text instead where it cannot be parted."""
    while True:
        begins = reader.line_num + 1  # type: ignore[attr-defined]
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            yield begins, f"cannot be read: {error}"
            return
        yield begins, cells


def _head(cells: Sequence[str]) -> tuple[str, ...]:
    names = tuple(cell.strip().casefold() for cell in cells)
    for name in names:
        if name not in _FIELD:
            raise BadInput(f"no column is called '{name[:40]}'", hint=did_you_mean(name, HEAD))
    if "name" not in names or len(set(names)) != len(names):
        raise BadInput(
            "the head needs the column 'name', and each column once", hint=f"Like: {','.join(HEAD)}"
        )
    return tuple(_FIELD[name] for name in names)


def _line(number: int, cells: Sequence[str] | str, head: Sequence[str]) -> ReadLine:
    if isinstance(cells, str):
        return ReadLine(number, None, cells)
    if len(cells) > len(head) and any(cells[len(head) :]):
        return ReadLine(
            number, None, f"has {len(cells)} cells, the head {len(head)}: is a comma not in quotes?"
        )
    long = next((name for name, cell in zip(head, cells, strict=False) if len(cell) > LONGEST_CELL), "")
    if long:
        return ReadLine(number, None, f"the cell {long} is longer than {LONGEST_CELL} characters")
    texts: Mapping[str, str] = {name: unguarded(cell) for name, cell in zip(head, cells, strict=False)}
    if not texts.get("name", "").strip():
        return ReadLine(number, None, "names no number")
    return ReadLine(number, Row(**texts))
