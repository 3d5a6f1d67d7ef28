"""A paper as PDF/A-3b with its structure marked: to be printed, mailed, kept for years and read aloud.

The page is typst; it gets texts as values in JSON, never as source. It can read one empty folder and, when
there is one, the shop's logo in it. What the fonts at hand cannot show is set as a question mark, because a
paper that is kept may hold no empty boxes; `Set.lacking` says which signs those are.
"""

import json
import re
import tempfile
from dataclasses import asdict, dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any
from unicodedata import east_asian_width

from shopcli.columns import shown
from shopcli.errors import StoreTrouble
from shopcli.papers.as_text import stands_on_point
from shopcli.papers.blocks import Block, Fields, Paper, Picture, Table
from shopcli.papers.chart_svg import chart_svg
from shopcli.papers.charts import alt
from shopcli.papers.layout import behind_point
from shopcli.papers.sheet_data import breakable

if TYPE_CHECKING:
    from typst import Fonts

STANDARD = "a-3b"
INSTEAD = "?"
LONGEST = 4000  # characters of one text on paper
ENDLESS = 30  # of one word, before it may break inside
NARROW = 15  # the same where half a page is all there is
MOST_SIGNS = 60  # kinds of signs looked for before it is given up
_WIDE = frozenset({"W", "F"})
_LACKING = re.compile(r"the text [`]*\"(.+?)\"[`]* could not be displayed", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Set:
    """A paper that was set: the file, and the signs no font here could show."""

    content: bytes
    lacking: str = ""


@cache
def _fonts() -> "Fonts":
    import typst

    return typst.Fonts()


def paper_pdf(paper: Paper, *, point: str = ".") -> Set:
    """Return a paper as a PDF file; on `point` the figures of a column stand below one another.

    Raises
    ------
    StoreTrouble
        When the typesetter cannot set it.
    """
    data, logo = _data(paper, point), paper.logo
    with tempfile.TemporaryDirectory(prefix="paper-") as folder:
        if logo:
            (Path(folder) / data["logo"]).write_bytes(logo.content)
        lacking = ""
        for _ in range(MOST_SIGNS):
            try:
                return Set(_compiled(folder, data), lacking)
            except (RuntimeError, OSError) as error:
                sign = _LACKING.search(str(error))
                if sign is None:
                    raise _trouble(error) from error
                gone = _gone(json.dumps(data, ensure_ascii=False), sign[1])
                lacking += gone
                data = _without(data, gone)
    raise StoreTrouble("the paper holds too many signs no font here knows", hint="Print it as a web page.")


def _trouble(error: Exception) -> StoreTrouble:
    return StoreTrouble(f"the paper could not be set: {str(error)[:200]}", hint="Print it as text instead.")


def _compiled(folder: str, data: dict[str, Any]) -> bytes:
    import typst

    source = files("shopcli.papers").joinpath("templates/paper.typ").read_bytes()
    text = json.dumps(data, ensure_ascii=False)
    compiler = typst.Compiler(source, root=folder, font_paths=_fonts(), sys_inputs={"data": text})
    return compiler.compile(format="pdf", pdf_standards=[STANDARD], timestamp=0)


def _data(paper: Paper, point: str) -> dict[str, Any]:
    name = " ".join(filter(None, (paper.title, paper.number)))
    return {
        "title": _clean(paper.title),
        "number": _clean(paper.number),
        "foot": _clean("   ".join([*paper.sender[:1], name])),
        "sender": _clean(list(paper.sender)),
        "to": _fields(paper.to),
        "facts": _fields(paper.facts),
        "dated": [paper.dated.year, paper.dated.month, paper.dated.day],
        "lang": "en",  # of the words; figures and dates are written before they come here
        "dense": paper.dense,
        "logo": f"logo.{paper.logo.kind}" if paper.logo else "",
        "blocks": [_block(b, point) for b in paper.blocks],
    }


def _block(block: Block, point: str) -> dict[str, Any]:
    if isinstance(block, Fields):
        return {"is": block.IS, "pairs": _fields(block)}
    if isinstance(block, Picture):
        of = len(block.charts)
        return {
            "is": block.IS,
            "charts": [{"svg": chart_svg(c, of), "alt": _clean(alt(c))} for c in block.charts],
        }
    made = {"is": block.IS, **_clean(asdict(block))}
    if isinstance(block, Table):
        rows = [row for section in made["sections"] for row in section["rows"]]
        for row, behind in zip(rows, _behind(block, point), strict=True):
            row["behind"] = behind
    return made


def _behind(block: Table, point: str) -> list[list[str]]:
    """Return what each cell leaves room for behind it, so that the figures of a column stand on their points."""
    rows = [row.cells for section in block.sections for row in section.rows]
    columns = []
    for i, column in enumerate(block.columns):
        texts = [cells[i] for cells in rows]
        behind = behind_point(texts, point) if stands_on_point(column, texts) else [""] * len(texts)
        columns.append([room if t else "" for t, room in zip(texts, behind, strict=True)])
    return [list(cells) for cells in zip(*columns, strict=True)]


def _fields(block: Fields) -> list[list[str]]:
    return [[_clean(name), _clean(text, NARROW)] for name, text in block.pairs if text.strip()]


def _clean(value: Any, endless: int = ENDLESS) -> Any:
    match value:
        case dict():
            return {key: _clean(v) for key, v in value.items()}
        case list() | tuple():
            return [_clean(v) for v in value]
        case str():
            return breakable(shown(value)[:LONGEST], endless)
    return value


def _gone(text: str, sign: str) -> str:
    """Return the signs to be given up for one that cannot be shown: all the wide ones at once when it is wide."""
    if east_asian_width(sign[0]) not in _WIDE:
        return sign
    return sign + "".join(sorted({c for c in text if east_asian_width(c) in _WIDE} - set(sign)))


def _without(value: Any, signs: str) -> Any:
    """Return the texts with a question mark for each of some signs."""
    match value:
        case dict():
            return {key: _without(v, signs) for key, v in value.items()}
        case list():
            return [_without(v, signs) for v in value]
        case str():
            return value.translate(dict.fromkeys(map(ord, signs), INSTEAD))
    return value
