"""A paper typewritten: for the terminal, a mail or a printer that knows nothing else."""

from collections.abc import Iterable

from shopcli.papers.blocks import (
    Block,
    Col,
    Fields,
    Heading,
    Paper,
    Para,
    Picture,
    Row,
    SignHere,
    Sums,
    Table,
)
from shopcli.papers.charts import chart_text
from shopcli.papers.layout import (
    WIDTH,
    Column,
    beside,
    field,
    heading,
    page_width,
    para,
    right_on_point,
    rule,
    table,
    table_row,
    widths,
)

INDENT = 2
SUM_WIDTH = 28
NAMES = 13
_FIGURE_SIGNS = frozenset("0123456789 ,.-’'\u00a0\u202f")


def paper_text(paper: Paper, *, width: int = WIDTH, point: str = ".") -> str:
    """Return a paper as plain text, no line wider than the page.

    Parameters
    ----------
    paper : Paper
        Finished.
    width : int, optional
        Width of the page, 72 to 200, [columns]
    point : str, optional
        The sign between units and decimals, on which figures of a column stand below one another.

    Raises
    ------
    BadInput
        If the page is too narrow or too wide.
    """
    page_width(width)
    half = width // 2
    sender = [line for text in paper.sender for line in para(text, half)]
    title = [line for text in (paper.title.upper(), paper.number) for line in para(text, half)]
    lines = [rule(width, "="), *beside(sender, title, width), rule(width, "=")]
    for fields in (paper.to, paper.facts):
        lines += ["", *_fields(fields, width)]
    for before, block in zip((None, *paper.blocks), paper.blocks, strict=False):
        lines += ([""] if _apart(before, block) else []) + _set(block, width, point)
    return "\n".join([*lines, "", rule(width, "="), ""])


def _apart(before: Block | None, block: Block) -> bool:
    """Tell whether an empty line stands between two blocks; what follows a title, and words, stand together."""
    words = isinstance(before, Para | Fields) and isinstance(block, Para | Fields)
    return not (words or isinstance(before, Heading))


def _set(block: Block, width: int, point: str) -> list[str]:
    match block:
        case Heading():
            return heading(block.text, width)
        case Para():
            return para(block.text, width, first="  " + (f"{block.mark} " if block.mark else ""))
        case Fields():
            return [" " * INDENT + line for line in _fields(block, width - INDENT)]
        case Table():
            return _table(block, width, point)
        case Sums():
            return _sums(block, width)
        case Picture():
            return [line for chart in block.charts for line in ("", *chart_text(chart, width))][1:]
        case SignHere():
            words = [line for text in block.words for line in para(text, width, first="  ")]
            return [
                *words,
                *(x for name in block.names for x in ("", f"  {name + ':':<14}" + "_" * (width // 2))),
            ]


def _fields(block: Fields, width: int) -> list[str]:
    names = max([NAMES, *(len(name) + 1 for name, text in block.pairs if text.strip())])
    return [line for name, text in block.pairs for line in field(name, text, width, names=names)]


def _table(block: Table, width: int, point: str) -> list[str]:
    rows = [row for section in block.sections for row in section.rows]
    cells = _pointed(block, rows, point)
    asked = [Column(c.head, None if c.fills else c.most, c.right, c.least) for c in block.columns]
    sizes = widths(asked, cells, width - INDENT)
    heads = [c.head for c in asked]
    lines = table_row(asked, heads, sizes, indent=INDENT) if any(heads) else []
    at = 0
    for section in block.sections:
        if section.title:
            lines += ["", *para(section.title, width, first="  ")]
        for row in section.rows:
            lines += table_row(asked, cells[at], sizes, indent=INDENT)
            lines += _below(row, width)
            at += 1
    return lines


def _below(row: Row, width: int) -> Iterable[str]:
    return (line for text in row.below for line in para(text, width, first="    "))


def _pointed(block: Table, rows: list[Row], point: str) -> list[list[str]]:
    """Return the cells with the figures of right-hand columns standing on their decimal point."""
    by_column = [[row.cells[i] for row in rows] for i in range(len(block.columns))]
    moved = [
        right_on_point(texts, point) if stands_on_point(column, texts) else texts
        for column, texts in zip(block.columns, by_column, strict=True)
    ]
    return [list(cells) for cells in zip(*moved, strict=True)]


def stands_on_point(column: Col, texts: Iterable[str]) -> bool:
    """Say whether a column holds figures, to be set so that their points stand below one another."""
    return column.right and all(not set(text) - _FIGURE_SIGNS for text in texts)


def _sums(block: Sums, width: int) -> list[str]:
    columns = (Column(""), Column("", SUM_WIDTH, right=True, least=14))
    # As far in as a sum can be told from the table above it, so that name and amount stay near.
    inset = max(INDENT, width - 60)
    rows = [list(row) for row in block.rows]
    lines = table(columns, rows[:-1], width, indent=inset) if rows[:-1] else []
    return [*lines, " " * inset + rule(width - inset, "="), *table(columns, rows[-1:], width, indent=inset)]
